"""A comeback by keys: from the search field to the earlier job beside this one, tags read, covered or not."""

from collections.abc import Callable

import pytest
from PySide6.QtCore import QSettings
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from tests.ui.drivers.jobs import JobsDriver, amplifier, open_jobs
from tests.ui.drivers.keyboard import Keyboard
from tubeshelf.domain.comeback import SameTube
from tubeshelf.domain.jobs import JobStatus
from tubeshelf.services.comeback import comeback
from tubeshelf.services.cover import cover_of
from tubeshelf.services.decide import set_status
from tubeshelf.services.finding import found_as_intended, set_empty
from tubeshelf.services.jobs import open_job
from tubeshelf.services.shelf_moves import receive
from tubeshelf.services.shop import Shop, ShopSettings, open_shop, save_settings
from tubeshelf.services.spares import install
from tubeshelf.store.record import Record
from tubeshelf.ui.pages.jobs import JobsPage
from tubeshelf.ui.start import Program


def leave_and_return(shop: Shop) -> int:
    """A set handed back with tags 0001 and 0002 in V1 and V4 and here again; the number of that job."""
    save_settings(shop, settings=ShopSettings(warranty="Ninety days.", warranty_days=90))
    first = open_job(shop, number=amplifier(shop))
    for position, type_name in ((0, "12AX7"), (3, "5Y3GT")):
        (item_id,), _ = receive(shop, type_name=type_name, bin="C1")
        install(shop, item_id=item_id, socket_id=first.sockets[position].id)
    found_as_intended(shop, socket_id=first.sockets[1].id)
    set_status(shop, job_id=first.id, status=JobStatus.HANDED_BACK)
    return amplifier(shop)


@pytest.fixture
def jobs(file_record: Record, qtbot: QtBot, shown: Callable[..., QWidget], settings: QSettings) -> JobsDriver:
    """The page with the comeback sheet open."""
    jobs = open_jobs(file_record, qtbot, shown, settings)
    number = leave_and_return(jobs.shop)
    jobs.page.load()
    jobs.take(number)
    jobs.press("F10")
    return jobs


def answers(jobs: JobsDriver) -> dict[str, SameTube | None]:
    view = comeback(jobs.shop, job_id=jobs.job(2).id)
    return {place.position: place.answer for place in view.places}


def test_the_earlier_job_stands_beside_this_one(jobs: JobsDriver) -> None:
    said = jobs.texts(jobs.page.sheets.comeback)
    for words in (
        "Job 2 beside job 1",
        "Larkmere A12 · serial 30417 · Ines Halloway",
        "Within the term: 90 days from 2 Mar 2026, until 31 May 2026; it came in with 90 days left.",
        "Ninety days.",
        "left by job 1",
        "12AX7 tag 0001, put in",
        "6BQ5, kept",
        "nothing was left here",
        "not looked yet",
    ):
        assert words in said, words


def test_tags_are_read_one_after_the_other(jobs: JobsDriver) -> None:
    rows = jobs.page.sheets.comeback.rows.rows
    assert jobs.is_on(rows["V1"].tag)
    jobs.write("1\n")
    assert answers(jobs)["V1"] is SameTube.YES
    assert jobs.is_on(rows["V2"].same)
    jobs.write("c")
    assert jobs.is_on(rows["V4"].tag)
    rows["V4"].tag.setFocus()
    jobs.write("T0017\n")
    assert answers(jobs) == {
        "V1": SameTube.YES,
        "V2": SameTube.CANT_TELL,
        "V3": None,
        "V4": SameTube.NO,
    }
    assert "tag 0017 read" in jobs.texts(rows["V4"])
    assert jobs.is_on(jobs.page.sheets.comeback.covered)


def test_a_tube_that_is_another_is_to_be_told_on_the_bench_too(jobs: JobsDriver) -> None:
    found_as_intended(jobs.shop, socket_id=jobs.job(2).sockets[0].id)
    jobs.page.load()
    row = jobs.page.sheets.comeback.rows.rows["V1"]
    jobs.write("17\n")
    assert "tag 0017 read. The record takes it for the tube left" in jobs.texts(row)
    row.same.setFocus()
    jobs.write("y")
    assert "The record takes it" not in jobs.texts(row)


def test_what_is_no_tag_is_told(jobs: JobsDriver) -> None:
    jobs.write("12AX7\n")
    assert "is no tag" in jobs.page.sheets.comeback.notice.text
    assert answers(jobs)["V1"] is None


def test_what_follows_from_what_is_found_is_proposed(jobs: JobsDriver) -> None:
    set_empty(jobs.shop, socket_id=jobs.job(2).sockets[3].id)
    jobs.page.load()
    assert "proposed: no, empty now" in jobs.texts(jobs.page.sheets.comeback.rows.rows["V4"])


def test_the_cover_wants_a_reason_and_shows_on_the_job(jobs: JobsDriver) -> None:
    sheet = jobs.page.sheets.comeback
    sheet.covered.setFocus()
    jobs.press("Down")
    jobs.press("Ctrl+Return")
    assert "Type why" in sheet.form.complaint(sheet.why)
    assert cover_of(jobs.shop, job_id=jobs.job(2).id) is None
    jobs.fill(sheet.why, "our tube failed")
    jobs.press("Ctrl+Return")
    assert "Covered: our tube failed" in jobs.texts(jobs.page.sheets.detail)
    assert jobs.job(2).comeback_of == 1
    jobs.press("F10")
    assert (sheet.covered.currentData(), sheet.why.text()) == (True, "our tube failed")


def test_what_is_typed_stays_while_tubes_are_answered(jobs: JobsDriver) -> None:
    sheet = jobs.page.sheets.comeback
    jobs.fill(sheet.why, "our tube failed")
    sheet.rows.rows["V1"].tag.setFocus()
    jobs.write("1\n")
    assert sheet.why.text() == "our tube failed"


def test_a_closed_job_tells_alone_what_it_left(jobs: JobsDriver) -> None:
    jobs.press("Esc")
    jobs.page.which.choose("all")
    jobs.take(1)
    jobs.press("F10")
    sheet = jobs.page.sheets.comeback
    said = jobs.texts(sheet)
    assert "What job 1 left" in said
    assert "12AX7 tag 0001, put in" in said
    assert "found now" not in said
    assert not sheet.act.isVisible()


def test_a_unit_that_was_not_here_before_says_so(jobs: JobsDriver) -> None:
    jobs.press("Esc")
    number = amplifier(jobs.shop, serial="30418")
    jobs.page.load()
    jobs.take(number)
    jobs.page._ask("comeback")
    assert "was not here before" in jobs.page.notice.text
    assert jobs.page.sheets.entry is None


def test_customer_contact_and_serial_are_corrected_on_the_edit_sheet(jobs: JobsDriver) -> None:
    jobs.press("Esc")
    jobs.press("F2")
    sheet = jobs.page.sheets.edit
    assert (sheet.customer.text(), sheet.contact.toPlainText()) == ("Ines Halloway", "0551 20417")
    jobs.fill(sheet.customer, " ")
    jobs.press("Ctrl+Return")
    assert "Type the customer" in sheet.form.complaint(sheet.customer)
    jobs.fill(sheet.customer, "Ines Holloway")
    jobs.fill(sheet.contact, "0551 20471")
    jobs.fill(sheet.serial, "30471")
    jobs.press("Ctrl+Return")
    assert {(jobs.job(n).customer, jobs.job(n).serial) for n in (1, 2)} == {("Ines Holloway", "30471")}
    assert "0551 20471" in jobs.texts(jobs.page.sheets.detail)
    assert "Ines Holloway" in " | ".join(jobs.row(2))


@pytest.mark.parametrize("text", ["halloway", "30417", "0001", "T0002"])
def test_three_keys_from_the_search_field_to_the_comeback(
    file_record: Record,
    qapp: QApplication,
    settings: QSettings,
    shown: Callable[..., QWidget],
    qtbot: QtBot,
    text: str,
) -> None:
    """By customer, by serial, by the tag on a base: Enter, Ctrl J, F10, in the real window."""
    shop = open_shop(file_record)
    leave_and_return(shop)
    program = Program(qapp, lambda: shop, settings)
    shown(program.window, 1366, 768)
    qtbot.waitUntil(lambda: program.window.current is not None)
    hands = Keyboard()
    hands.press("Ctrl+F")
    hands.write(text)
    for key, page in (("Return", "bench"), ("Ctrl+J", "jobs"), ("F10", "jobs")):
        hands.press(key)
        QTest.qWait(130)  # a button that has a shortcut answers only after it was seen to go down
        assert program.window.current is not None
        assert program.window.current.name == page
    page_on_show = program.window.current
    assert isinstance(page_on_show, JobsPage)
    sheet = page_on_show.sheets.comeback
    assert sheet.isVisible()
    assert sheet.title.text() == "Job 2 beside job 1"
