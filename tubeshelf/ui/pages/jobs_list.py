"""The list of jobs: which, whose, what each waits for, how far it is."""

from collections.abc import Sequence
from datetime import date

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QStackedLayout, QWidget

from tubeshelf.domain.dates import format_date
from tubeshelf.services.views.bench import JobHead
from tubeshelf.ui.models.cells import NOTHING, Cell, Column, RowsModel
from tubeshelf.ui.parts.empty import Empty
from tubeshelf.ui.parts.sheet import Counts, Sheet
from tubeshelf.ui.parts.tableview import Table

FIRST_JOB = (
    "A job is one visit to the bench: take one in with its equipment and its sockets, and it stands here "
    "with what it waits for."
)
NONE_OPEN = "No job is open. Take one in, or show all jobs to see the finished ones."
NONE_FOUND = "No job has all the words typed above. Look among all jobs, or type fewer words."


class JobList(Sheet):
    """``picked`` carries the JobHead in hand or None, ``opened`` that to work on; ``new_wanted`` nothing."""

    picked = Signal(object)
    opened = Signal(object)
    new_wanted = Signal()

    def __init__(self) -> None:
        super().__init__(flush=True)
        self._today: date | None = None
        self.model = RowsModel[JobHead](self._columns(), key=lambda job: job.id, parent=self)
        self.table = Table("Jobs")
        self.table.set_rows_model(self.model, self.model.columns)
        self.table.row_changed.connect(self.picked)
        self.table.opened.connect(self.opened)
        self.empty = Empty(FIRST_JOB, "New job", icon="jobs")
        self.empty.asked.connect(self.new_wanted)
        whole = QWidget()
        self._stack = QStackedLayout(whole)
        self._stack.addWidget(self.table)
        self._stack.addWidget(self.empty)
        self.body.addWidget(whole, 1)
        self.counts = Counts()
        self.foot().addWidget(self.counts, 1)

    def show_jobs(self, jobs: Sequence[JobHead], today: date, nothing: str) -> None:
        """Show these; ``nothing`` is what an empty list says."""
        self._today = today
        self.model.replace(jobs)
        self.empty.say(nothing)
        self._stack.setCurrentIndex(0 if jobs else 1)
        self.counts.show_counts(*_counts(jobs))
        if jobs and not self.table.currentIndex().isValid():
            self.table.setCurrentIndex(self.model.index(0, 0))
        if not jobs:
            self.picked.emit(None)

    def in_hand(self) -> JobHead | None:
        """The job in hand."""
        job = self.table.in_hand()
        return job if isinstance(job, JobHead) and self._stack.currentIndex() == 0 else None

    def _columns(self) -> tuple[Column[JobHead], ...]:
        return (
            Column("Job", 64, self._number, sort=lambda job: job.number),
            Column("Equipment", 150, _equipment, stretch=True, sort=lambda job: job.title.casefold()),
            Column("Waits for", 120, _waits, stretch=True, sort=lambda job: job.waits_for),
            Column("Read", 52, _read, align="right", tip="Sockets read, of all"),
            Column("Replace", 60, _replace, align="right", tip="Tubes to be replaced"),
            Column("Power", 112, _harm, tip="Whether something forbids to power the set"),
        )

    def _number(self, job: JobHead) -> Cell:
        return Cell(str(job.number), _promised(job, self._today), bold=True, tip=_spoken(job))


def _promised(job: JobHead, today: date | None) -> str:
    if job.promised_on is None or job.closed:
        return ""
    late = today is not None and job.promised_on < today
    return f"late, {format_date(job.promised_on)}" if late else format_date(job.promised_on)


def _spoken(job: JobHead) -> str:
    promised = f", promised for {format_date(job.promised_on)}" if job.promised_on is not None else ""
    return f"Job {job.number}{promised}"


def _equipment(job: JobHead) -> Cell:
    return Cell(job.title, job.customer)


def _waits(job: JobHead) -> Cell:
    return Cell(job.waits_for, str(job.status)) if job.waits_for else Cell(str(job.status), tone="soft")


def _read(job: JobHead) -> Cell:
    words = f"{job.read} of {job.sockets} sockets read"
    return Cell(f"{job.read}/{job.sockets}", align="right", tip=words) if job.sockets else NOTHING


def _replace(job: JobHead) -> Cell:
    words = f"{job.to_replace} to replace"
    return Cell(str(job.to_replace), align="right", bold=job.to_replace > 0, tip=words)


def _harm(job: JobHead) -> Cell:
    if not job.harm:
        return Cell("")
    return Cell("Do not", mark="warning", tone="reject", bold=True, tip="Do not power")


def _counts(jobs: Sequence[JobHead]) -> list[tuple[int, str]]:
    """Open jobs, and what those wait for most."""
    waiting = [job.waits_for for job in jobs if not job.closed]
    counts = [(len(waiting), "open")]
    for words, shown in (("readings", "wait for readings"), ("a decision", "for a decision")):
        if number := waiting.count(words):
            counts.append((number, shown))
    if on_order := sum(words.endswith(" to order") for words in waiting):
        counts.append((on_order, "for tubes"))
    if closed := len(jobs) - len(waiting):
        counts.append((closed, "closed"))
    return counts
