"""The heater picture of a job on the Jobs page: windings, strings, three states of the set."""

from collections.abc import Callable

import pytest
from PySide6.QtCore import QSettings
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from tests.ui.drivers.jobs import JobsDriver, amplifier, open_jobs
from tubeshelf.domain.fitting import Circuit
from tubeshelf.services.finding import found_as_intended, set_found
from tubeshelf.services.intake_edit import CircuitPlan, set_circuits
from tubeshelf.store.record import Record
from tubeshelf.ui.parts.heaters import Ladder, LoadBar

RADIO = "V1 converter 12BE6\nV2 i.f. 12BA6\nV3 detector 12AV6\nV4 output 50C5\nV5 rectifier 35W4\n"


@pytest.fixture
def jobs(file_record: Record, qtbot: QtBot, shown: Callable[..., QWidget], settings: QSettings) -> JobsDriver:
    return open_jobs(file_record, qtbot, shown, settings)


def circuits(jobs: JobsDriver, number: int, *plans: CircuitPlan) -> None:
    model_id = jobs.job(number).model_id
    assert model_id is not None
    set_circuits(jobs.shop, model_id=model_id, line_v=117.0, circuits=plans)


def opened(jobs: JobsDriver, number: int) -> QWidget:
    jobs.page.load()
    jobs.take(number)
    jobs.press("F9")
    sheet = jobs.page.sheets.heaters
    assert jobs.page.sheets.currentWidget() is sheet
    return sheet


def test_a_rectifier_that_takes_too_much_is_told_on_its_winding(jobs: JobsDriver) -> None:
    number = amplifier(jobs.shop)
    rectifier = next(s for s in jobs.job(number).sockets if s.intended == "5Y3GT")
    winding = CircuitPlan("5 V winding", Circuit.PARALLEL, (rectifier.position,), volts=5, rated_a=2)
    circuits(jobs, number, winding)
    set_found(jobs.shop, socket_id=rectifier.id, text="5U4G")  # 3 A, RCA RC-30
    sheet = opened(jobs, number)
    said = jobs.texts(sheet)
    assert "5 V winding, 5 V, rated 2 A" in said
    assert "Too much for the winding: 3 A from one rated 2 A, 150 %." in said
    assert "designed 2 A · found 3 A · planned 2 A" in said
    assert "6.3 V heaters" in said  # those that no winding is written down for
    (bar,) = sheet.findChildren(LoadBar)
    assert bar.accessibleName() == f"Load 3 A, rated 2 A: {rectifier.position} 3 A"
    jobs.press("Down")
    assert "Takes 2 A of 2 A, 100 %." in jobs.texts(sheet)
    jobs.press("Esc")
    assert jobs.page.sheets.currentWidget() is jobs.page.sheets.detail


def test_a_string_is_a_ladder_with_each_heaters_share(jobs: JobsDriver) -> None:
    number = amplifier(jobs.shop, complement=RADIO)
    positions = tuple(s.position for s in jobs.job(number).sockets)
    circuits(jobs, number, CircuitPlan("string", Circuit.SERIES, positions, volts=117))
    for socket in jobs.job(number).sockets:
        if socket.position == "V4":
            set_found(jobs.shop, socket_id=socket.id, text="35C5")
        else:
            found_as_intended(jobs.shop, socket_id=socket.id)
    sheet = opened(jobs, number)
    (ladder,) = sheet.findChildren(Ladder)
    spoken = ladder.accessibleName()
    # 12.6 + 12.6 + 12.6 + 35 + 35 = 107.8 V at 0.15 A: 117 / 107.8 is 8.5 % high
    assert spoken.startswith("String on 117 V, 0.163 A: V1 12BE6 13.7 V, 109 %")
    assert "V4 35C5 38 V, 109 %" in spoken
    jobs.press("Down", 2)
    assert jobs.page.sheets.heaters.state.currentText() == "as designed"
    jobs.qtbot.wait(20)  # what was just made is shown by an event of its own
    ladders = [one for one in sheet.findChildren(Ladder) if one.isVisible()]
    # 122.8 V designed: 117 / 122.8 is 4.7 % low
    assert "V5 35W4 33.3 V, 95 %" in ladders[-1].accessibleName()


def test_a_job_without_sockets_says_so(jobs: JobsDriver) -> None:
    number = amplifier(jobs.shop, complement="")
    sheet = opened(jobs, number)
    assert "no sockets with a heater yet" in jobs.texts(sheet)
