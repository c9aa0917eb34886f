"""Heater circuits and facts of sockets, entered on the Jobs page by keys."""

from collections.abc import Callable

import pytest
from PySide6.QtCore import QSettings
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from tests.ui.drivers.jobs import JobsDriver, amplifier, open_jobs
from tubeshelf.domain.fitting import Bias, Circuit
from tubeshelf.domain.written_facts import NOTHING_WRITTEN, WrittenFacts
from tubeshelf.services.circuits import model_circuits
from tubeshelf.services.finding import set_found
from tubeshelf.services.intake_edit import CircuitPlan
from tubeshelf.store.record import Record
from tubeshelf.ui.pages.jobs_circuit_card import CircuitCard

RADIO = "V1 converter 12BE6\nV2 output 50C5\nV3 rectifier 35W4\n"


@pytest.fixture
def jobs(file_record: Record, qtbot: QtBot, shown: Callable[..., QWidget], settings: QSettings) -> JobsDriver:
    return open_jobs(file_record, qtbot, shown, settings)


def taken(jobs: JobsDriver, key: str, complement: str = RADIO) -> int:
    """A job in hand with one of its sheets open."""
    number = amplifier(jobs.shop, complement=complement)
    jobs.page.load()
    jobs.take(number)
    jobs.press(key)
    return number


def kept(jobs: JobsDriver, number: int) -> CircuitPlan:
    model_id = jobs.job(number).model_id
    assert model_id is not None
    (circuit,) = model_circuits(jobs.shop, model_id=model_id).circuits
    return circuit


def string_card(jobs: JobsDriver) -> CircuitCard:
    jobs.press("Ctrl+Shift+N")
    (card,) = jobs.page.sheets.circuits.cards
    jobs.write("string")
    card.feed.choose(Circuit.SERIES)
    jobs.fill(card.volts, "117")
    return card


def test_a_string_with_its_lamp_on_a_tap_and_a_ballast(jobs: JobsDriver) -> None:
    number = taken(jobs, "F6")
    card = string_card(jobs)
    assert not card.lamp_v.isVisible()
    card.lamp.choose("tap")
    assert card.lamp_on.isVisible()
    assert not card.lamp_part.isVisible()
    for field, text in (
        (card.lamp_on, "V3"),
        (card.lamp_v, "6,3"),
        (card.lamp_a, "0.15"),
        (card.ballast_a, "0.15"),
        (card.ballast_low, "10"),
        (card.ballast_high, "30"),
    ):
        jobs.fill(field, text)
    jobs.press("Ctrl+Return")
    plan = kept(jobs, number)
    assert (plan.circuit, plan.positions, plan.volts) == (Circuit.SERIES, ("V1", "V2", "V3"), 117.0)
    assert (plan.lamp_at, plan.lamp_v, plan.lamp_a, plan.lamp_tap_ohm) == ("V3", 6.3, 0.15, None)
    assert (plan.ballast_a, plan.ballast_low_v, plan.ballast_high_v) == (0.15, 10.0, 30.0)
    jobs.press("F6")
    (again,) = jobs.page.sheets.circuits.cards
    assert (again.lamp.currentData(), again.lamp_on.text(), again.lamp_v.text()) == ("tap", "V3", "6.3")
    assert again.ballast_high.text() == "30"


def test_a_lamp_across_a_part_of_the_dropper(jobs: JobsDriver) -> None:
    number = taken(jobs, "F6")
    card = string_card(jobs)
    card.lamp.choose("dropper")
    jobs.fill(card.dropper, "160")
    jobs.press("Ctrl+Return")
    assert card.forms[2].complaint(card.lamp_part) == "Type the ohms of the part that the lamp shunts."
    jobs.fill(card.lamp_part, "40")
    jobs.press("Ctrl+Return")
    plan = kept(jobs, number)
    assert (plan.lamp_at, plan.drop_ohm, plan.lamp_tap_ohm) == ("dropper", 160.0, 40.0)


def test_what_cannot_be_is_said_and_nothing_is_lost(jobs: JobsDriver) -> None:
    taken(jobs, "F6")
    card = string_card(jobs)
    card.lamp.choose("tap")
    jobs.fill(card.lamp_on, "V9")
    jobs.press("Ctrl+Return")
    assert card.forms[2].complaint(card.lamp_on).startswith("Type the socket of this string")
    card.lamp.choose("")
    jobs.fill(card.ballast_a, "0.3")
    jobs.press("Ctrl+Return")
    assert "type the ballast's amperes" in jobs.page.sheets.circuits.notice.text
    assert card.ballast_a.text() == "0.3"


def test_lamps_on_a_winding_are_on_the_winding(jobs: JobsDriver) -> None:
    number = taken(jobs, "F6")
    jobs.press("Ctrl+Shift+N")
    (card,) = jobs.page.sheets.circuits.cards
    jobs.write("6.3 V")
    assert not card.lamp.isVisible()
    jobs.fill(card.lamps, "0.3")
    jobs.press("Ctrl+Return")
    assert (kept(jobs, number).lamp_at, kept(jobs, number).lamp_a) == ("winding", 0.3)


# ---- facts


def test_facts_of_several_sockets_are_saved_in_one_act(jobs: JobsDriver) -> None:
    number = taken(jobs, "F5", "V1 phase splitter 12AX7\nV2 output 6V6GT plate=300\n")
    sheet = jobs.page.sheets.facts
    assert jobs.on_field == "Socket"
    assert sheet.position.currentText() == "V1 phase splitter 12AX7"
    jobs.fill(sheet.heater, "4+5-9")
    jobs.fill(sheet.ties, "1, 6")
    sheet.position.choose("V2")
    assert (sheet.plate_v.text(), sheet.heater.text()) == ("300", "")
    jobs.fill(sheet.plate_v, "285,5")
    jobs.fill(sheet.bias_v, "-14 V")
    sheet.bias.choose("fixed")
    sheet.position.choose("V1")
    assert sheet.heater.text() == "4+5-9"
    jobs.press("Ctrl+Return")
    assert jobs.page.sheets.entry is None
    first, second = jobs.job(number).sockets
    assert first.written == WrittenFacts(heater_pins="4+5-9", ties=("1", "6"))
    assert second.written == WrittenFacts(plate_v=285.5, bias=Bias.FIXED, bias_v=-14.0)
    jobs.press("F3")
    text = jobs.page.sheets.sockets.sockets.text
    assert "V1 phase splitter 12AX7 heater=4+5-9 ties=1,6\n" in text


def test_a_mistake_is_said_at_the_socket_it_is_in(jobs: JobsDriver) -> None:
    number = taken(jobs, "F5")
    sheet = jobs.page.sheets.facts
    sheet.position.choose("V2")
    jobs.fill(sheet.bias_v, "14")
    sheet.position.choose("V3")
    jobs.press("Ctrl+Return")
    assert sheet.position.currentData() == "V2"
    assert sheet.form.complaint(sheet.bias_v).startswith("“14” is above zero")
    assert jobs.focus is sheet.bias_v
    assert jobs.job(number).sockets[1].written == NOTHING_WRITTEN


def test_a_supply_that_is_entered_is_judged_at_once(jobs: JobsDriver) -> None:
    number = taken(jobs, "F5", "V1 output 6L6GC\n")
    set_found(jobs.shop, socket_id=jobs.job(number).sockets[0].id, text="6V6GT")
    assert jobs.job(number).harm == ()
    jobs.fill(jobs.page.sheets.facts.plate_v, "400")
    jobs.press("Ctrl+Return")
    assert "400 V" in jobs.job(number).harm[0][1]
    assert jobs.page.sheets.detail.banner.isVisible()


def test_nothing_changed_is_no_act(jobs: JobsDriver) -> None:
    number = taken(jobs, "F5")
    version = jobs.job(number).sockets[0].version
    jobs.press("Ctrl+Return")
    assert jobs.page.sheets.entry is None
    assert jobs.job(number).sockets[0].version == version
