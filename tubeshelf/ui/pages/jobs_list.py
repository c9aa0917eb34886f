"""The list of jobs: which, whose, what each waits for, how far it is."""

from collections.abc import Callable, Sequence
from datetime import date

from tubeshelf.domain.dates import format_date
from tubeshelf.services.views.bench import JobHead
from tubeshelf.ui.models.cells import NOTHING, Cell, Column
from tubeshelf.ui.parts.listsheet import ListSheet

FIRST_JOB = (
    "A job is one visit to the bench: take one in with its equipment and its sockets, and it stands here "
    "with what it waits for."
)
NONE_OPEN = "No job is open. Take one in, or show all jobs to see the finished ones."
NONE_FOUND = "No job has all the words typed above. Look among all jobs, or type fewer words."


class JobList(ListSheet[JobHead]):
    """The jobs; ``opened`` carries that to work on."""

    def __init__(self) -> None:
        columns = _columns(lambda: self._today)
        super().__init__("Jobs", columns, lambda job: job.id, nothing=FIRST_JOB, new="New job", icon="jobs")
        self._today: date | None = None
        self.counts = self.with_counts()

    def show_jobs(self, jobs: Sequence[JobHead], today: date, nothing: str) -> None:
        """Show these; ``nothing`` is what an empty list says."""
        self._today = today
        self.empty.say(nothing)
        self.counts.show_counts(*_counts(jobs))
        self.show_rows(jobs)


def _columns(today: Callable[[], date | None]) -> tuple[Column[JobHead], ...]:
    def number(job: JobHead) -> Cell:
        return Cell(str(job.number), _promised(job, today()), bold=True, tip=_spoken(job))

    return (
        Column("Job", 106, number, sort=lambda job: job.number),
        Column("Equipment", 150, _equipment, stretch=True, sort=lambda job: job.title.casefold()),
        Column("Waits for", 156, _waits, stretch=True, sort=lambda job: job.waits_for),
        Column("Read", 52, _read, align="right", tip="Sockets read, of all"),
        Column("Replace", 60, _replace, align="right", tip="Tubes to be replaced"),
        Column("Power", 112, _harm, tip="Whether something forbids to power the set"),
    )


def _promised(job: JobHead, today: date | None) -> str:
    if job.promised_on is None or job.closed:
        return ""
    on = format_date(job.promised_on)
    if today is None or job.promised_on >= today:
        return on
    return f"late, {on.removesuffix(str(today.year)).strip()}"


def _spoken(job: JobHead) -> str:
    promised = f", promised for {format_date(job.promised_on)}" if job.promised_on is not None else ""
    return f"Job {job.number}{promised}"


def _equipment(job: JobHead) -> Cell:
    return Cell(job.title, job.customer)


def _waits(job: JobHead) -> Cell:
    status = str(job.status)
    if not job.waits_for:
        return Cell(status, tone="soft")
    return Cell(
        job.waits_for, "" if status.endswith(job.waits_for) else status, tip=f"{job.waits_for}, {status}"
    )


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
