"""Ten tubes with every kind of mark, by the number pad alone, in the real window and across restarts."""

from collections.abc import Callable, Iterator
from contextlib import closing
from pathlib import Path
from typing import Self

import pytest
from PySide6.QtCore import QSettings, Qt
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from tests.records import FixedClock
from tests.ui.drivers.bench import Bench, BenchDriver, set_up
from tubeshelf.bootstrap import open_record
from tubeshelf.domain.jobs import Action, FoundState
from tubeshelf.domain.judging import Mark
from tubeshelf.services.shop import open_shop
from tubeshelf.ui.pages.bench import BenchPage
from tubeshelf.ui.start import Program

Show = Callable[..., QWidget]

TEN_TUBES = "".join(f"V{n} stage {'12AX7' if n < 4 else '6BQ5'}\n" for n in range(1, 11))


class Hands(BenchDriver):
    """Has the number pad of a program that runs."""

    def __init__(self, qtbot: QtBot, program: Program, shown: Show) -> None:
        shown(program.window, 1366, 768)
        qtbot.waitUntil(lambda: isinstance(program.window.current, BenchPage))
        assert isinstance(program.window.current, BenchPage)
        self.program, self.page, self._qtbot = program, program.window.current, qtbot

    def mark(self, key: str, *entries: str) -> Self:
        """Open the marks, pick one, and enter what it asks for."""
        self.press("*")
        self.press("+") if key == "+" else self.type(key)
        for entry in entries:
            self.enter(entry)
        return self

    @property
    def status(self) -> str:
        """The left of the status line."""
        return self.program.window.status.said.text()


@pytest.fixture
def path(tmp_path: Path, clock: FixedClock) -> Path:
    """A record with ten tubes to be read."""
    where = tmp_path / "ten.tubeshelf"
    with closing(open_record(str(where), clock=clock)) as record:
        set_up(record, TEN_TUBES)
    return where


@pytest.fixture
def start(
    path: Path, clock: FixedClock, qapp: QApplication, settings: QSettings, shown: Show, qtbot: QtBot
) -> Iterator[Callable[[], tuple[Hands, Bench]]]:
    """Starts the program, and ends it before it is started anew."""
    running: list[Program] = []

    def begin() -> tuple[Hands, Bench]:
        for program in running:
            program.window.close()
            program.close()
        record = open_record(str(path), clock=clock)
        shop = open_shop(record)
        running[:] = [Program(qapp, lambda: shop, settings)]
        hands = Hands(qtbot, running[0], shown)
        if hands.page.desk.job is None:
            hands.press(Qt.Key.Key_Return)
        return hands, Bench(shop, 1, 1)

    yield begin
    for program in running:
        program.close()


def read_the_set(hands: Hands) -> None:
    """Short without pins, leakage and gas, noise, open heater, dead section, cracked, loose base and getter,
    a life test, an empty socket, an unreadable tube."""
    hands.press("+").mark("1", "").enter().enter()  # V1: a neon lamp names no pins; both sections left out
    hands.press("+").mark("2", "0,4", "1.2").mark("3", "-0.5").enter("1540").enter("1510")  # V2
    hands.press("+").mark("4", "2").enter("1500").enter("1490")  # V3
    hands.press("+").mark("5", "").enter()  # V4
    hands.press("+").mark("6", "").enter("0")  # V5
    hands.press("+").mark("7", "").enter()  # V6
    hands.press("+").mark("8", "").mark("9", "").enter("9200")  # V7
    hands.press("+").enter("9400").press("-").mark("+", "7000").enter()  # V8
    hands.mark("0")  # V9
    hands.mark(".").enter("9100")  # V10


def test_a_set_of_ten_tubes_with_every_kind_of_mark(start: Callable[[], tuple[Hands, Bench]]) -> None:
    hands, bench = start()
    read_the_set(hands)
    noted = {
        socket.position: [(o.mark, o.value, o.pins, o.is_fault) for _, _, o in socket.observations]
        for socket in bench.job().sockets
    }
    assert noted == {
        "V1": [(Mark.SHORT, None, "", True)],
        "V2": [(Mark.LEAKAGE, 0.4, "1-2", True), (Mark.GAS, -0.5, "", True)],
        "V3": [(Mark.NOISE, 2, "", False)],
        "V4": [(Mark.OPEN_HEATER, None, "", True)],
        "V5": [(Mark.DEAD_SECTION, None, "", True)],
        "V6": [(Mark.CRACKED, None, "", True)],
        "V7": [(Mark.LOOSE_BASE, None, "", False), (Mark.WHITE_GETTER, None, "", True)],
        "V8": [(Mark.LIFE_TEST, 7000, "26 % below 9,400", True)],
        "V9": [],
        "V10": [],
    }
    sockets = {socket.position: socket for socket in bench.job().sockets}
    assert {position: socket.verdict.word for position, socket in sockets.items()} == {
        "V1": "short",
        "V2": "leakage",
        "V3": "good",
        "V4": "open heater",
        "V5": "dead section",
        "V6": "cracked",
        "V7": "white getter",
        "V8": "life test",
        "V9": "not read",
        "V10": "good",
    }
    assert sockets["V9"].found.state is FoundState.EMPTY
    assert sockets["V10"].found.state is FoundState.UNREADABLE
    assert sockets["V10"].action is Action.UNDECIDED, "good, but nobody knows what it is"
    assert [p for p, s in sockets.items() if s.action is Action.KEEP] == ["V3"]
    assert hands.warning.startswith("Do not power. V1: short.")
    hands.enter()
    assert hands.asked.startswith("That was the last socket.")
    assert not [w for w in hands.program.window.findChildren(QWidget) if w.isWindow() and w.isModal()]


def test_it_is_taken_back_after_a_restart_and_done_again(start: Callable[[], tuple[Hands, Bench]]) -> None:
    hands, bench = start()
    read_the_set(hands)
    whole = bench.job()
    hands, bench = start()
    assert bench.job() == whole
    hands.press("/", "/", "/", "/")
    assert hands.status.startswith("Taken back: life test 7,000 µmho, 26 % below 9,400 at V8, job 1. Next to")
    sockets = {socket.position: socket for socket in bench.job().sockets}
    assert [sockets[p].found.state for p in ("V8", "V9", "V10")] == [
        "type",
        "not looked yet",
        "not looked yet",
    ]
    assert sockets["V8"].observations == ()
    assert hands.at == "V8, reading gm", "the entry is where it shows"
    hands, bench = start()
    hands.press(*["Ctrl+Y"] * 4)
    assert bench.job() == whole
    assert hands.status.startswith("Done again: 9,100 at V10, job 1")
