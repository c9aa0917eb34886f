"""Two windows of one program on the same job: what is done in one is seen in the other, both ways."""

from collections.abc import Callable

import pytest
from PySide6.QtCore import QSettings, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from tests.ui.drivers.bench import Bench, set_up
from tubeshelf.domain.judging import NOT_READ
from tubeshelf.store.record import Record
from tubeshelf.ui.pages.bench import BenchPage
from tubeshelf.ui.pages.jobs import JobsPage
from tubeshelf.ui.start import Program
from tubeshelf.ui.window import MainWindow

Show = Callable[..., QWidget]


@pytest.fixture
def bench(file_record: Record) -> Bench:
    return set_up(file_record)


@pytest.fixture
def program(bench: Bench, qapp: QApplication, settings: QSettings, shown: Show, qtbot: QtBot) -> Program:
    """The program with the set on the bench of its first window."""
    made = Program(qapp, lambda: bench.shop, settings)
    shown(made.window, 1366, 768)
    qtbot.waitUntil(lambda: made.window.current is not None)
    page(made.window).open_job(bench.job_id)
    return made


@pytest.fixture
def second(program: Program, qtbot: QtBot) -> MainWindow:
    """Another window, asked for by its key."""
    QTest.keySequence(program.window, "Shift+F11")
    made = program.windows[1]
    qtbot.addWidget(made)
    qtbot.waitUntil(lambda: made.current is not None and made.isActiveWindow())
    return made


def page(window: MainWindow) -> BenchPage:
    found = window.open_page("bench")
    assert isinstance(found, BenchPage)
    return found


def keys(window: MainWindow, *pressed: str) -> None:
    """Press keys in a window: figures are typed, Enter and the signs of the number pad are pressed."""
    signs = {"+": Qt.Key.Key_Plus, "/": Qt.Key.Key_Slash, "Enter": Qt.Key.Key_Enter}
    window.activateWindow()
    QTest.qWaitForWindowActive(window)
    for key in pressed:
        field = page(window).table.field
        if key in signs:
            QTest.keyClick(field, signs[key], Qt.KeyboardModifier.KeypadModifier)
        else:
            QTest.keyClicks(field, key)


def verdict(window: MainWindow, position: str) -> str:
    """What the table of a window says of the tube at a position."""
    job = page(window).desk.job
    assert job is not None
    return next(socket.verdict.word for socket in job.sockets if socket.position == position)


def test_the_second_window_shows_the_job_that_is_on_the_bench_beside_the_first(
    program: Program, second: MainWindow, bench: Bench
) -> None:
    job = page(second).desk.job
    assert job is not None
    assert job.id == bench.job_id
    assert second.pos() != program.window.pos()
    assert second.size() == program.window.size()


def test_read_in_one_seen_in_the_other_taken_back_there_gone_in_the_first(
    program: Program, second: MainWindow, qtbot: QtBot
) -> None:
    first = program.window
    keys(first, "+", "1540", "Enter", "1510", "Enter")
    assert verdict(first, "V1") == "good"
    qtbot.waitUntil(lambda: "1,510" in second.status.said.text())
    assert verdict(second, "V1") == "good"
    assert page(first).desk.job == page(second).desk.job
    keys(second, "/", "/")
    assert verdict(second, "V1") == NOT_READ
    qtbot.waitUntil(lambda: verdict(first, "V1") == NOT_READ)
    qtbot.waitUntil(lambda: page(first).desk.job == page(second).desk.job)


def test_what_is_half_typed_in_one_window_stays_while_the_other_writes(
    program: Program, second: MainWindow, qtbot: QtBot
) -> None:
    keys(second, "12A")
    keys(program.window, "+")
    job = page(program.window).desk.job
    qtbot.waitUntil(lambda: page(second).desk.job == job)
    assert page(second).table.field.text() == "12A"


def test_another_page_of_the_other_window_learns_of_it_when_it_is_shown(
    program: Program, second: MainWindow, qtbot: QtBot
) -> None:
    second.open_page("jobs")
    second.open_page("shelf")
    keys(program.window, "+", "1540", "Enter", "1510", "Enter")
    qtbot.waitUntil(lambda: page(program.window).idle)
    QTest.qWait(10)
    jobs = second.open_page("jobs")
    assert isinstance(jobs, JobsPage)
    (head,) = jobs.list.model.rows
    assert head.read == 1


def test_a_window_that_was_closed_comes_again_and_knows_what_was_done(
    program: Program, second: MainWindow, qtbot: QtBot
) -> None:
    second.close()
    keys(program.window, "+", "1540", "Enter", "1510", "Enter")
    QTest.keySequence(program.window, "Shift+F11")
    assert len(program.windows) == 2
    qtbot.waitUntil(second.isVisible)
    qtbot.waitUntil(lambda: verdict(second, "V1") == "good")


def test_quit_closes_them_all(program: Program, second: MainWindow) -> None:
    QTest.keySequence(second, "Ctrl+Q")
    assert [window.isVisible() for window in program.windows] == [False, False]
