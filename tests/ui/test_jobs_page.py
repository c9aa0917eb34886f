"""The list of jobs, what can be done with one, and its papers."""

from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, QSettings, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QPushButton, QScrollArea, QWidget
from pytestqt.qtbot import QtBot

from tests.ui.drivers.jobs import JobsDriver, amplifier, answer_file_dialogue, open_jobs
from tubeshelf.domain.jobs import Action, Answer, JobStatus
from tubeshelf.services.bench import set_action
from tubeshelf.services.decide import set_status
from tubeshelf.services.finding import set_empty, set_found
from tubeshelf.services.intake import new_job
from tubeshelf.services.shelf_moves import receive
from tubeshelf.services.undo import take_back
from tubeshelf.store.record import Record
from tubeshelf.ui.parts.picture import PictureWindow


@pytest.fixture
def jobs(file_record: Record, qtbot: QtBot, shown: Callable[..., QWidget], settings: QSettings) -> JobsDriver:
    return open_jobs(file_record, qtbot, shown, settings)


def replace_rectifier(jobs: JobsDriver, number: int) -> None:
    """The last socket was found empty, so a tube has to go in."""
    set_empty(jobs.shop, socket_id=jobs.job(number).sockets[3].id)


def test_an_empty_list_says_what_belongs_there_and_offers_it(jobs: JobsDriver) -> None:
    assert jobs.page.list.empty.isVisible()
    jobs.page.list.empty.act.click()
    assert jobs.focus is jobs.page.intake.customer
    jobs.press("Esc")
    assert jobs.page.list.empty.isVisible()


def test_a_row_says_what_a_job_waits_for(jobs: JobsDriver) -> None:
    number = amplifier(jobs.shop, promised_on=date(2026, 3, 9))
    late = amplifier(jobs.shop, serial="30418", promised_on=date(2026, 2, 28))
    replace_rectifier(jobs, number)
    jobs.page.load()
    said = " | ".join(jobs.row(number))
    assert "promised for 9 Mar 2026" in said
    assert "Larkmere A12, Ines Halloway" in said
    assert "readings, received" in said
    assert "1 of 4 sockets read" in said
    assert "1 to replace" in said
    model = jobs.page.list.model
    cells = {job.number: model.columns[0].cell(job) for job in model.rows}
    assert (cells[number].sub, cells[late].sub) == ("9 Mar 2026", "late, 28 Feb")


def test_a_harmful_tube_shows_in_row_and_detail(jobs: JobsDriver) -> None:
    number = amplifier(jobs.shop)
    set_found(jobs.shop, socket_id=jobs.job(number).sockets[3].id, text="5U4GB")
    jobs.page.load()
    jobs.take(number)
    assert "Do not power" in jobs.row(number)
    banner = jobs.page.sheets.detail.banner
    assert banner.isVisible()
    assert banner.accessibleName().startswith("Do not power. V4: a 5U4GB")


def test_closed_jobs_show_among_all_and_the_search_narrows(jobs: JobsDriver) -> None:
    first, second = amplifier(jobs.shop, complaint="hums"), amplifier(jobs.shop, serial="30418")
    set_status(jobs.shop, job_id=jobs.job(first).id, status=JobStatus.HANDED_BACK)
    jobs.page.load()
    assert jobs.numbers == [second]
    jobs.page.which.setFocus()
    jobs.press("Down")
    assert jobs.numbers == [second, first]
    jobs.press("Ctrl+K")
    jobs.write("HUMS")
    jobs.qtbot.waitUntil(lambda: jobs.numbers == [first])
    jobs.press("Down")
    assert jobs.focus is jobs.page.list.table
    jobs.press("Ctrl+K")
    jobs.write("nobody")
    jobs.qtbot.waitUntil(lambda: not jobs.numbers)
    assert jobs.page.list.empty.isVisible()
    assert jobs.page.sheets.job is None


def test_enter_opens_the_job_in_hand_on_the_bench(jobs: JobsDriver) -> None:
    first = amplifier(jobs.shop)
    amplifier(jobs.shop, serial="30418")
    jobs.page.load()
    jobs.take(first)
    jobs.press("Return")
    assert jobs.bench.sent == [jobs.job(first).id]


def test_the_status_is_kept_and_taken_back(jobs: JobsDriver) -> None:
    number = amplifier(jobs.shop)
    jobs.page.load()
    jobs.take(number)
    jobs.page.sheets.detail.status.setFocus()
    jobs.press("Down")
    assert jobs.job(number).status is JobStatus.READING
    assert "being read" in jobs.window.status.said.text()
    jobs.page._bridge.publish(take_back(jobs.shop))
    assert jobs.page.sheets.detail.status.currentData() == JobStatus.RECEIVED


def test_earlier_jobs_of_the_unit_lead_to_each_other(jobs: JobsDriver) -> None:
    first = amplifier(jobs.shop, complaint="no sound")
    second = amplifier(jobs.shop, complaint="crackles", comeback_of=jobs.job(first).id)
    set_status(jobs.shop, job_id=jobs.job(first).id, status=JobStatus.HANDED_BACK)
    jobs.page.load()
    jobs.take(second)
    assert f"Job {first}." in jobs.texts(jobs.page.sheets.detail).splitlines()
    jobs.click_link(f"Job {first}, 2 Mar 2026")
    assert jobs.page.sheets.job is not None
    assert jobs.page.sheets.job.number == first


def test_the_estimate_adds_up_and_is_approved(jobs: JobsDriver) -> None:
    number = amplifier(jobs.shop)
    receive(jobs.shop, type_name="5Y3GT", bin="C1", price=1850)
    receive(jobs.shop, type_name="12AX7", bin="C2", price=2400)
    replace_rectifier(jobs, number)
    set_action(jobs.shop, socket_id=jobs.job(number).sockets[0].id, action=Action.REPLACE)
    jobs.page.load()
    jobs.take(number)
    jobs.press("F4")
    sheet = jobs.page.sheets.approval
    assert sheet.estimate.lines == (
        ("V1 input", "12AX7 to go in", "24.00"),
        ("V4 rectifier", "5Y3GT to go in", "18.50"),
    )
    jobs.fill(sheet.labour, "4x")
    jobs.press("Tab")
    assert any("4x" in said for said in jobs.errors(sheet))
    jobs.fill(sheet.labour, "45,50")
    jobs.press("Tab")
    assert sheet.estimate.sums == (("Tubes", "42.50"), ("Labour", "45.50"), ("Total", "88.00"))
    sheet.answers["V1"].setFocus()
    jobs.press("Down", 2)
    assert jobs.job(number).sockets[0].answer is Answer.DECLINED
    assert sheet.estimate.sums[-1] == ("Total", "64.00")
    jobs.fill(sheet.who, "Ines Halloway")
    jobs.fill(sheet.how, "by telephone")
    jobs.fill(sheet.ceiling, "60")
    jobs.fill(sheet.on, "yesterday")
    jobs.press("Ctrl+Return")
    assert "is not a date" in sheet.form.complaint(sheet.on)
    assert jobs.job(number).estimate.approval is None
    jobs.fill(sheet.on, "1 Mar 2026")
    jobs.press("Ctrl+Return")
    approval = jobs.job(number).estimate.approval
    assert approval is not None
    assert (approval.who, approval.on, approval.how, approval.ceiling) == (
        "Ines Halloway",
        date(2026, 3, 1),
        "by telephone",
        6000,
    )
    assert jobs.page.sheets.detail.estimate.notes == (
        "Approved by Ines Halloway on 1 Mar 2026, by telephone, up to 60.00.",
        "The total is over the 60.00 agreed: ask the customer.",
    )


def test_the_order_list_of_all_open_jobs_is_saved_as_pdf_by_keys(jobs: JobsDriver, tmp_path: Path) -> None:
    for serial in ("30417", "30418"):
        number = amplifier(jobs.shop, serial=serial)
        replace_rectifier(jobs, number)
    jobs.page.load()
    jobs.press("Ctrl+O")
    text = jobs.save_pdf(tmp_path / "orders.pdf")
    assert "5Y3GT" in text
    assert "2 tubes of 1 type." in text
    assert "page 1 of 1" in text


def test_ctrl_p_shows_the_retube_list_of_the_job_in_hand(jobs: JobsDriver, tmp_path: Path) -> None:
    amplifier(jobs.shop)
    number = amplifier(jobs.shop, serial="<b>30418</b>")
    replace_rectifier(jobs, number)
    jobs.page.load()
    jobs.take(number)
    jobs.press("Ctrl+P")
    paper = jobs.preview()
    assert paper.document.title == f"Retube list, job {number}"
    paper.ask_for_pdf()
    offered = answer_file_dialogue(jobs.qtbot, paper, tmp_path / "list")
    assert offered == f"retube-{number}.pdf"
    jobs.qtbot.waitUntil((tmp_path / "list.pdf").is_file)


def test_the_statement_shows_what_was_taken_in(jobs: JobsDriver, tmp_path: Path) -> None:
    number = amplifier(jobs.shop, complaint="hums & <b>crackles</b>")
    jobs.page.load()
    jobs.take(number)
    jobs.press("Ctrl+T")
    text = jobs.save_pdf(tmp_path / "statement.pdf")
    assert "hums & <b>crackles</b>" in text
    assert "0551 20417" in text


def test_the_picture_of_a_job_is_exported(jobs: JobsDriver, tmp_path: Path) -> None:
    number = amplifier(jobs.shop)
    jobs.page.load()
    jobs.take(number)
    jobs.press("F7")
    (picture,) = jobs.window.findChildren(PictureWindow)
    picture.save(tmp_path / "readings.svg")
    drawn = (tmp_path / "readings.svg").read_text(encoding="utf-8")
    assert "V4 5Y3GT" in drawn
    assert "as left" in drawn


@pytest.mark.parametrize("keys", ["F2", "F3", "F4", "F6"])
def test_a_folded_detail_is_reached_by_the_same_keys(
    file_record: Record, qtbot: QtBot, shown: Callable[..., QWidget], settings: QSettings, keys: str
) -> None:
    jobs = open_jobs(file_record, qtbot, shown, settings, width=1024)
    number = amplifier(jobs.shop)
    jobs.page.load()
    jobs.take(number)
    assert not jobs.page.sheets.isVisible()
    jobs.press(keys)
    assert jobs.sheet().isVisible()
    jobs.press("Esc")
    assert jobs.focus is jobs.page.list.table
    assert jobs.page.list.isVisible()


def test_nothing_is_cut_in_a_narrow_window(
    file_record: Record, qtbot: QtBot, shown: Callable[..., QWidget], settings: QSettings
) -> None:
    jobs = open_jobs(file_record, qtbot, shown, settings, width=1024)
    number = amplifier(jobs.shop)
    jobs.page.load()
    jobs.take(number)
    jobs.page.split.show_detail()
    views = ["", "edit", "sockets", "facts", "estimate", "circuits"]
    for view in views:
        if view:
            jobs.page.sheets.begin(view)
        QApplication.processEvents()
        buttons = [b for b in jobs.page.findChildren(QPushButton) if b.isVisible()]
        assert [b.text() for b in buttons if b.width() < b.sizeHint().width()] == []
        assert len(buttons) > 3
        assert jobs.window.width() == 1024


def test_everything_that_takes_the_focus_has_a_name(jobs: JobsDriver) -> None:
    new_job(jobs.shop, customer="Ines Halloway", title="tubes from the attic", complement="1 12AX7")
    amplifier(jobs.shop)
    jobs.page.load()
    unnamed = [
        type(widget).__name__
        for widget in jobs.page.findChildren(QWidget)
        if widget.window() is jobs.window
        and not widget.isHidden()
        and widget.focusPolicy() is not Qt.FocusPolicy.NoFocus
        and not widget.objectName().startswith("qt_")
        and not (widget.accessibleName() or getattr(widget, "text", lambda: "")())
    ]
    assert unnamed == []


def test_the_field_in_hand_of_a_long_sheet_is_in_sight(jobs: JobsDriver) -> None:
    number = amplifier(jobs.shop)
    for socket in jobs.job(number).sockets:
        set_action(jobs.shop, socket_id=socket.id, action=Action.REPLACE)
    jobs.page.load()
    for height in range(620, 790, 20):
        jobs.window.resize(1366, height)
        jobs.take(number)
        jobs.press("F4")
        QTest.qWait(20)
        field = jobs.sheet().focusWidget()
        area = jobs.sheet().findChild(QScrollArea)
        assert field is not None
        assert area is not None
        top = field.mapTo(area.viewport(), QPoint(0, 0)).y()
        assert 0 <= top <= area.viewport().height() - field.height(), f"cut in a window {height} high"
        jobs.press("Escape")
