"""The list of types: what each is, its heater, how many are on hand."""

from collections.abc import Sequence

from PySide6.QtCore import QEvent, QObject, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QStackedLayout, QWidget

from tubeshelf.services.views.types import TypeRow
from tubeshelf.ui.models.cells import NOTHING, Cell, Column, RowsModel
from tubeshelf.ui.pages.types_words import origin_word
from tubeshelf.ui.parts.empty import Empty
from tubeshelf.ui.parts.sheet import Counts, Sheet
from tubeshelf.ui.parts.tableview import Table

NONE_FOUND = (
    "No type has all the words typed above among its names, function or base. Type fewer, or add it as one "
    "of your own."
)


class TypeList(Sheet):
    """``picked`` carries the TypeRow in hand or None, ``opened`` that of Enter, ``digit`` a figure typed;
    ``new_wanted`` asks for the act of an empty list."""

    picked = Signal(object)
    opened = Signal(object)
    digit = Signal(str)
    new_wanted = Signal()

    def __init__(self) -> None:
        super().__init__(flush=True)
        self.model = RowsModel[TypeRow](_COLUMNS, key=lambda row: row.type_id, parent=self)
        self.table = Table("Types")
        self.table.set_rows_model(self.model, self.model.columns)
        self.table.row_changed.connect(self.picked)
        self.table.opened.connect(self.opened)
        self.table.installEventFilter(self)
        self.empty = Empty(NONE_FOUND, "New type", icon="types")
        self.empty.asked.connect(self.new_wanted)
        whole = QWidget()
        self._stack = QStackedLayout(whole)
        self._stack.addWidget(self.table)
        self._stack.addWidget(self.empty)
        self.body.addWidget(whole, 1)
        self.counts = Counts()
        self.foot().addWidget(self.counts, 1)

    def show_types(self, rows: Sequence[TypeRow], total: int) -> None:
        """Show these rows of so many types."""
        self.model.replace(rows)
        self._stack.setCurrentIndex(0 if rows else 1)
        kinds = sum(row.on_hand > 0 for row in rows)
        shown = (len(rows), f"of {total:,} types") if len(rows) < total else (total, "types")
        self.counts.show_counts(shown, (kinds, "of them on hand"))
        if rows and not self.table.currentIndex().isValid():
            self.table.setCurrentIndex(self.model.index(0, 0))
        self.table.scrollTo(self.table.currentIndex())
        if not rows:
            self.picked.emit(None)

    def in_hand(self) -> TypeRow | None:
        """The type in hand."""
        row = self.table.in_hand()
        return row if isinstance(row, TypeRow) and self._stack.currentIndex() == 0 else None

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """A figure typed on the list is the beginning of a designation: it goes to the search field."""
        if (
            watched is self.table
            and isinstance(event, QKeyEvent)
            and event.type() == QEvent.Type.KeyPress
            and event.text().isdigit()
        ):
            self.digit.emit(event.text())
            return True
        return super().eventFilter(watched, event)


def _name(row: TypeRow) -> Cell:
    return Cell(row.designation, ", ".join(row.equivalents), bold=True)


def _function(row: TypeRow) -> Cell:
    return Cell(row.function, row.base)


def _heater(row: TypeRow) -> Cell:
    first, _, rest = row.heater.partition(" or ")
    return Cell(first, f"or {rest}" if rest else "") if first else NOTHING


def _on_hand(row: TypeRow) -> Cell:
    words = f"{row.on_hand:,} on hand, {row.free:,} free"
    if not row.on_hand:
        return Cell("–", align="right", tone="soft", tip="none on hand")
    sub = "all free" if row.free == row.on_hand else f"{row.free:,} free"
    return Cell(f"{row.on_hand:,}", sub, align="right", bold=True, tip=words)


def _table(row: TypeRow) -> Cell:
    word = origin_word(row)
    return Cell(word, tone="soft" if row.retired else "accent", small=True)


_COLUMNS = (
    Column[TypeRow]("Type", 96, _name, stretch=True, sort=lambda r: r.designation),
    Column[TypeRow]("Function", 110, _function, stretch=True, sort=lambda r: (r.function, r.designation)),
    Column[TypeRow]("Heater", 96, _heater, sort=lambda r: r.heater),
    Column[TypeRow]("On hand", 72, _on_hand, align="right", sort=lambda r: r.on_hand),
    Column[TypeRow]("", 64, _table, keep=True, sort=origin_word, tip="Own, changed here, or retired"),
)
