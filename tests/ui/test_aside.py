"""Tubes that are out, and a set that is put aside with a socket empty, in the real window and by keys."""

from collections.abc import Callable

import pytest
from PySide6.QtCore import QSettings, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLabel, QWidget
from pytestqt.qtbot import QtBot

from tests.ui.drivers.bench import Bench, set_up
from tests.ui.drivers.keyboard import Keyboard
from tubeshelf.domain.jobs import JobStatus
from tubeshelf.services import intake, jobs, pulls
from tubeshelf.services.aside import where_tubes_are
from tubeshelf.services.changes import Kind
from tubeshelf.store.record import Record
from tubeshelf.ui.pages.bench import BenchPage
from tubeshelf.ui.pages.jobs import JobsPage
from tubeshelf.ui.parts.preview import Preview
from tubeshelf.ui.start import Program


class Technician(Keyboard):
    """The bench page of the real window, by keys."""

    def __init__(self, bench: Bench, program: Program, qtbot: QtBot) -> None:
        self.bench, self.program, self.qtbot = bench, program, qtbot

    @property
    def page(self) -> BenchPage:
        page = self.program.window.current
        assert isinstance(page, BenchPage)
        return page

    @property
    def question(self) -> str:
        return self.page.aside.question.asking.question

    @property
    def out(self) -> str:
        """What the foot says of tubes that are out."""
        self.qtbot.wait(120)
        part = self.page.frame.out
        return " ".join(x.text() for x in part.findChildren(QLabel) if x.isVisible())

    def pull(self, position: str) -> None:
        """The tube goes into the bag."""
        _, changes = pulls.pull(self.bench.shop, socket_id=self.bench.socket(position).id)
        self.page.wrote(changes)

    def papers(self) -> list[Preview]:
        return [x for x in self.program.window.findChildren(Preview) if x.isVisible()]

    def back_to_window(self) -> None:
        for paper in self.papers():
            paper.close()
        self.program.window.activateWindow()
        self.qtbot.waitUntil(self.program.window.isActiveWindow)

    @property
    def asks(self) -> bool:
        return where_tubes_are(self.bench.shop, job_id=self.bench.job_id).asks


@pytest.fixture
def hands(
    file_record: Record,
    qapp: QApplication,
    settings: QSettings,
    shown: Callable[..., QWidget],
    qtbot: QtBot,
) -> Technician:
    bench = set_up(file_record)
    program = Program(qapp, lambda: bench.shop, settings)
    shown(program.window, 1366, 768)
    qtbot.waitUntil(lambda: program.window.current is not None)
    technician = Technician(bench, program, qtbot)
    technician.page.open_job(bench.job_id)
    return technician


def test_the_foot_counts_the_tube_that_is_on_the_tester(hands: Technician) -> None:
    assert hands.out == ""
    hands.write("+")
    assert hands.out == "1 tube out: V1"
    hands.write("1540\n")
    assert hands.out == "1 tube out: V1"
    hands.write("1510\n")
    assert hands.out == ""
    hands.write("+")
    assert hands.out == "1 tube out: V2"
    hands.press("Up")
    assert hands.out == ""
    hands.press("Down")
    assert hands.out == "1 tube out: V2"
    hands.pull("V1")
    assert hands.out == "1 tube out: V2 1 socket empty: V1"


def test_leaving_a_job_with_a_socket_empty_asks_once_and_prints_the_tag(hands: Technician) -> None:
    hands.write("+1540\n1510\n")
    hands.pull("V1")
    hands.press("Ctrl+O")
    assert hands.question == (
        "Job 1: V1 stands empty (in the job's bag). On purpose? Then a tag on the chassis says so."
    )
    assert hands.on_field == "Why"
    hands.press("Escape")
    assert hands.question == ""
    assert hands.page.desk.job is not None
    assert hands.page.table.field.hasFocus()
    assert hands.asks

    hands.press("Ctrl+O")
    hands.press("Delete")
    hands.write("a pair is on order")
    hands.press("Enter")
    assert hands.page.desk.job is None
    assert hands.page.notice.text == "Job 1 was left: V1 stands empty (in the job's bag)."
    assert [paper.document.title for paper in hands.papers()] == ["Chassis tag, job 1"]
    here = where_tubes_are(hands.bench.shop, job_id=hands.bench.job_id)
    assert (here.asks, here.why) == (False, "a pair is on order")

    hands.back_to_window()
    hands.page.open_job(hands.bench.job_id)
    hands.press("Ctrl+O")
    assert hands.question == ""
    assert hands.page.desk.job is None


def test_the_number_pad_alone_answers(hands: Technician) -> None:
    hands.write("+")
    hands.press("Ctrl+O")
    assert "V1 stands empty (on the tester or the bench)" in hands.question
    QTest.keyClick(hands.focus, Qt.Key.Key_Enter, Qt.KeyboardModifier.KeypadModifier)
    assert hands.page.desk.job is None
    assert not hands.asks
    here = where_tubes_are(hands.bench.shop, job_id=hands.bench.job_id)
    assert here.text == "V1 stands empty (out since the set was put aside)"
    assert here.why == "waits for readings"


def test_what_was_out_is_said_to_be_back(hands: Technician) -> None:
    hands.write("+")
    hands.press("Ctrl+O")
    hands.press("Enter")
    hands.back_to_window()
    hands.page.open_job(hands.bench.job_id)
    assert hands.page.notice.text == (
        "Job 1 was put aside with V1 out (waits for readings). Ctrl Shift A says that it is back, or prints "
        "the tag again."
    )
    hands.press("Down")
    assert hands.out == "1 socket empty: V1"
    hands.press("Ctrl+Shift+A")
    assert hands.question.endswith("Is V1 back in place?")
    assert hands.page.aside.question.asking.field.isHidden()
    hands.press("Escape")
    assert len(hands.papers()) == 1
    hands.back_to_window()
    hands.press("Ctrl+Shift+A")
    hands.press("Enter")
    assert hands.out == ""
    assert hands.page.table.field.hasFocus()
    assert where_tubes_are(hands.bench.shop, job_id=hands.bench.job_id).empty == ()
    hands.press("/")
    assert hands.out == "1 socket empty: V1"


def test_asked_for_again_the_job_is_left_without_an_answer(hands: Technician) -> None:
    hands.write("+")
    hands.press("Ctrl+O")
    assert hands.question
    hands.press("Ctrl+O")
    assert hands.page.desk.job is None
    assert "V1 stands empty" in hands.page.notice.text
    assert hands.papers() == []


def test_another_job_comes_after_the_answer(hands: Technician) -> None:
    _, changes = intake.new_job(hands.bench.shop, customer="Ada Larch", title="box", complement="1 12AX7")
    other = next(thing for kind, thing in changes.things if kind == "job")
    hands.write("+")
    hands.page.show_thing(Kind.JOB, other)
    assert hands.question
    assert hands.page.desk.job is not None
    assert hands.page.desk.job.id == hands.bench.job_id
    hands.press("Enter")
    assert hands.page.desk.job.id == other
    assert len(hands.papers()) == 1


def test_the_tag_has_a_key_and_says_why_where_there_is_none(hands: Technician) -> None:
    hands.press("Ctrl+Shift+A")
    assert hands.page.notice.text == "No socket of job 1 stands empty: it needs no chassis tag."
    hands.write("+")
    hands.press("Ctrl+Shift+A")
    hands.press("Enter")
    assert hands.page.desk.job is not None
    assert len(hands.papers()) == 1
    hands.back_to_window()
    hands.pull("V1")
    hands.press("Ctrl+Shift+A")
    assert "V1 stands empty (in the job's bag)" in hands.question
    hands.press("Enter")
    hands.back_to_window()
    hands.press("Ctrl+Shift+A")
    assert hands.question == ""
    assert len(hands.papers()) == 1


def test_closing_the_window_asks_and_closing_again_closes(hands: Technician) -> None:
    window = hands.program.window
    hands.write("+")
    window.open_page("shelf")
    assert not window.close()
    assert window.isVisible()
    assert hands.question
    hands.qtbot.waitUntil(hands.page.aside.question.asking.field.hasFocus)
    hands.press("Escape")
    assert not window.close()
    assert window.close()
    assert not window.isVisible()
    here = where_tubes_are(hands.bench.shop, job_id=hands.bench.job_id, in_hand="V1", reading_due=True)
    assert here.asks


def test_after_the_answer_the_window_closes(hands: Technician) -> None:
    window = hands.program.window
    hands.write("+")
    assert not window.close()
    hands.qtbot.waitUntil(hands.page.aside.question.asking.field.hasFocus)
    hands.press("Enter")
    assert len(hands.papers()) == 1
    hands.back_to_window()
    assert window.close()


def test_a_set_with_every_tube_in_is_left_without_a_question(hands: Technician) -> None:
    hands.write("+1540\n1510\n")
    hands.press("Ctrl+O")
    assert hands.question == ""
    assert hands.page.desk.job is None
    assert hands.page.notice.isHidden()


@pytest.fixture
def list_of_jobs(hands: Technician) -> JobsPage:
    hands.write("+1540\n1510\n")
    hands.pull("V1")
    page = hands.program.window.open_page("jobs")
    assert isinstance(page, JobsPage)
    return page


def choose(page: JobsPage, status: JobStatus) -> None:
    """As the user does in the list of the field."""
    field = page.sheets.detail.status
    field.choose(status)
    field.activated.emit(field.currentIndex())


def status(hands: Technician) -> JobStatus:
    return jobs.open_job(hands.bench.shop, job_id=hands.bench.job_id).status


def test_a_status_that_puts_the_set_aside_asks_before_it_is_set(
    hands: Technician, list_of_jobs: JobsPage
) -> None:
    page = list_of_jobs
    assert page.sheets.detail.empty_sockets.text() == "V1 stands empty (in the job's bag)."
    choose(page, JobStatus.READING)
    assert (page.aside.asking.question, status(hands)) == ("", JobStatus.READING)
    choose(page, JobStatus.WAITING_TUBES)
    assert page.aside.asking.question
    assert status(hands) is JobStatus.READING
    hands.press("Escape")
    assert page.sheets.detail.status.currentData() == JobStatus.READING
    choose(page, JobStatus.WAITING_TUBES)
    hands.press("Enter")
    assert status(hands) is JobStatus.WAITING_TUBES
    assert "Put aside: waits for readings." in page.sheets.detail.empty_sockets.text()
    assert len(hands.papers()) == 1


def test_the_tag_of_a_job_is_printed_from_the_list_of_jobs(hands: Technician, list_of_jobs: JobsPage) -> None:
    list_of_jobs.list.table.setFocus()
    hands.press("Ctrl+Shift+A")
    QTest.qWait(150)
    assert [paper.document.title for paper in hands.papers()] == ["Chassis tag, job 1"]
