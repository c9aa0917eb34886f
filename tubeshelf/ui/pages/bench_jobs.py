"""No job on the bench: the open jobs to pick from."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QStackedWidget, QVBoxLayout, QWidget

from tubeshelf.domain.dates import format_date
from tubeshelf.services.views.bench import JobHead
from tubeshelf.ui.models.cells import NOTHING, Cell, Column, RowsModel
from tubeshelf.ui.parts.buttons import Act
from tubeshelf.ui.parts.empty import Empty
from tubeshelf.ui.parts.sheet import Counts, Sheet
from tubeshelf.ui.parts.tableview import Table


class JobPicker(QWidget):
    """The open jobs; ``picked`` carries the id of one, ``new_wanted`` asks for a new one."""

    picked = Signal(int)
    new_wanted = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.table = Table("Open jobs")
        self.model = RowsModel[JobHead](_COLUMNS, key=lambda head: head.id, parent=self)
        self.table.set_rows_model(self.model, self.model.columns)
        self.table.opened.connect(self._open)
        self._empty = Empty(
            "No job is open. A job is a visit of one set, or a box of loose tubes, to the bench.",
            "New job",
            "Ctrl+N",
            icon="bench",
        )
        self._empty.act.clicked.connect(self.new_wanted)
        self._counts = Counts()
        new = Act("New job", "Ctrl+N")
        new.clicked.connect(self.new_wanted)
        take = Act("Open job", shown="Enter", primary=True)
        take.clicked.connect(lambda: self._open(self.table.in_hand()))
        sheet = Sheet(flush=True)
        sheet.body.addWidget(self.table)
        foot = sheet.foot()
        foot.addWidget(self._counts, 1)
        foot.addWidget(new)
        foot.addWidget(take)
        self._stack = QStackedWidget()
        self._stack.addWidget(sheet)
        self._stack.addWidget(self._empty)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self._stack)

    def show_jobs(self, heads: tuple[JobHead, ...]) -> None:
        """Show these jobs, the first one in hand."""
        self.model.replace(heads)
        self._counts.show_counts((len(heads), "open jobs" if len(heads) != 1 else "open job"))
        self._stack.setCurrentIndex(0 if heads else 1)
        if heads and not self.table.currentIndex().isValid():
            self.table.setCurrentIndex(self.model.index(0, 0))
        self.setFocusProxy(self.table if heads else self._empty.act)

    def _open(self, head: object) -> None:
        if isinstance(head, JobHead):
            self.picked.emit(head.id)


def _promised(head: JobHead) -> Cell:
    return Cell(format_date(head.promised_on)) if head.promised_on else NOTHING


_COLUMNS: tuple[Column[JobHead], ...] = (
    Column("Job", 56, lambda head: Cell(str(head.number), bold=True), keep=True),
    Column("Equipment", 180, lambda head: Cell(head.title, head.customer, bold=True), stretch=True),
    Column("Complaint", 140, lambda head: Cell(head.complaint or "–"), stretch=True),
    Column("Waits for", 120, lambda head: Cell(head.waits_for)),
    Column("Read", 64, lambda head: Cell(f"{head.read} of {head.sockets}")),
    Column("Promised for", 84, _promised),
)
