"""Taking in a job and changing it, by keys."""

from collections.abc import Callable
from datetime import date

import pytest
from PySide6.QtCore import QSettings, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from tests.ui.drivers.jobs import JobsDriver, amplifier, open_jobs
from tubeshelf.domain.fitting import Outcome
from tubeshelf.domain.jobs import FoundState
from tubeshelf.services.circuits import model_circuits
from tubeshelf.services.finding import set_found
from tubeshelf.services.intake import contact_of
from tubeshelf.services.intake_edit import edit_job
from tubeshelf.store.record import Record


@pytest.fixture
def jobs(file_record: Record, qtbot: QtBot, shown: Callable[..., QWidget], settings: QSettings) -> JobsDriver:
    return open_jobs(file_record, qtbot, shown, settings)


def test_a_job_is_taken_in_by_keys_alone_and_opens_on_the_bench(jobs: JobsDriver) -> None:
    jobs.press("Ctrl+N")
    jobs.write("Ines Halloway")
    jobs.press("Tab")
    jobs.write("0551 20417")
    jobs.press("Tab", 2)
    jobs.write("Larkmere")
    jobs.press("Tab")
    jobs.write("A12")
    jobs.press("Tab")
    jobs.write("30417")
    jobs.press("Tab")
    jobs.write("2 Dec 2026")
    jobs.press("Tab")
    jobs.write("weak and\ncrackling")
    jobs.press("Tab")
    jobs.write("keep it original")
    jobs.press("Tab")
    jobs.write("one knob missing")
    jobs.press("Tab")
    assert jobs.on_field == "Sockets, one a line"
    jobs.write("V1 input 12AX7\nV2 rectifier GZ34")
    jobs.press("Ctrl+Return")

    job = jobs.job(1)
    assert jobs.bench.sent == [job.id]
    assert (job.customer, job.equipment, job.serial) == ("Ines Halloway", "Larkmere A12", "30417")
    assert contact_of(jobs.shop, customer_id=job.customer_id) == "0551 20417"
    assert (job.complaint, job.scope, job.intake) == (
        "weak and\ncrackling",
        "keep it original",
        "one knob missing",
    )
    assert job.promised_on == date(2026, 12, 2)
    assert [(s.position, s.role, s.intended) for s in job.sockets] == [
        ("V1", "input", "12AX7"),
        ("V2", "rectifier", "5AR4"),
    ]
    jobs.window.open_page("jobs")
    assert jobs.numbers == [1]


def test_keypad_enter_saves_as_well(jobs: JobsDriver) -> None:
    jobs.press("Ctrl+N")
    jobs.write("Ines Halloway")
    jobs.page.intake.model.setFocus()
    jobs.write("A12")
    QTest.keyClick(
        jobs.focus, Qt.Key.Key_Enter, Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.KeypadModifier
    )
    assert jobs.job(1).title == "A12"


def test_each_mistake_is_said_beside_its_field_and_nothing_typed_is_lost(jobs: JobsDriver) -> None:
    jobs.press("Ctrl+N")
    sheet = jobs.page.intake
    jobs.fill(sheet.promised, "2/12/2026")
    jobs.fill(sheet.complaint, "hums")
    jobs.press("Ctrl+Return")
    assert jobs.focus is sheet.customer
    assert "customer" in sheet.form.complaint(sheet.customer)
    assert "model" in sheet.form.complaint(sheet.model)
    assert "2 Dec 2026" in sheet.form.complaint(sheet.promised)
    assert (sheet.promised.text(), sheet.complaint.toPlainText()) == ("2/12/2026", "hums")
    jobs.write("I")
    assert sheet.form.complaint(sheet.customer) == ""
    jobs.press("Esc")
    assert jobs.page.views.currentWidget() is jobs.page.work
    jobs.press("Ctrl+N")
    assert (sheet.customer.text(), sheet.complaint.toPlainText()) == ("I", "hums")
    assert not jobs.numbers


def test_a_promised_day_that_has_passed_is_a_slip(jobs: JobsDriver) -> None:
    jobs.press("Ctrl+N")
    sheet = jobs.page.intake
    jobs.fill(sheet.customer, "Ines Halloway")
    jobs.fill(sheet.model, "A12")
    jobs.fill(sheet.promised, "2 Dec 2025")
    jobs.press("Ctrl+Return")
    assert sheet.form.complaint(sheet.promised).startswith("2 Dec 2025 has passed")


def test_bad_socket_lines_are_named_and_a_near_type_mends_one(jobs: JobsDriver) -> None:
    jobs.press("Ctrl+N")
    sheet = jobs.page.intake
    jobs.fill(sheet.customer, "Ines Halloway")
    jobs.fill(sheet.model, "A12")
    jobs.fill(sheet.sockets.editor, "V1 input 12AX9\nV2\nV1 output 6BQ5\nV3 driver 12AX9")
    said = jobs.errors(sheet)
    assert any(s.startswith("V1: 12AX9 is not in the type table") for s in said)
    assert any(s.startswith("Line 2:") for s in said)
    assert any(s.startswith("Line 3: V1 is already in line 1") for s in said)
    jobs.press("Ctrl+Return")
    assert jobs.focus is sheet.sockets.editor
    assert not jobs.bench.sent
    jobs.click_link("12AX7")
    assert sheet.sockets.text == "V1 input 12AX7\nV2\nV1 output 6BQ5\nV3 driver 12AX9"
    jobs.fill(sheet.sockets.editor, "V1 input 12AX7\nV2 output 6BQ5")
    assert jobs.errors(sheet) == []
    jobs.press("Ctrl+Return")
    assert [s.intended for s in jobs.job(1).sockets] == ["12AX7", "6BQ5"]


def test_a_known_model_brings_its_sockets_and_leaves_typed_ones_alone(jobs: JobsDriver) -> None:
    amplifier(jobs.shop)
    jobs.press("Ctrl+N")
    sheet = jobs.page.intake
    jobs.write("Tomas Vrel")
    sheet.model.setFocus()
    jobs.write("lark")
    assert sheet.model.offered == ("Larkmere A12",)
    jobs.press("Down")
    jobs.press("Return")
    assert (sheet.maker.text(), sheet.model.text()) == ("Larkmere", "A12")
    assert sheet.sockets.text.splitlines()[3] == "V4 rectifier 5Y3GT"
    assert sheet.origin.text() == "From the model Larkmere A12."
    jobs.fill(sheet.sockets.editor, "V1 input 12AX7")
    jobs.fill(sheet.model, "A12")
    sheet.serial.setFocus()
    assert sheet.sockets.text == "V1 input 12AX7"


def test_a_unit_that_was_here_before_is_known_again(jobs: JobsDriver) -> None:
    first = amplifier(jobs.shop, contact="0551 20417\nines@example.org")
    jobs.press("Ctrl+N")
    sheet = jobs.page.intake
    jobs.write("ines halloway")
    assert sheet.customer.offered == ("Ines Halloway · 0551 20417",)
    jobs.press("Esc")
    assert sheet.customer.offered == ()
    jobs.press("Tab")
    sheet.model.setFocus()
    assert sheet.contact.text() == "0551 20417"
    jobs.write("30417")
    jobs.press("Down")
    jobs.press("Return")
    assert (sheet.model.text(), sheet.serial.text()) == ("A12", "30417")
    assert sheet.origin.text() == f"As at job {first} of this unit."
    assert sheet.comeback.isVisible()
    sheet.comeback.setFocus()
    jobs.press("Down")
    jobs.press("Ctrl+Return")
    second = jobs.job(2)
    assert (second.comeback_of, second.equipment_id) == (first, jobs.job(1).equipment_id)
    assert len(second.sockets) == 4
    assert contact_of(jobs.shop, customer_id=second.customer_id) == "0551 20417\nines@example.org"


def test_a_box_of_loose_tubes_asks_for_a_title_only(jobs: JobsDriver) -> None:
    jobs.press("Ctrl+N")
    sheet = jobs.page.intake
    jobs.write("Ines Halloway")
    sheet.kind.setFocus()
    jobs.press("Down")
    assert not sheet.model.isVisible()
    jobs.press("Ctrl+Return")
    assert jobs.focus is sheet.box_title
    jobs.write("tubes from the attic")
    jobs.fill(sheet.sockets.editor, "1 12AX7\n2 6V6GT")
    jobs.press("Ctrl+Return")
    job = jobs.job(1)
    assert (job.title, job.equipment_id) == ("tubes from the attic", None)
    assert [s.position for s in job.sockets] == ["1", "2"]


def test_what_the_intake_says_can_be_changed(jobs: JobsDriver) -> None:
    number = amplifier(jobs.shop, complaint="hums")
    jobs.page.load()
    jobs.take(number)
    jobs.press("F2")
    sheet = jobs.page.sheets.edit
    jobs.fill(sheet.promised, "2026-12-02")
    jobs.fill(sheet.complaint, "hums & <b>crackles</b>")
    jobs.press("Ctrl+Return")
    job = jobs.job(number)
    assert (job.complaint, job.promised_on) == ("hums & <b>crackles</b>", date(2026, 12, 2))
    assert "hums & <b>crackles</b>" in jobs.texts(jobs.page.sheets.detail).splitlines()
    assert jobs.focus is jobs.page.list.table


def test_a_change_from_another_bench_is_not_overwritten(jobs: JobsDriver) -> None:
    number = amplifier(jobs.shop, complaint="hums")
    jobs.page.load()
    jobs.take(number)
    jobs.press("F2")
    sheet = jobs.page.sheets.edit
    jobs.fill(sheet.complaint, "mine")
    job = jobs.job(number)
    edit_job(
        jobs.shop,
        job_id=job.id,
        expected_version=job.version,
        complaint="theirs",
        scope="",
        intake_notes="",
        promised_on=None,
    )
    jobs.press("Ctrl+Return")
    assert sheet.notice.isVisible()
    assert sheet.complaint.toPlainText() == "mine"
    assert jobs.job(number).complaint == "theirs"


def test_changed_sockets_are_remembered_with_the_model(jobs: JobsDriver) -> None:
    number = amplifier(jobs.shop)
    jobs.page.load()
    jobs.take(number)
    jobs.press("F3")
    jobs.press("Ctrl+End")
    jobs.write("V5 tremolo 12AU7")
    jobs.press("Ctrl+Return")
    assert [s.position for s in jobs.job(number).sockets] == ["V1", "V2", "V3", "V4", "V5"]
    again = amplifier(jobs.shop, serial="30418", complement="")
    assert [s.intended for s in jobs.job(again).sockets][-1] == "12AU7"


def test_a_socket_with_findings_is_not_dropped_and_the_lines_stay(jobs: JobsDriver) -> None:
    number = amplifier(jobs.shop)
    set_found(jobs.shop, socket_id=jobs.job(number).sockets[0].id, text="12AX7")
    jobs.page.load()
    jobs.take(number)
    jobs.press("F3")
    sheet = jobs.page.sheets.sockets
    jobs.fill(sheet.sockets.editor, "V2 output 6BQ5")
    jobs.press("Ctrl+Return")
    assert "V1 has findings" in sheet.notice.text
    assert sheet.sockets.text == "V2 output 6BQ5"
    assert jobs.job(number).sockets[0].found.state is FoundState.TYPE


def test_a_winding_that_is_entered_counts_in_the_job_in_hand(jobs: JobsDriver) -> None:
    number = amplifier(jobs.shop)
    set_found(jobs.shop, socket_id=jobs.job(number).sockets[3].id, text="5U4GB")
    assert "rated" not in jobs.job(number).harm[0][1]
    jobs.page.load()
    jobs.take(number)
    jobs.press("F6")
    sheet = jobs.page.sheets.circuits
    jobs.press("Ctrl+Shift+N")
    card = sheet.cards[0]
    assert card.positions.text() == "V1 V2 V3 V4"
    jobs.write("5 V winding")
    jobs.fill(card.volts, "5")
    jobs.fill(card.rated, "two")
    jobs.fill(card.positions, "V4 V9")
    jobs.press("Ctrl+Return")
    assert "“two” is not a number" in card.forms[1].complaint(card.rated)
    assert "no V9" in card.forms[0].complaint(card.positions)
    jobs.fill(card.rated, "2 A")
    jobs.fill(card.positions, "V4")
    jobs.press("Ctrl+Return")
    job = jobs.job(number)
    assert job.model_id is not None
    (circuit,) = model_circuits(jobs.shop, model_id=job.model_id).circuits
    assert (circuit.name, circuit.volts, circuit.rated_a) == ("5 V winding", 5.0, 2.0)
    assert circuit.positions == ("V4",)
    fit = job.sockets[3].fit
    assert fit is not None
    assert fit.outcome is Outcome.HARMFUL
    assert "rated 2 A" in job.harm[0][1]
    assert jobs.page.sheets.detail.banner.isVisible()
    jobs.press("F6")
    assert (sheet.cards[0].name.text(), sheet.cards[0].rated.text()) == ("5 V winding", "2")
