"""The chassis map of one window and the list of another are two views of one job: they never disagree."""

from collections.abc import Callable

import pytest
from PySide6.QtCore import QSettings, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from tests.ui.drivers.bench import Bench, set_up
from tubeshelf.domain.chassis import Seat
from tubeshelf.services.chassis import chassis_of, place_sockets
from tubeshelf.store.record import Record
from tubeshelf.ui.pages.bench import BenchPage
from tubeshelf.ui.pages.bench_map_window import ChassisWindow
from tubeshelf.ui.start import Program
from tubeshelf.ui.window import MainWindow

Show = Callable[..., QWidget]


@pytest.fixture
def bench(file_record: Record) -> Bench:
    return set_up(file_record)


@pytest.fixture
def program(bench: Bench, qapp: QApplication, settings: QSettings, shown: Show, qtbot: QtBot) -> Program:
    """The program with two windows, the set on the bench of both, and the map beside the first."""
    made = Program(qapp, lambda: bench.shop, settings)
    shown(made.window, 1366, 768)
    qtbot.waitUntil(lambda: made.window.current is not None)
    page(made.window).open_job(bench.job_id)
    second = made.new_window()
    qtbot.addWidget(second)
    qtbot.waitUntil(lambda: second.current is not None)
    page(second).open_job(bench.job_id)
    page(made.window).chassis.open()
    return made


def page(window: MainWindow) -> BenchPage:
    found = window.open_page("bench")
    assert isinstance(found, BenchPage)
    return found


def map_of(program: Program) -> ChassisWindow:
    found = page(program.window).chassis.window
    assert found is not None
    return found


def press(window: MainWindow, *keys: str) -> None:
    """Keys of the number pad in the entry of a window."""
    signs = {"+": Qt.Key.Key_Plus, "/": Qt.Key.Key_Slash, "Enter": Qt.Key.Key_Enter}
    for key in keys:
        field = page(window).table.field
        if key in signs:
            QTest.keyClick(field, signs[key], Qt.KeyboardModifier.KeypadModifier)
        else:
            QTest.keyClicks(field, key)


def words(chassis: ChassisWindow, position: str) -> str:
    return next(mark.look.word for mark in chassis.map.marks if mark.position == position)


def test_read_in_one_window_seen_on_the_map_of_the_other(program: Program, qtbot: QtBot) -> None:
    chassis, second = map_of(program), program.windows[1]
    press(second, "+", "400", "Enter", "300", "Enter")
    job = page(second).desk.job
    assert job is not None
    assert job.sockets[0].verdict.word == "reject"
    qtbot.waitUntil(lambda: words(chassis, "V1") == "Reject")
    press(second, "/", "/", "/")
    qtbot.waitUntil(lambda: words(chassis, "V1") == "Not looked yet")


def test_places_saved_in_one_window_are_those_of_the_other(
    program: Program, bench: Bench, qtbot: QtBot
) -> None:
    chassis, second = map_of(program), program.windows[1]
    page(second).chassis.open()
    other = page(second).chassis.window
    assert other is not None
    view = chassis_of(bench.shop, job_id=bench.job_id)
    _, changes = place_sockets(bench.shop, model_id=view.model_id, places={"V1": Seat(0.9, 0.9)})
    second.bridge.publish(changes)
    qtbot.waitUntil(lambda: chassis.map.seats["V1"] == Seat(0.9, 0.9))
    assert other.map.seats == chassis.map.seats


def test_the_map_goes_with_its_window_and_the_other_window_stays(program: Program) -> None:
    chassis = map_of(program)
    assert chassis.isVisible()
    program.window.close()
    assert not chassis.isVisible()
    assert program.windows[1].isVisible()
