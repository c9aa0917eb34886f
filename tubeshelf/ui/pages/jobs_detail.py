"""The detail of a job: whose and what, how it stands, what it comes to, what was here before."""

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QVBoxLayout, QWidget

from tubeshelf.domain.dates import format_date
from tubeshelf.domain.jobs import JobStatus
from tubeshelf.services.views.aside import Whereabouts
from tubeshelf.services.views.bench import JobHead, JobView
from tubeshelf.ui import tokens
from tubeshelf.ui.pages.jobs_estimate import EstimateLines
from tubeshelf.ui.parts.banner import Banner
from tubeshelf.ui.parts.buttons import Act, Link
from tubeshelf.ui.parts.facts import Facts
from tubeshelf.ui.parts.flow import FlowLayout
from tubeshelf.ui.parts.form import Choice
from tubeshelf.ui.parts.measured import MeasuredPart
from tubeshelf.ui.parts.sheet import Sheet, clear, section
from tubeshelf.ui.parts.text import label

ACTS = {
    "edit": ("Edit", "F2"),
    "sockets": ("Sockets", "F3"),
    "facts": ("Facts", "F5"),
    "circuits": ("Circuits", "F6"),
    "heaters": ("Heater loads", "F9"),
    "set_fields": ("What is measured", "F12"),
    "estimate": ("Answer, approval", "F4"),
    "estimate_paper": ("Print estimate", "Ctrl+E"),
    "comeback": ("Comeback", "F10"),
    "today": ("Today's limits", "Ctrl+L"),
    "retube": ("Retube list", ""),
    "statement": ("Statement", "Ctrl+T"),
    "picture": ("Picture", "F7"),
    "tag": ("Chassis tag", "Ctrl+Shift+A"),
}
"""What else can be done with a job: words and key (Ctrl P, for the retube list, is the window's)."""


class JobDetail(Sheet):
    """``asked`` carries the name of one of ``ACTS``, ``bench_wanted`` nothing, ``status_chosen`` a JobStatus,
    ``past_wanted`` the id of an earlier job."""

    asked = Signal(str)
    bench_wanted = Signal()
    status_chosen = Signal(object)
    past_wanted = Signal(int)

    def __init__(self) -> None:
        super().__init__("–", scrolls=True)
        self.facts_line = label("", "soft", wrap=True)
        self.banner = Banner(link="")
        self.status = Choice([(str(s).capitalize(), s) for s in JobStatus], name="Status")
        # Qt hands back a plain text where a StrEnum was put in.
        self.status.activated.connect(lambda: self.status_chosen.emit(JobStatus(self.status.currentData())))
        self.waits = label("", wrap=True)
        self.facts = Facts(4)
        self.empty_sockets = label("", wrap=True)
        self._texts = QVBoxLayout()
        self.estimate, self.measured = EstimateLines(), MeasuredPart()
        self._past = QVBoxLayout()
        self._acts: dict[str, Act] = {}
        self._compose()

    def show_job(
        self, job: JobView, contact: str, past: Sequence[JobHead], currency: str, cover: str = ""
    ) -> None:
        """Show a job with its customer's contact, the other jobs of its unit, and its cover if decided."""
        self.set_title(f"Job {job.number} · {job.title}")
        serial = f"serial {job.serial}" if job.serial else ""
        whose = " · ".join(part for part in (job.customer, serial) if part)
        self.facts_line.setText("\n".join(part for part in (whose, contact.strip()) if part))
        self.banner.tell_harm(job.harm)
        self.status.choose(job.status)
        self.waits.setText(f"waits for {job.waits_for}" if job.waits_for else "")
        self.facts.show_facts(_facts(job))
        self._show_texts(job, cover)
        self.estimate.show_estimate(job, currency)
        others = [head for head in past if head.id != job.id]
        self._show_past(others)
        for of_model in ("circuits", "set_fields"):
            self._acts[of_model].setEnabled(job.model_id is not None)
        self._acts["facts"].setEnabled(bool(job.sockets))
        self._acts["comeback"].setEnabled(bool(others) or job.closed_on is not None)

    def show_where(self, here: Whereabouts) -> None:
        """Show which sockets of the job stand empty, and why, where that was said."""
        why = f" Put aside: {here.why}." if here.why else ""
        self.empty_sockets.setText(f"{here.text}.{why}" if here.text else "")
        self.empty_sockets.setVisible(bool(here.text))

    def _show_texts(self, job: JobView, cover: str) -> None:
        clear(self._texts)
        comeback = ""
        if job.comeback_of is not None:
            comeback = f"Job {job.comeback_of}. {job.comeback_note}".strip()
        for name, text in (
            ("Complaint", job.complaint),
            ("Wanted", job.scope),
            ("Notes at intake", job.intake),
            ("Comeback of", comeback),
            ("Cover", cover),
        ):
            if text:
                self._texts.addWidget(section(name))
                self._texts.addWidget(label(text, wrap=True))

    def _show_past(self, others: Sequence[JobHead]) -> None:
        clear(self._past)
        for head in others:
            link = Link(f"Job {head.number}, {format_date(head.received_on)}")
            link.clicked.connect(lambda _=False, job_id=head.id: self.past_wanted.emit(job_id))
            line = QWidget()
            row = QHBoxLayout(line)
            row.setContentsMargins(0, 0, 0, 0)
            row.addWidget(link)
            row.addWidget(label(head.complaint or str(head.status), "soft", wrap=True), 1)
            self._past.addWidget(line)

    def _compose(self) -> None:
        self.body.addWidget(self.facts_line)
        self.body.addWidget(self.banner)
        name = QLabel("Stat&us")
        name.setBuddy(self.status)
        line = QHBoxLayout()
        line.setSpacing(tokens.GAP)
        for widget in (name, self.status):
            line.addWidget(widget)
        line.addWidget(self.waits, 1)
        self.body.addLayout(line)
        self.body.addWidget(self.empty_sockets)
        self.body.addWidget(self.facts)
        for column in (self._texts, self._past):
            column.setSpacing(4)
        self.body.addWidget(self._headed("Intake", "edit", "sockets", "facts"))
        self.body.addLayout(self._texts)
        self.body.addWidget(self._headed("Heaters", "circuits", "heaters"))
        self.body.addWidget(self._headed("Measured in the set", "set_fields"))
        self.body.addWidget(self.measured)
        self.body.addWidget(self._headed("Estimate", "estimate", "estimate_paper", "today"))
        self.body.addWidget(self.estimate)
        self.body.addWidget(self._headed("This unit before", "comeback"))
        self.body.addLayout(self._past)
        self.body.addStretch(1)
        self.bench = Act("Open on bench", primary=True, shown="Enter")
        self.bench.clicked.connect(self.bench_wanted)
        papers = QWidget()
        flow = FlowLayout(papers)
        for act in ("retube", "statement", "picture", "tag"):
            flow.addWidget(self._act(act))
        foot = QVBoxLayout()
        foot.setSpacing(8)
        foot.addWidget(papers)
        foot.addWidget(self.bench, 0, Qt.AlignmentFlag.AlignRight)
        self.foot().addLayout(foot, 1)

    def _headed(self, words: str, *acts: str) -> QWidget:
        """The heading of a part with what can be done about it, in as many lines as that needs."""
        part = QWidget()
        column = QVBoxLayout(part)
        column.setContentsMargins(0, 4, 0, 0)
        column.setSpacing(4)
        column.addWidget(section(words))
        buttons = QWidget()
        flow = FlowLayout(buttons)
        for name in acts:
            flow.addWidget(self._act(name))
        column.addWidget(buttons)
        return part

    def _act(self, name: str) -> Act:
        words, key = ACTS[name]
        act = Act(words, key, shown="" if key else "Ctrl P")
        act.clicked.connect(lambda: self.asked.emit(name))
        self._acts[name] = act
        return act


def _facts(job: JobView) -> list[tuple[str, str]]:
    promised = format_date(job.promised_on) if job.promised_on is not None else ""
    closed = [("closed", format_date(job.closed_on))] if job.closed_on is not None else []
    return [
        ("received", format_date(job.received_on)),
        *(closed or [("promised for", promised)]),
        ("sockets", str(len(job.sockets))),
        ("to replace", str(job.to_replace)),
    ]
