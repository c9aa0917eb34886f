"""The decision sheet by keys: an answer a socket, match groups as a whole or knowingly not, the paper."""

from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest
from PySide6.QtCore import QSettings
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from tests.ui.drivers.jobs import JobsDriver, amplifier, open_jobs
from tubeshelf.domain.jobs import Action, Answer, JobStatus
from tubeshelf.services.bench import set_action
from tubeshelf.services.decide import approve, set_status
from tubeshelf.services.shelf_moves import receive
from tubeshelf.store.record import Record

TODAY = date(2026, 3, 2)


@pytest.fixture
def jobs(file_record: Record, qtbot: QtBot, shown: Callable[..., QWidget], settings: QSettings) -> JobsDriver:
    """The page with the decision sheet open on a job that wants new output tubes and a rectifier."""
    jobs = open_jobs(file_record, qtbot, shown, settings)
    number = amplifier(jobs.shop)
    receive(jobs.shop, type_name="5Y3GT", bin="C1", condition="NOS", price=1850)
    for socket in jobs.job(number).sockets[1:]:
        set_action(jobs.shop, socket_id=socket.id, action=Action.REPLACE, why="worn")
    jobs.page.load()
    jobs.take(number)
    jobs.press("F4")
    return jobs


def said(jobs: JobsDriver) -> dict[str, Answer | None]:
    return {socket.position: socket.answer for socket in jobs.job(1).sockets}


def row(jobs: JobsDriver, position: str) -> str:
    return jobs.texts(jobs.page.sheets.approval.rows.rows[position])


def answer(jobs: JobsDriver, position: str, letters: str) -> None:
    """Go to the choice of a socket and type what is said."""
    jobs.page.sheets.approval.answers[position].setFocus()
    jobs.write(letters)


def test_each_socket_says_what_is_proposed_why_and_at_which_price(jobs: JobsDriver) -> None:
    rectifier = row(jobs, "V4")
    for words in ("rectifier", "not looked yet", "replace with 5Y3GT, tag 0001, bin C1", "18.50"):
        assert words in rectifier
    assert "replace with 6BQ5, to order" in row(jobs, "V2")
    assert "no price" in row(jobs, "V2")
    assert "not decided; 12AX7 if replaced" in row(jobs, "V1")
    assert list(jobs.page.sheets.approval.answers) == ["V1", "V2", "V3", "V4"]


def test_an_answer_is_one_letter_and_keeps_how_and_when(jobs: JobsDriver) -> None:
    sheet = jobs.page.sheets.approval
    assert jobs.is_on(sheet.how)
    jobs.write("by telephone")
    answer(jobs, "V4", "d")
    socket = jobs.job(1).sockets[3]
    assert (socket.answer, socket.answer_how, socket.answer_on) == (Answer.DECLINED, "by telephone", TODAY)
    assert "declined by telephone on 2 Mar 2026" in row(jobs, "V4")
    assert jobs.is_on(sheet.answers["V4"])
    jobs.press("Esc")
    jobs.press("F4")
    assert sheet.how.text() == "by telephone"
    assert jobs.is_on(sheet.answers["V1"])


def test_the_number_pad_answers_one_socket_after_the_other(jobs: JobsDriver) -> None:
    sheet = jobs.page.sheets.approval
    sheet.answers["V1"].setFocus()
    jobs.write("+")
    assert jobs.is_on(sheet.answers["V2"])
    jobs.write("-")
    assert jobs.is_on(sheet.answers["V4"]), "V3 is answered with V2"
    jobs.write("*")
    assert said(jobs) == {
        "V1": Answer.AGREED,
        "V2": Answer.DECLINED,
        "V3": Answer.DECLINED,
        "V4": Answer.ASK_AGAIN,
    }


def test_the_total_against_the_ceiling_stands_by_while_sockets_are_answered(jobs: JobsDriver) -> None:
    sheet = jobs.page.sheets.approval
    assert sheet.total.text() == "18.50"
    job_id = jobs.job(1).id
    approve(jobs.shop, job_id=job_id, who="Ines Halloway", on=TODAY, how="", ceiling=2000)
    answer(jobs, "V4", "a")
    assert sheet.total.text() == "18.50 of 20.00"
    approve(jobs.shop, job_id=job_id, who="Ines Halloway", on=TODAY, how="", ceiling=1500)
    answer(jobs, "V4", "r")
    assert sheet.total.text() == "18.50, 3.50 over"
    answer(jobs, "V4", "d")
    assert sheet.total.text() == "0.00 of 15.00"
    assert sheet.total.isVisible()


def test_a_day_that_is_none_is_told_and_nothing_is_kept(jobs: JobsDriver) -> None:
    sheet = jobs.page.sheets.approval
    jobs.fill(sheet.on, "soon")
    answer(jobs, "V4", "d")
    assert "is not a date" in sheet.form.complaint(sheet.on)
    assert said(jobs)["V4"] is None
    assert sheet.answers["V4"].currentData() is None


def test_a_match_group_is_answered_as_a_whole(jobs: JobsDriver) -> None:
    answer(jobs, "V2", "d")
    assert (said(jobs)["V2"], said(jobs)["V3"]) == (Answer.DECLINED, Answer.DECLINED)
    assert jobs.page.sheets.approval.rows.question.isHidden()


@pytest.mark.parametrize(("key", "other"), [("F2", Answer.AGREED), ("F3", Answer.DECLINED)])
def test_to_part_a_match_group_is_asked_once_in_the_sheet(jobs: JobsDriver, key: str, other: Answer) -> None:
    sheet = jobs.page.sheets.approval
    answer(jobs, "V2", "d")
    answer(jobs, "V3", "a")
    assert "V3 is matched with V2: agreed for both, or for V3 alone?" in jobs.texts(sheet)
    assert said(jobs)["V3"] is Answer.DECLINED
    jobs.press(key)
    assert (said(jobs)["V2"], said(jobs)["V3"]) == (other, Answer.AGREED)
    assert sheet.rows.question.isHidden()
    assert jobs.is_on(sheet.answers["V3"])
    apart = "V2 and V3 are a matched group and decided apart."
    assert (apart in jobs.texts(sheet)) is (key == "F3")


def test_a_group_that_was_parted_knowingly_is_not_asked_about_again(jobs: JobsDriver) -> None:
    answer(jobs, "V2", "d")
    answer(jobs, "V3", "a")
    jobs.press("F3")
    answer(jobs, "V3", "r")
    assert jobs.page.sheets.approval.rows.question.isHidden()
    assert (said(jobs)["V2"], said(jobs)["V3"]) == (Answer.DECLINED, Answer.ASK_AGAIN)


def test_one_key_agrees_to_all_that_has_no_answer_yet(jobs: JobsDriver) -> None:
    answer(jobs, "V4", "d")
    jobs.press("F6")
    assert said(jobs) == {
        "V1": Answer.AGREED,
        "V2": Answer.AGREED,
        "V3": Answer.AGREED,
        "V4": Answer.DECLINED,
    }
    assert not jobs.page.sheets.approval.all.isEnabled()


def test_a_total_over_what_was_agreed_is_told(jobs: JobsDriver) -> None:
    approve(jobs.shop, job_id=jobs.job(1).id, who="Ines Halloway", on=TODAY, how="", ceiling=1000)
    jobs.page.load()
    over = "The total is over the 10.00 agreed: ask the customer."
    assert over in jobs.texts(jobs.page.sheets.approval)
    answer(jobs, "V4", "d")
    assert over not in jobs.texts(jobs.page.sheets.approval)


def test_a_closed_job_refuses_an_answer_and_says_how_to_open_it(jobs: JobsDriver) -> None:
    set_status(jobs.shop, job_id=jobs.job(1).id, status=JobStatus.HANDED_BACK)
    answer(jobs, "V4", "d")
    assert "Job 1 is closed: set its status" in jobs.page.sheets.approval.notice.text
    assert jobs.page.sheets.approval.answers["V4"].currentData() is None


def test_the_estimate_is_printed_from_the_sheet_and_from_the_job(jobs: JobsDriver, tmp_path: Path) -> None:
    answer(jobs, "V4", "a")
    jobs.press("Ctrl+E")
    text = " ".join(jobs.save_pdf(tmp_path / "estimate.pdf").split())
    for words in (
        "Estimate",
        "replace with 5Y3GT",
        "claimed: NOS",
        "Answered: agreed on 2 Mar 2026",
        "18.50",
    ):
        assert words in text
    jobs.preview().close()
    jobs.window.activateWindow()
    jobs.qtbot.waitUntil(jobs.window.isActiveWindow)
    jobs.press("Esc")
    jobs.press("Ctrl+E")
    assert jobs.preview().document.title == "Estimate, job 1"
