"""The Jobs page: what is in the shop and what each job waits for; taking in, estimate, papers."""

from collections.abc import Callable, Sequence
from functools import partial

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QHBoxLayout, QStackedWidget, QVBoxLayout, QWidget

from tubeshelf.domain.jobs import JobStatus
from tubeshelf.services.changes import Changes, Kind
from tubeshelf.services.decide import set_status
from tubeshelf.services.jobs import list_jobs
from tubeshelf.services.shop import Shop
from tubeshelf.services.views.bench import JobHead
from tubeshelf.ui import tokens
from tubeshelf.ui.bridge import Bridge
from tubeshelf.ui.page import Page
from tubeshelf.ui.pages.jobs_detail import ACTS
from tubeshelf.ui.pages.jobs_intake import IntakeSheet
from tubeshelf.ui.pages.jobs_list import FIRST_JOB, NONE_FOUND, NONE_OPEN, JobList
from tubeshelf.ui.pages.jobs_sheets import JobSheets
from tubeshelf.ui.parts.aside import AsideQuestion
from tubeshelf.ui.parts.buttons import Act
from tubeshelf.ui.parts.form import Choice
from tubeshelf.ui.parts.search import SearchField
from tubeshelf.ui.parts.split import Split
from tubeshelf.ui.place import Place
from tubeshelf.ui.printing import Papers
from tubeshelf.ui.runner import Runner

_OPEN, _ALL = "open", "all"
_PUTS_ASIDE = (
    *(JobStatus.WAITING_CUSTOMER, JobStatus.WAITING_TUBES),
    *(JobStatus.FINISHED, JobStatus.HANDED_BACK),
)
"""With these a set leaves the bench: a socket that stands empty then is asked about."""


class JobsPage(Page):
    """``papers`` shows what is printed, in windows of its own."""

    name = "jobs"
    shows = frozenset({Kind.JOB, Kind.CUSTOMER, Kind.ITEM, Kind.TYPE, Kind.TESTER, Kind.SETTING, Kind.MODEL})

    def __init__(self, shop: Shop, bridge: Bridge, papers: Papers, runner: Runner | None = None) -> None:
        super().__init__()
        self._shop, self._bridge, self._papers = shop, bridge, papers
        self.search = SearchField("Find a number, customer, equipment, complaint", "Ctrl+K")
        self.which = Choice([("Open jobs", _OPEN), ("All jobs", _ALL)], name="Which jobs", frame=True)
        self.list = JobList()
        self.sheets = JobSheets(shop, runner or Runner(self))
        self.split = Split(self.list, self.sheets, shares=(3, 2))
        self.intake = IntakeSheet(shop)
        self.views = QStackedWidget()
        self.aside = AsideQuestion(shop, self, bridge.publish, papers.tag)
        self._compose()
        self._connect()

    def load(self) -> None:
        """Read the list, and the job in hand."""
        closed = False if self.which.currentData() == _OPEN else None
        jobs = list_jobs(self._shop, find=self.search.text(), closed=closed)
        self.list.show_jobs(jobs, self._shop.today, self._nothing(closed))
        self._say_title()
        if (job := self.list.in_hand()) is not None:
            self.sheets.show_job(job.id)

    def keys(self) -> Sequence[tuple[str, str]]:
        """What works now."""
        if self.views.currentWidget() is self.intake:
            return (("Ctrl Enter", "save and open"), ("Esc", "back to the list"))
        if self.sheets.entry is not None:
            return (*self.sheets.keys(), ("Ctrl Enter", "save"), ("Esc", "back"))
        if self.sheets.currentWidget() is self.sheets.heaters:
            return (("↓", "as planned, as designed"), ("Esc", "back"))
        if self.sheets.currentWidget() is self.sheets.today:
            may_judge = self.sheets.today.again.isVisibleTo(self.sheets.today)
            judge = (("Ctrl Enter", "judge again"),) if may_judge else ()
            return (*judge, ("Esc", "back"))
        if self.list.in_hand() is None:
            return (("Ctrl N", "new job"), ("Ctrl K", "search"))
        return (
            ("Enter", "open on bench"),
            ("Ctrl N", "new job"),
            ("Ctrl P", "retube list"),
            ("Ctrl O", "order list"),
            ("F2", "edit"),
            ("F3", "sockets"),
            ("F4", "estimate"),
            ("Ctrl E", "print estimate"),
            ("Ctrl L", "today's limits"),
            ("Ctrl T", "statement"),
            ("F10", "comeback"),
            ("F5", "facts of the sockets"),
            ("F6", "heater circuits"),
            ("F9", "heater loads"),
            ("F12", "measured in the set"),
            ("F7", "picture"),
            ("Ctrl Shift A", "chassis tag"),
            ("Ctrl K", "search"),
        )

    def first(self) -> QWidget:
        """The list."""
        return self.list.first

    def show_thing(self, kind: Kind, thing_id: int) -> None:
        """Bring a job into hand, wherever it is in the list."""
        if kind is not Kind.JOB:
            return
        self._show_list()
        if self.sheets.currentWidget() is self.sheets.today:
            self.sheets.show_detail()  # what was asked there may be of another job, or of all
        self.load()
        if not self.list.table.take_in_hand(thing_id):
            self._look_everywhere()
            self.list.table.take_in_hand(thing_id)
        self.split.show_detail()

    def print_out(self) -> None:
        """Ctrl P: the retube list of the job in hand."""
        self._ask("retube")

    def new_job(self) -> None:
        """Show the sheet for a new job; what was typed there before is still there."""
        self._turn_to(self.intake)
        self.intake.customer.setFocus()

    def _compose(self) -> None:
        orders = Act("Order list", "Ctrl+O", icon="print")
        orders.clicked.connect(lambda: self.attempt(self._papers.orders))
        new = Act("New job", "Ctrl+N", icon="add", primary=True)
        new.clicked.connect(self.new_job)
        self._choices = (self.which, orders, new)
        self.head.add(*self._choices)
        self.search.setProperty("role", "search")
        self.search.setMaximumWidth(520)
        line = QHBoxLayout()
        line.addWidget(self.search, 2)
        line.addStretch(1)
        limits = Act("Today's limits", "Ctrl+Shift+L")
        limits.setToolTip("What today's limits would say of all open jobs")
        limits.clicked.connect(self._ask_today)
        line.addWidget(limits)
        self.work = QWidget()
        column = QVBoxLayout(self.work)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(tokens.GAP)
        column.addLayout(line)
        column.addWidget(self.split, 1)
        self.views.addWidget(self.work)
        self.views.addWidget(self.intake)
        self.column.addWidget(self.views, 1)

    def _connect(self) -> None:
        self.search.paused.connect(lambda: self.attempt(self.load))
        self.search.returnPressed.connect(lambda: self._step_into_list())
        self.which.currentIndexChanged.connect(lambda: self.attempt(self.load))
        self.list.picked.connect(self._picked)
        self.list.opened.connect(self._open_on_bench)
        self.list.new_wanted.connect(self.new_job)
        self.sheets.detail.bench_wanted.connect(lambda: self._open_on_bench(self.list.in_hand()))
        self.sheets.detail.asked.connect(self._ask)
        self.sheets.detail.status_chosen.connect(self._set_status)
        self.sheets.detail.past_wanted.connect(lambda job_id: self.show_thing(Kind.JOB, job_id))
        self.sheets.asked.connect(self._ask)
        self.sheets.wrote.connect(self._bridge.publish)
        self.sheets.today.told.connect(lambda: self.keys_changed.emit())
        self.sheets.today.job_wanted.connect(self._ask_today_of)
        self.sheets.back.connect(self._back_to_list)
        self.sheets.currentChanged.connect(lambda: self.keys_changed.emit())
        self.intake.left.connect(self._show_list)
        self.intake.taken_in.connect(self._taken_in)
        down = QShortcut(QKeySequence(Qt.Key.Key_Down), self.search)
        down.setContext(Qt.ShortcutContext.WidgetShortcut)
        down.activated.connect(self._step_into_list)
        for name, (_, key) in ACTS.items():
            self._shortcut_in_list(name, key)

    def _shortcut_in_list(self, name: str, key: str) -> None:
        """Where the detail is folded away its buttons are hidden, and their keys with them."""
        if not key:
            return
        act = QShortcut(QKeySequence(key), self.list)
        act.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        act.setEnabled(False)
        act.activated.connect(lambda: self._ask(name))
        self.split.folded.connect(act.setEnabled)

    def _picked(self, job: object) -> None:
        self.attempt(lambda: self.sheets.show_job(job.id if isinstance(job, JobHead) else None))
        self.keys_changed.emit()

    def _open_on_bench(self, job: object) -> None:
        if isinstance(job, JobHead):
            self.go.emit(Place("bench", Kind.JOB, job.id))

    def _ask(self, name: str) -> None:
        job = self.list.in_hand()
        if job is None:
            self.notice.tell("Take a job in hand first.")
            return
        papers: dict[str, Callable[[int], QWidget]] = {
            "retube": self._papers.retube,
            "estimate_paper": self._papers.estimate,
            "statement": self._papers.statement,
            "picture": self._papers.picture,
            "tag": self._papers.tag,
        }
        if name in papers:
            self.attempt(lambda: papers[name](job.id))
        elif self.attempt(lambda: self.sheets.begin(name)):
            self.split.show_detail()

    def _ask_today(self) -> None:
        """What today's limits say of all open jobs, whatever job is in hand."""
        self.sheets.ask_today()
        self.split.show_detail()

    def _ask_today_of(self, job_id: int) -> None:
        self.show_thing(Kind.JOB, job_id)
        self._ask("today")

    def _set_status(self, status: JobStatus) -> None:
        job = self.list.in_hand()
        if job is not None and status is not job.status:
            change = partial(set_status, self._shop, job_id=job.id, status=status)
            write = partial(self._write, lambda: change()[1])
            if status in _PUTS_ASIDE:
                self.aside.first(self.aside.stands(job.id), write, self.load)
            else:
                write()

    def _write(self, act: Callable[[], Changes]) -> None:
        done: list[Changes] = []
        if self.attempt(lambda: done.append(act())):
            self._bridge.publish(done[0])

    def _taken_in(self, changes: Changes) -> None:
        self._show_list()
        self._bridge.publish(changes)
        job_id = next(thing_id for kind, thing_id in changes.things if kind is Kind.JOB)
        self.show_thing(Kind.JOB, job_id)
        self.go.emit(Place("bench", Kind.JOB, job_id))

    def _show_list(self) -> None:
        self._turn_to(self.work)
        self.list.first.setFocus()

    def _turn_to(self, view: QWidget) -> None:
        self.views.setCurrentWidget(view)
        for choice in self._choices:
            choice.setVisible(view is self.work)
        self._say_title()
        self.keys_changed.emit()

    def _back_to_list(self) -> None:
        self.split.show_list()
        self.list.first.setFocus()
        self.keys_changed.emit()

    def _step_into_list(self) -> None:
        self.attempt(self.load)
        self.list.first.setFocus()

    def _look_everywhere(self) -> None:
        for field in (self.search, self.which):
            field.blockSignals(True)
        self.search.clear()
        self.which.choose(_ALL)
        for field in (self.search, self.which):
            field.blockSignals(False)
        self.load()

    def _nothing(self, closed: bool | None) -> str:
        if self.search.text().strip():
            return NONE_FOUND
        return FIRST_JOB if closed is None else NONE_OPEN

    def _say_title(self) -> None:
        if self.views.currentWidget() is self.intake:
            self.head.show_title("New job", "what is typed here stays until it is saved")
            return
        jobs = self.list.model.rows
        shown = f"{len(jobs)} {'job' if len(jobs) == 1 else 'jobs'}" if jobs else ""
        harm = sum(job.harm for job in jobs)
        self.head.show_title("Jobs", shown, f"{harm} must not be powered" if harm else "")
