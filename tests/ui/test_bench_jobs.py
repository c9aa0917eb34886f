"""Which job is on the bench, and what the page says where there is none, no tester or no socket."""

from collections.abc import Callable
from dataclasses import replace

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from tests.ui.drivers.bench import Bench, BenchDriver
from tubeshelf.domain.jobs import JobStatus
from tubeshelf.services.changes import Kind
from tubeshelf.services.decide import set_status
from tubeshelf.services.intake import new_job
from tubeshelf.services.testers import retire_tester
from tubeshelf.ui.place import Place

Show = Callable[..., QWidget]


def test_without_a_job_the_open_ones_are_offered(bench: Bench, qtbot: QtBot, shown: Show) -> None:
    at_bench = BenchDriver(qtbot, bench, shown, job=False)
    at_bench.press(Qt.Key.Key_Return)
    assert at_bench.at == "V1, what stands in it"
    assert at_bench.remembered == [bench.job_id]


def test_without_any_job_a_new_one_is_offered(bench: Bench, qtbot: QtBot, shown: Show) -> None:
    set_status(bench.shop, job_id=bench.job_id, status=JobStatus.HANDED_BACK)
    at_bench = BenchDriver(qtbot, bench, shown, job=False)
    wanted: list[object] = []
    at_bench.page.go.connect(wanted.append)
    at_bench.press("Ctrl+N")
    qtbot.waitUntil(lambda: bool(wanted))
    assert [getattr(place, "page", None) for place in wanted] == ["jobs"]


def test_a_last_job_of_another_record_is_forgotten(bench: Bench, qtbot: QtBot, shown: Show) -> None:
    at_bench = BenchDriver(qtbot, replace(bench, job_id=999), shown)
    assert at_bench.page.picker.isVisible()
    assert at_bench.page.notice.text == ""


def test_without_a_tester_the_page_says_what_to_do(bench: Bench, qtbot: QtBot, shown: Show) -> None:
    retire_tester(bench.shop, tester_id=bench.tester_id)
    at_bench = BenchDriver(qtbot, bench, shown)
    assert at_bench.page.frame.hint.text().startswith("No tester is set up yet")
    at_bench.press("+")
    assert at_bench.at == "V2, what stands in it"
    asked: list[Place] = []
    at_bench.page.go.connect(asked.append)
    at_bench.click("Add a tester")
    assert asked == [Place("testers")]


def test_a_job_without_sockets_says_where_they_come_from(bench: Bench, qtbot: QtBot, shown: Show) -> None:
    _, changes = new_job(bench.shop, customer="Ada Larch", title="a shoebox")
    at_bench = BenchDriver(qtbot, bench, shown)
    at_bench.page.show_thing(Kind.JOB, next(i for kind, i in changes.things if kind is Kind.JOB))
    assert "has no sockets yet" in at_bench.page.frame.hint.text()


def test_another_job_begins_at_its_top_row(bench: Bench, qtbot: QtBot, shown: Show) -> None:
    many = "".join(f"V{n} stage 12AX7\n" for n in range(1, 26))
    _, changes = new_job(bench.shop, customer="Ada Larch", title="a rack", complement=many)
    job_id = next(i for kind, i in changes.things if kind is Kind.JOB)
    at_bench = BenchDriver(qtbot, bench, shown)
    at_bench.page.open_job(job_id)
    at_bench.press(*[Qt.Key.Key_Down] * 24)
    assert at_bench.at == "V25, what stands in it"
    assert at_bench.page.table.viewport().rect().contains(at_bench.page.table.field.geometry())
    assert at_bench.page.table.verticalScrollBar().value() > 0
    at_bench.page.open_job(bench.job_id)
    at_bench.page.open_job(job_id)
    assert at_bench.at == "V1, what stands in it"
    assert at_bench.page.table.verticalScrollBar().value() == 0
