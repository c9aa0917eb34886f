"""What stands around the table of the bench: title and choices, banner, hint, counts, next step, caution."""

from itertools import pairwise

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from tubeshelf.domain.judging import Stage
from tubeshelf.services.views.bench import JobView
from tubeshelf.ui.pages.bench_left import left_text
from tubeshelf.ui.pages.bench_words import caution, hint, title_of
from tubeshelf.ui.parts.banner import Banner
from tubeshelf.ui.parts.buttons import Act, Link
from tubeshelf.ui.parts.form import Choice
from tubeshelf.ui.parts.head import TitleLine
from tubeshelf.ui.parts.sheet import Counts
from tubeshelf.ui.parts.text import label

_STAGES = (Stage.AS_FOUND, Stage.AS_LEFT)


class BenchFrame(QObject):
    """Fills the head of a page and makes the parts that go above, below and under the table.

    ``tester_chosen`` carries its id, ``stage_chosen`` a Stage, ``jobs_wanted`` asks for the list of jobs.
    """

    tester_chosen = Signal(int)
    stage_chosen = Signal(object)
    jobs_wanted = Signal()

    def __init__(self, head: TitleLine) -> None:
        super().__init__(head)
        self._head = head
        self._jobs = Act("Jobs", "Ctrl+O")
        self._stages = Choice([(str(stage), stage) for stage in _STAGES], name="Stage, Ctrl+L")
        self._testers = Choice(name="Tester, Ctrl+T")
        head.add(self._jobs, self._stages, self._testers)
        self.banner = Banner()
        self.facts = label("", "soft", wrap=True)
        self.hint = label("", "soft", wrap=True)
        self.add_tester = Link("Add a tester")
        self.caution = label("", "small", wrap=True)
        self.counts, self.left = Counts(), label("", wrap=True)
        self.out = Counts()
        self._out: tuple[tuple[int, str], ...] = ()
        self.chassis = Act("Chassis map", "Ctrl+M")
        self.picture = Act("Readings picture", "Ctrl+R")
        self.retube = Act("Retube list", shown="Ctrl P", primary=True)
        self._jobs.clicked.connect(self.jobs_wanted)
        self._testers.activated.connect(lambda: self.tester_chosen.emit(self._testers.currentData()))
        # Qt gives the words of a stage back, not the value that was put in.
        self._stages.activated.connect(lambda: self.stage_chosen.emit(Stage(self._stages.currentData())))
        self._told: tuple[str, ...] = ()
        self._narrow = False
        for part in (self.facts, self.hint, self.add_tester, self.caution):
            part.hide()

    def put_above(self, column: QVBoxLayout) -> None:
        """What stands between the title and the table."""
        for part in (self.facts, self.banner):
            column.addWidget(part)
        row = QHBoxLayout()
        row.addWidget(self.hint, 1)
        row.addWidget(self.add_tester)
        column.addLayout(row)

    def put_into_foot(self, foot: QHBoxLayout) -> None:
        """The counts and what can be done with the job as a whole."""
        counted = QVBoxLayout()
        counted.setSpacing(2)
        counted.addWidget(self.out)
        counted.addWidget(self.counts)
        counted.addWidget(self.left)
        self.out.hide()
        self.left.hide()
        foot.addLayout(counted, 1)
        foot.addWidget(self.chassis)
        foot.addWidget(self.picture)
        foot.addWidget(self.retube)

    def order_tabs(self) -> None:
        """After the next step Tab comes to the choices, since the page itself leads to its entry."""
        chain = (self.chassis, self.picture, self.retube, self._jobs, self._stages, self._testers)
        for one, following in pairwise(chain):
            QWidget.setTabOrder(one, following)

    def show_nothing(self) -> None:
        """No job is on the bench."""
        self._tell("Bench", "no job on it yet: pick one")
        for part in (self._testers, self._stages, self._jobs, self.hint, self.add_tester, self.caution):
            part.hide()
        self.banner.tell("")

    def show_job(self, job: JobView) -> None:
        """Show what identifies a job, how it is seen, and how it stands."""
        self._tell(*title_of(job))
        self._testers.offer([(f"{t.name}, {t.method}" if t.method else t.name, t.id) for t in job.testers])
        self._testers.choose(None if job.tester is None else job.tester.id)
        self._testers.setVisible(bool(job.testers))
        self._stages.choose(job.stage)
        self._stages.show()
        self._jobs.show()
        self.banner.tell_harm(job.harm)
        self.hint.setText(hint(job))
        self.hint.setVisible(bool(self.hint.text()))
        self.add_tester.setVisible(bool(job.sockets) and not job.testers)
        self.show_counts(job)
        self.caution.setText(caution(job))
        self.caution.show()

    def show_counts(self, job: JobView, unmeasured: int = 0) -> None:
        """Show what is left to do; as left, what the set waits for, with the values not ``unmeasured``."""
        as_left = job.stage is Stage.AS_LEFT
        self.counts.show_counts(
            (job.to_replace, "to replace"), (job.undecided, "undecided"), (job.not_on_hand, "not on hand")
        )
        self.left.setText(left_text(job, unmeasured) if as_left else "")
        self.counts.setVisible(not as_left)
        self.left.setVisible(as_left)

    def show_out(self, *counts: tuple[int, str]) -> None:
        """Show how many tubes are out and how many sockets stand empty; nothing where all are in."""
        if counts != self._out:
            self._out = counts
            self.out.show_counts(*counts)
            self.out.setAccessibleName(", ".join(f"{number} {words}" for number, words in counts))
        self.out.setVisible(bool(counts))

    def narrow(self, narrow: bool) -> None:
        """In a narrow window the facts of the title have a line of their own."""
        self._narrow = narrow
        self._tell(*self._told)

    def next_stage(self) -> None:
        """From as found to as left and back."""
        _next_of(self._stages)

    def next_tester(self) -> None:
        """The next of the shop's testers."""
        _next_of(self._testers)

    def _tell(self, *told: str) -> None:
        self._told = told
        title, facts = (told[0], told[1:]) if told else ("", ())
        self._head.show_title(title, *(() if self._narrow else facts))
        self.facts.setText(" · ".join(fact for fact in facts if fact))
        self.facts.setVisible(self._narrow and bool(self.facts.text()))


def _next_of(choice: Choice) -> None:
    if choice.count() > 1 and choice.isVisible():
        choice.setCurrentIndex((choice.currentIndex() + 1) % choice.count())
        choice.activated.emit(choice.currentIndex())
