"""The list of the shop's testers."""

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QStackedLayout, QWidget

from tubeshelf.services.views.types import TesterDetail
from tubeshelf.ui.models.cells import Cell, Column, RowsModel
from tubeshelf.ui.pages.testers_words import checked_words, repeat_words, scale_words
from tubeshelf.ui.parts.empty import Empty
from tubeshelf.ui.parts.sheet import Sheet
from tubeshelf.ui.parts.tableview import Table

NO_TESTER = (
    "No tester yet. Add the instruments of the bench with their scale, how well each repeats and its limits: "
    "only then can a reading be judged."
)


class TesterList(Sheet):
    """``picked`` carries the TesterDetail in hand or None, ``opened`` that of Enter."""

    picked = Signal(object)
    opened = Signal(object)
    new_wanted = Signal()

    def __init__(self) -> None:
        super().__init__(flush=True)
        self.model = RowsModel[TesterDetail](_COLUMNS, key=lambda tester: tester.id, parent=self)
        self.table = Table("Testers")
        self.table.set_rows_model(self.model, self.model.columns)
        self.table.row_changed.connect(self.picked)
        self.table.opened.connect(self.opened)
        self.empty = Empty(NO_TESTER, "New tester", icon="testers")
        self.empty.asked.connect(self.new_wanted)
        whole = QWidget()
        self._stack = QStackedLayout(whole)
        self._stack.addWidget(self.table)
        self._stack.addWidget(self.empty)
        self.body.addWidget(whole, 1)

    def show_testers(self, testers: Sequence[TesterDetail]) -> None:
        """Show these; those in use first."""
        self.model.replace(sorted(testers, key=lambda tester: tester.retired))
        self._stack.setCurrentIndex(0 if testers else 1)
        if testers and not self.table.currentIndex().isValid():
            self.table.setCurrentIndex(self.model.index(0, 0))
        if not testers:
            self.picked.emit(None)

    def in_hand(self) -> TesterDetail | None:
        """The tester in hand."""
        tester = self.table.in_hand()
        return tester if isinstance(tester, TesterDetail) and self._stack.currentIndex() == 0 else None


def _name(tester: TesterDetail) -> Cell:
    reads = ", ".join(part for part in (tester.method, tester.scale.unit) if part)
    said = f"{tester.name}, {reads}, scale {scale_words(tester)}, repeats {repeat_words(tester)}"
    if tester.retired:
        return Cell(tester.name, "retired", tone="soft", tip=f"{said}, retired")
    return Cell(tester.name, reads, bold=True, tip=said)


def _checked(tester: TesterDetail) -> Cell:
    lines = f"{tester.lines:,} {'line' if tester.lines == 1 else 'lines'}"
    return Cell(checked_words(tester), lines, tip=f"checked {checked_words(tester)}, {lines}")


_COLUMNS = (
    Column[TesterDetail]("Tester", 110, _name, stretch=True),
    Column[TesterDetail]("Last check", 92, _checked, keep=True),
)
