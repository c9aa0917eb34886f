"""The Jobs page in its window, used as a technician does: by keys."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pypdf
from PySide6.QtCore import QSettings, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QFileDialog, QLineEdit, QPlainTextEdit, QWidget
from pytestqt.qtbot import QtBot

from tests.ui.drivers.keyboard import Driver
from tubeshelf.services.changes import Kind
from tubeshelf.services.intake import new_job
from tubeshelf.services.jobs import open_job
from tubeshelf.services.shop import Shop, open_shop
from tubeshelf.services.views.bench import JobView
from tubeshelf.store.record import Record
from tubeshelf.ui.page import Page
from tubeshelf.ui.pages.jobs import JobsPage
from tubeshelf.ui.parts.buttons import Link
from tubeshelf.ui.parts.entrysheet import EntrySheet
from tubeshelf.ui.parts.preview import Preview
from tubeshelf.ui.printing import papers_for
from tubeshelf.ui.window import MainWindow, PageSpec

AMPLIFIER = "V1 input 12AX7\nV2 output 6BQ5 =A\nV3 output 6BQ5 =A\nV4 rectifier 5Y3GT\n"
"""A small amplifier of no particular make."""


class BenchToCome(Page):
    """Stands where the bench page stands, and remembers what it was sent."""

    name = "bench"

    def __init__(self) -> None:
        super().__init__()
        self.sent: list[int] = []

    def show_thing(self, kind: Kind, thing_id: int) -> None:
        """Remember the job."""
        assert kind is Kind.JOB
        self.sent.append(thing_id)


@dataclass
class JobsDriver(Driver[JobsPage]):
    """Takes jobs in hand and reads what is said of them; ``bench`` is what they are opened on."""

    bench: BenchToCome

    @property
    def numbers(self) -> list[int]:
        """The jobs in the list, as they stand there."""
        return [job.number for job in self.page.list.model.rows]

    def row(self, number: int) -> list[str]:
        """What the row of a job says, cell by cell."""
        model = self.page.list.model
        job = next(job for job in model.rows if job.number == number)
        return [column.cell(job).spoken for column in model.columns]

    def take(self, number: int) -> None:
        """Take a job in hand, with the list in focus."""
        job_id = next(job.id for job in self.page.list.model.rows if job.number == number)
        assert self.page.list.table.take_in_hand(job_id)
        self.page.list.table.setFocus()
        QApplication.processEvents()

    def job(self, number: int) -> JobView:
        """What the record holds, read afresh."""
        return open_job(self.shop, number=number)

    def sheet(self) -> EntrySheet:
        """The sheet that is being filled in."""
        if self.page.views.currentWidget() is self.page.intake:
            return self.page.intake
        assert self.page.sheets.entry is not None, "no sheet is open"
        return self.page.sheets.entry

    def click_link(self, words: str) -> None:
        """Take a link that can be seen, such as a near miss."""
        link = next(x for x in self.page.findChildren(Link) if x.isVisible() and x.text() == words)
        QTest.mouseClick(link, Qt.MouseButton.LeftButton)

    def preview(self) -> Preview:
        """The paper that is on show."""
        shown = [x for x in self.window.findChildren(Preview) if x.isVisible()]
        assert len(shown) == 1, f"{len(shown)} papers are on show"
        shown[0].activateWindow()
        self.qtbot.waitUntil(shown[0].isActiveWindow)
        return shown[0]

    def save_pdf(self, path: Path) -> str:
        """Save the paper on show by keys; the text that the file then has."""
        paper = self.preview()
        QTest.keyClick(paper, Qt.Key.Key_S, Qt.KeyboardModifier.ControlModifier)
        answer_file_dialogue(self.qtbot, paper, path)
        self.qtbot.waitUntil(lambda: bool(paper.notice.text))
        return "\n".join(page.extract_text() for page in pypdf.PdfReader(path).pages)


def answer_file_dialogue(qtbot: QtBot, owner: QWidget, path: Path) -> str:
    """Put a path into the file dialogue of a window; gives back the name it offered."""
    dialogue = owner.findChild(QFileDialog)
    assert dialogue is not None, "no file was asked for"
    qtbot.waitUntil(dialogue.isVisible)
    line = dialogue.findChild(QLineEdit)
    assert line is not None
    offered = line.text()
    # Typed by keys, the toolkit opens a list of files over it, which needs a real display.
    line.setText(str(path))
    QTest.keyClick(line, Qt.Key.Key_Return)
    return offered


def amplifier(shop: Shop, serial: str = "30417", complement: str = AMPLIFIER, **more: object) -> int:
    """Take in a job of one customer's amplifier; its number."""
    facts: dict[str, object] = {"customer": "Ines Halloway", "contact": "0551 20417"}
    facts |= {"maker": "Larkmere", "model": "A12", "serial": serial, "complement": complement, **more}
    number, _ = new_job(shop, **facts)  # type: ignore[arg-type] # the facts are the keywords of new_job
    return number


def open_jobs(
    record: Record, qtbot: QtBot, shown: Callable[..., QWidget], settings: QSettings, *, width: int = 1366
) -> JobsDriver:
    """The window with the Jobs page on a record."""
    shop = open_shop(record)
    bench = BenchToCome()
    made: list[JobsPage] = []

    def jobs() -> Page:
        made.append(JobsPage(shop, window.bridge, papers_for(window, shop)))
        return made[0]

    window = MainWindow(
        (PageSpec("jobs", "&Jobs", jobs), PageSpec("bench", "&Bench", lambda: bench)), settings=settings
    )
    # A page that is never opened must still go with the window, not whenever the garbage is collected.
    bench.setParent(window)
    bench.hide()
    shown(window, width, 768 if width > 1100 else 640)
    qtbot.waitUntil(lambda: bool(made) and made[0].isVisible())
    return JobsDriver(shop, window, made[0], qtbot, bench)


def typed_in(widget: QPlainTextEdit | QLineEdit) -> str:
    """What a field holds."""
    return widget.toPlainText() if isinstance(widget, QPlainTextEdit) else widget.text()
