"""The keys of the bench: how few are enough, moving them, taking back and doing again."""

from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest
from PySide6.QtCore import QEvent, QObject, QSettings, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from tests.records import FixedClock
from tests.ui.drivers.bench import Bench, BenchDriver, set_up
from tubeshelf.bootstrap import open_record
from tubeshelf.domain.jobs import FoundState
from tubeshelf.ui.pages.bench import BenchPage
from tubeshelf.ui.signs import Signs, store_signs, stored_signs
from tubeshelf.ui.start import Program

Show = Callable[..., QWidget]

EIGHT_TUBES = "V1 input 12AX7\nV2 driver 12AX7\n" + "".join(f"V{n} output 6BQ5\n" for n in range(3, 9))
"""Ten setting lines: two sections of each triode, one line of each output tube."""


class KeyCount(QObject):
    """Counts the keys that go down, figures apart."""

    def __init__(self, app: QApplication) -> None:
        super().__init__()
        self.keys = self.figures = 0
        app.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if isinstance(event, QKeyEvent) and event.type() == QEvent.Type.KeyPress and watched.isWidgetType():
            figure = event.text() in tuple("0123456789")
            self.figures += figure
            self.keys += not figure
        return False


@pytest.fixture
def program(bench: Bench, qapp: QApplication, settings: QSettings, shown: Show, qtbot: QtBot) -> Program:
    """The whole window with the set on the bench."""
    made = Program(qapp, lambda: bench.shop, settings)
    shown(made.window, 1366, 768)
    qtbot.waitUntil(lambda: made.window.current is not None)
    at(made).open_job(bench.job_id)
    return made


def at(program: Program) -> BenchPage:
    page = program.window.current
    assert isinstance(page, BenchPage)
    return page


def test_a_good_set_of_eight_tubes_takes_three_keys_a_tube_beyond_the_figures(
    tmp_path: Path, clock: FixedClock, qapp: QApplication, qtbot: QtBot, shown: Show
) -> None:
    with closing(open_record(str(tmp_path / "eight.tubeshelf"), clock=clock)) as record:
        bench = set_up(record, EIGHT_TUBES)
        at_bench = BenchDriver(qtbot, bench, shown)
        count = KeyCount(qapp)
        for values in (("1540", "1510"), ("1490", "1500"), *[("9200",)] * 6):
            before = count.keys
            at_bench.read_pair(*values)
            assert count.keys - before <= 3
        qapp.removeEventFilter(count)
        sockets = bench.job().sockets
        assert len(sockets) == 8
        assert sum(len(line.readings) for socket in sockets for line in socket.lines) == 10
        assert {socket.verdict.word for socket in sockets} == {"good"}
        assert (count.figures, count.keys) == (40, 18)


@pytest.mark.parametrize("keys", ["Ctrl+Y", "Ctrl+Shift+Z"])
def test_what_was_taken_back_is_done_again(at_bench: BenchDriver, bench: Bench, keys: str) -> None:
    at_bench.press("+").enter("1540").press("/", "/")
    assert bench.socket("V1").found.state is FoundState.NOT_LOOKED
    at_bench.press(keys)
    assert bench.socket("V1").found.designation == "12AX7"
    at_bench.press(keys)
    assert [r.value for r in bench.socket("V1").lines[0].readings] == [1540]
    assert at_bench.at == "V1, reading section 1"
    assert at_bench.said[-1] == "Done again: 1,540 at V1, job 1"
    at_bench.press(keys)
    assert at_bench.asked == "There is nothing to do again."


def test_taking_back_says_what_went_and_what_comes_next(at_bench: BenchDriver) -> None:
    at_bench.press("+").enter("1540").press("/")
    assert at_bench.said[-1] == (
        "Taken back: 1,540 at V1, job 1. Next to take back: V1 of job 1: found 12AX7"
    )


def test_the_window_does_again_from_any_page_and_after_a_restart(
    program: Program, bench: Bench, qtbot: QtBot
) -> None:
    QTest.keyClick(at(program).table.field, Qt.Key.Key_Plus, Qt.KeyboardModifier.KeypadModifier)
    assert bench.socket("V1").found.state is FoundState.TYPE
    program.window.open_page("testers")
    QTest.keySequence(program.window, "Ctrl+Z")
    assert bench.socket("V1").found.state is FoundState.NOT_LOOKED
    assert program.window.status.said.text().startswith("Taken back: V1 of job 1: found 12AX7. Next to take")
    QTest.keySequence(program.window, "Ctrl+Y")
    assert bench.socket("V1").found.state is FoundState.TYPE
    QTest.keySequence(program.window, "Ctrl+Z")
    QTest.keySequence(program.window, "Ctrl+Shift+Z")
    assert bench.socket("V1").found.state is FoundState.TYPE


def test_a_key_that_was_moved_works_and_stands_at_the_foot(bench: Bench, qtbot: QtBot, shown: Show) -> None:
    at_bench = BenchDriver(qtbot, bench, shown)
    at_bench.page.table.field.signs_now = lambda: Signs(slash="=", star=";")
    at_bench.press("+").enter("1540")
    foot = at_bench.page.keys()
    assert {("=", "take back"), (";", "mark")} <= set(foot)
    at_bench.type("=")
    assert not bench.socket("V1").lines[0].readings
    at_bench.type(";").type("0")
    assert bench.socket("V1").found.state is FoundState.EMPTY


def test_keys_are_kept_on_this_computer(settings: QSettings) -> None:
    assert stored_signs(settings) == Signs()
    store_signs(settings, Signs(minus="Page Up", slash="#"))
    assert stored_signs(settings) == Signs(minus="Page Up", slash="#")
    settings.setValue("signs/slash", "+")
    assert stored_signs(settings) == Signs(), "two on one key: as usual"
