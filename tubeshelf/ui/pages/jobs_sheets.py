"""The right half of the Jobs page: the detail of the job in hand, and the sheets that change it."""

from collections.abc import Callable, Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QStackedWidget, QWidget

from tubeshelf.domain.errors import UserError
from tubeshelf.services.aside import where_tubes_are
from tubeshelf.services.cover import cover_of, cover_text
from tubeshelf.services.intake import contact_of
from tubeshelf.services.jobs import open_job, past_jobs
from tubeshelf.services.set_values import measured_in
from tubeshelf.services.shop import Shop
from tubeshelf.services.views.bench import JobHead, JobView
from tubeshelf.ui.pages.jobs_approval import ApprovalSheet
from tubeshelf.ui.pages.jobs_circuits import CircuitsSheet
from tubeshelf.ui.pages.jobs_comeback import ComebackSheet
from tubeshelf.ui.pages.jobs_detail import JobDetail
from tubeshelf.ui.pages.jobs_edit import EditSheet, SocketsSheet
from tubeshelf.ui.pages.jobs_heaters import HeatersSheet
from tubeshelf.ui.pages.jobs_set_fields import SetFieldsSheet
from tubeshelf.ui.pages.jobs_socket_facts import FactsSheet
from tubeshelf.ui.pages.jobs_today import TodaySheet
from tubeshelf.ui.parts.empty import Empty
from tubeshelf.ui.parts.entrysheet import EntrySheet
from tubeshelf.ui.parts.sheet import Sheet
from tubeshelf.ui.runner import Runner

_NOTHING = "The job in hand shows here: whose it is, what it waits for, what it comes to."


class JobSheets(QStackedWidget):
    """Shows one job. ``wrote`` carries the Changes of what was entered, ``back`` that a sheet was left.

    ``asked`` carries the name of something else that can be done with the job, such as a paper.
    """

    wrote = Signal(object)
    back = Signal()
    asked = Signal(str)

    def __init__(self, shop: Shop, runner: Runner) -> None:
        super().__init__()
        self._shop = shop
        self.job: JobView | None = None
        self.past: Sequence[JobHead] = ()
        self._contact = ""
        self.detail = JobDetail()
        self.edit, self.sockets = EditSheet(shop), SocketsSheet(shop)
        self.approval, self.circuits = ApprovalSheet(shop), CircuitsSheet(shop)
        self.facts, self.comeback = FactsSheet(shop), ComebackSheet(shop)
        self.heaters = HeatersSheet(shop)
        self.heaters.left.connect(self.show_detail)
        self.today = TodaySheet(shop, runner)
        self.today.left.connect(self.show_detail)
        self.today.wrote.connect(self.wrote)
        self._nothing = Sheet()
        self._nothing.body.addWidget(Empty(_NOTHING), 1)
        for shown in (self._nothing, self.detail, self.heaters, self.today):
            self.addWidget(shown)
        for entry in (self.edit, self.sockets, self.facts, self.approval, self.circuits, self.comeback):
            self.addWidget(entry)
            entry.left.connect(self.show_detail)
        for sheet in (self.edit, self.sockets, self.facts, self.circuits):
            sheet.saved.connect(self._saved)
        self.set_fields = SetFieldsSheet(shop)
        self.addWidget(self.set_fields)
        self.set_fields.left.connect(self.show_detail)
        self.set_fields.saved.connect(self._saved)
        self.approval.approved.connect(self._saved)
        self.approval.changed.connect(self.wrote)
        self.comeback.decided.connect(self._saved)
        self.comeback.changed.connect(self.wrote)
        self.approval.paper_wanted.connect(lambda: self.asked.emit("estimate_paper"))

    @property
    def entry(self) -> EntrySheet | None:
        """The sheet that is being filled in, if one is."""
        sheet = self.currentWidget()
        return sheet if isinstance(sheet, EntrySheet) else None

    def keys(self) -> Sequence[tuple[str, str]]:
        """What works on the sheet on show, beside saving and leaving."""
        if self.currentWidget() is self.approval:
            signs = (("A +", "agreed"), ("D −", "declined"), ("R *", "ask again"))
            return (*signs, ("F6", "agreed to all"), ("Ctrl E", "print estimate"))
        if self.currentWidget() is self.comeback:
            return (("Enter", "tag read"), ("Y +", "same tube"), ("N −", "another"), ("C *", "can’t tell"))
        return ()

    def show_job(self, job_id: int | None) -> None:
        """Show another job, or the same one as it is now: then a sheet being filled in stays."""
        same = self.job is not None and self.job.id == job_id
        self.job = None if job_id is None else open_job(self._shop, job_id=job_id)
        if self.job is None:
            self.setCurrentWidget(self._nothing)
            return
        unit = self.job.equipment_id
        self.past = () if unit is None else past_jobs(self._shop, equipment_id=unit)
        self._contact = contact_of(self._shop, customer_id=self.job.customer_id)
        self.detail.show_job(
            self.job,
            self._contact,
            self.past,
            self._shop.settings.currency,
            cover_text(cover_of(self._shop, job_id=self.job.id)),
        )
        self.detail.show_where(where_tubes_are(self._shop, job_id=self.job.id))
        self.detail.measured.show_set(measured_in(self._shop, job_id=self.job.id))
        if same and self.currentWidget() is self.approval:
            self.approval.refresh(self.job)
        elif same and self.currentWidget() is self.comeback:
            self.comeback.refresh(self.job.id)
        elif same and self.currentWidget() is self.heaters:
            self.heaters.show_job(self.job.id)
        elif same and self.currentWidget() is self.today:
            self.today.refresh()
        elif not (same and self.entry is not None):
            self.setCurrentWidget(self.detail)

    def begin(self, name: str) -> None:
        """Open one of the sheets on the job in hand; UserError if it has none of that."""
        if self.job is None:
            return
        match name:
            case "edit":
                self._open(self.edit, lambda job: self.edit.show_job(job, self.past, self._contact))
            case "sockets":
                self._open(self.sockets, self.sockets.show_job)
            case "facts":
                self._open(self.facts, self.facts.show_job)
            case "circuits":
                self._open(self.circuits, self.circuits.show_job)
            case "heaters":
                self._open(self.heaters, lambda job: self.heaters.show_job(job.id))
            case "today":
                self._open(self.today, lambda job: self.today.show_job(job.id, job.number))
            case "comeback":
                self._open(self.comeback, lambda job: self.comeback.show_job(job.id))
            case "set_fields":
                self._open(self.set_fields, self.set_fields.show_job)
            case "estimate":
                self._open(self.approval, self.approval.show_job)

    def ask_today(self) -> None:
        """Tell what today's limits say of all open jobs."""
        self.setCurrentWidget(self.today)
        self.today.show_all()

    def _open(self, sheet: QWidget, show: Callable[[JobView], None]) -> None:
        """Turn to a sheet and fill it, which may be refused; a field gets the keyboard only in sight."""
        assert self.job is not None
        before = self.currentWidget() or self.detail
        self.setCurrentWidget(sheet)
        try:
            show(self.job)
        except UserError:
            self.setCurrentWidget(before)
            raise

    def show_detail(self) -> None:
        """Leave a sheet."""
        self.setCurrentWidget(self._nothing if self.job is None else self.detail)
        self.back.emit()

    def _saved(self, changes: object) -> None:
        self.show_detail()
        self.wrote.emit(changes)
