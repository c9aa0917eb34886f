"""What today's limits would say, asked on the Jobs page by keys: of the job in hand, and of all open jobs."""

from collections.abc import Callable

import pytest
from PySide6.QtCore import QSettings
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from tests.services.benchwork import Bench, add_tester
from tests.services.shelfwork import tube
from tests.ui.drivers.jobs import JobsDriver, amplifier, open_jobs
from tubeshelf.domain.jobs import JobStatus
from tubeshelf.domain.judging import Limit
from tubeshelf.services import decide, setting_lines
from tubeshelf.services.changes import Kind
from tubeshelf.services.undo import take_back
from tubeshelf.store.record import Record
from tubeshelf.ui.marks import MarkLabel
from tubeshelf.ui.pages import jobs_today as sheet
from tubeshelf.ui.pages.jobs_today import TodaySheet
from tubeshelf.ui.parts.buttons import Link


@pytest.fixture
def jobs(file_record: Record, qtbot: QtBot, shown: Callable[..., QWidget], settings: QSettings) -> JobsDriver:
    return open_jobs(file_record, qtbot, shown, settings)


@pytest.fixture
def tester(jobs: JobsDriver) -> int:
    return add_tester(jobs.shop)


def read_job(jobs: JobsDriver, tester: int, serial: str, v2: str = "9000", v3: str = "12000") -> Bench:
    """An amplifier with two output tubes read, in hand on the page."""
    bench = Bench(jobs.shop, amplifier(jobs.shop, serial=serial), tester)
    for position, text in (("V2", v2), ("V3", v3)):
        bench.found(position)
        bench.enter(position, text)
    jobs.page.load()
    jobs.take(bench.number)
    return bench


def raise_limit(jobs: JobsDriver, tester: int, good: float, reject: float) -> None:
    type_id = jobs.shop.book.id_of("6BQ5") or 0
    for line in setting_lines.setting_lines(jobs.shop, tester_id=tester, type_id=type_id):
        setting_lines.save_line(jobs.shop, line_id=line.id, section=line.section, limit=Limit(good, reject))


def told(jobs: JobsDriver) -> TodaySheet:
    assert jobs.page.sheets.currentWidget() is jobs.page.sheets.today
    return jobs.page.sheets.today


def marks(part: QWidget) -> list[str]:
    return [mark.accessibleName() for mark in part.findChildren(MarkLabel)]


def all_told(jobs: JobsDriver) -> TodaySheet:
    jobs.press("Ctrl+Shift+L")
    today = told(jobs)
    jobs.qtbot.waitUntil(lambda: today.view.looked_at > 0, timeout=10_000)
    return today


def test_where_nothing_changes_one_sentence_says_so(jobs: JobsDriver, tester: int) -> None:
    read_job(jobs, tester, "30417")
    jobs.press("Ctrl+L")
    assert "Nothing changes: today's limits say of this job" in jobs.texts(told(jobs))
    assert not told(jobs).again.isVisible()
    assert jobs.is_on(told(jobs).back)
    jobs.press("Esc")
    assert jobs.is_on(jobs.page.list.table)
    assert jobs.page.sheets.currentWidget() is jobs.page.sheets.detail


def test_both_verdicts_limits_proposals_and_the_money_are_told(jobs: JobsDriver, tester: int) -> None:
    bench = read_job(jobs, tester, "30417")
    decide.set_labour(jobs.shop, job_id=bench.job().id, minor=4500)
    for price in (2400, 2600):
        tube(jobs.shop, "6BQ5", price=price)
    raise_limit(jobs, tester, 11_000, 10_000)
    jobs.press("Ctrl+L")
    assert marks(told(jobs)) == ["Good", "Reject", "Good", "Good"]
    text = jobs.texts(told(jobs))
    limits = "good from 7,458, reject below 5,650 (shop default) → good from 11,000, reject below 10,000"
    assert f"Tester B: 9,000 µmho; {limits}" in text
    assert "Proposed: keep → replace\n" in text
    assert "Proposed: keep → replace, matched with the rest of group A" in text
    assert "Estimate: 45.00 → 95.00, 50.00 more." in text


def test_judging_again_supersedes_and_take_back_brings_it_back(jobs: JobsDriver, tester: int) -> None:
    bench = read_job(jobs, tester, "30417")
    raise_limit(jobs, tester, 11_000, 10_000)
    jobs.press("Ctrl+L")
    assert jobs.is_on(told(jobs).again)
    jobs.press("Ctrl+Return")
    assert bench.at("V2").verdict.word == "reject"
    assert "Nothing changes" in jobs.texts(told(jobs))
    assert jobs.is_on(told(jobs).back)
    jobs.window.bridge.publish(take_back(jobs.shop))
    assert bench.at("V2").verdict.word == "good"
    assert marks(told(jobs))[:2] == ["Good", "Reject"]


def test_a_closed_job_is_only_told(jobs: JobsDriver, tester: int) -> None:
    bench = read_job(jobs, tester, "30417")
    decide.set_status(jobs.shop, job_id=bench.job().id, status=JobStatus.HANDED_BACK)
    raise_limit(jobs, tester, 11_000, 10_000)
    jobs.page.show_thing(Kind.JOB, bench.job().id)
    jobs.page.list.table.setFocus()
    jobs.press("Ctrl+L")
    assert "it keeps the verdicts and the money" in jobs.texts(told(jobs))
    assert not told(jobs).again.isVisible()
    jobs.press("Ctrl+Return")
    assert bench.at("V2").verdict.word == "good"


def test_all_open_jobs_are_told_and_one_of_them_can_be_taken(jobs: JobsDriver, tester: int) -> None:
    one, other = read_job(jobs, tester, "30417"), read_job(jobs, tester, "30418", v2="12500")
    read_job(jobs, tester, "30419", v2="14000", v3="14500")
    raise_limit(jobs, tester, 11_000, 10_000)
    today = all_told(jobs)
    assert [job.number for job in today.view.jobs] == [one.number, other.number, other.number + 1]
    assert "Of 3 open jobs 1 changes: 2 sockets." in jobs.texts(today)
    assert "In 2 sockets other limits hold now; the verdict stays the same." in jobs.texts(today)
    assert not today.again.isVisible()
    link = next(x for x in today.findChildren(Link) if x.text().startswith(f"Job {one.number} "))
    link.setFocus()
    jobs.press("Space")
    assert today.title.text() == f"Today's limits: job {one.number}"
    in_hand = jobs.page.list.in_hand()
    assert in_hand is not None
    assert in_hand.number == one.number


def test_all_open_jobs_where_nothing_changes(jobs: JobsDriver, tester: int) -> None:
    read_job(jobs, tester, "30417")
    assert "say of every open job what its verdicts say" in jobs.texts(all_told(jobs))


def test_many_jobs_are_told_by_their_numbers(
    jobs: JobsDriver, tester: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sheet, "MOST_JOBS", 1)
    read_job(jobs, tester, "30417")
    other = read_job(jobs, tester, "30418")
    raise_limit(jobs, tester, 11_000, 10_000)
    assert f"Also of 1 more: {other.number}." in jobs.texts(all_told(jobs))


def test_going_to_a_job_leaves_what_was_asked_of_all(jobs: JobsDriver, tester: int) -> None:
    bench = read_job(jobs, tester, "30417")
    all_told(jobs)
    jobs.page.show_thing(Kind.JOB, bench.job().id)
    assert jobs.page.sheets.currentWidget() is jobs.page.sheets.detail


def test_a_limit_changed_meanwhile_is_told_at_once(jobs: JobsDriver, tester: int) -> None:
    read_job(jobs, tester, "30417")
    jobs.press("Ctrl+L")
    line = setting_lines.setting_lines(
        jobs.shop, tester_id=tester, type_id=jobs.shop.book.id_of("6BQ5") or 0
    )[0]
    _, changes = setting_lines.save_line(
        jobs.shop, line_id=line.id, section=line.section, limit=Limit(11_000.0, 10_000.0)
    )
    jobs.window.bridge.publish(changes)
    assert marks(told(jobs))[:2] == ["Good", "Reject"]
