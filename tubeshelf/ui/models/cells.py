"""What a table shows: cells as plain values, and one item model over rows of anything."""

from collections.abc import Callable, Hashable, Sequence
from dataclasses import dataclass
from html import escape
from typing import Any, Generic, Literal, TypeVar

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, QPersistentModelIndex, Qt

Index = QModelIndex | QPersistentModelIndex
Role = Qt.ItemDataRole
CellRole = int(Role.UserRole) + 1
"""The role under which a model gives its whole ``Cell``."""

R = TypeVar("R")


@dataclass(frozen=True, slots=True)
class Cell:
    """One cell. ``mark`` names an icon, ``tone`` a colour of the palette; ``sub`` is a soft second line.

    ``big`` is for readings: larger, in tabular figures; ``small`` for what is only said in passing.
    ``mark_tone`` colours the mark where it is not to be that of the text. ``tip`` is the tooltip and the
    accessible text where those must say more than text and sub do.
    """

    text: str
    sub: str = ""
    mark: str = ""
    tone: str = ""
    align: Literal["left", "right", "centre"] = "left"
    bold: bool = False
    big: bool = False
    small: bool = False
    mark_tone: str = ""
    tip: str = ""

    @property
    def spoken(self) -> str:
        """All that the cell says, in one line of plain text."""
        return self.tip or ", ".join(part for part in (self.text, self.sub) if part)


NOTHING = Cell("–", tone="soft")
"""For a cell that has nothing to say."""


@dataclass(frozen=True)  # without slots, so that it can be called as Column[Row](…)
class Column(Generic[R]):
    """A column: its title, least width in logical pixels, and how a row becomes a cell.

    A column of figures, aligned right, always gets what it needs, and so does one to ``keep``; where
    room is scarce the others are cut down towards ``width``. ``stretch`` columns share the room that is
    left; ``sort`` gives the key to sort by, if it can be.
    """

    title: str
    width: int
    cell: Callable[[R], Cell]
    stretch: bool = False
    sort: Callable[[R], Any] | None = None
    align: Literal["left", "right"] = "left"
    tip: str = ""
    keep: bool = False


class RowsModel(QAbstractTableModel, Generic[R]):
    """Rows of frozen values. ``key`` tells the same row again after a reload."""

    def __init__(
        self, columns: Sequence[Column[R]], key: Callable[[R], Hashable], parent: QObject | None = None
    ) -> None:
        super().__init__(parent)
        self.columns = tuple(columns)
        self._key = key
        self._rows: list[R] = []
        self._sorted: tuple[int, Qt.SortOrder] | None = None

    @property
    def rows(self) -> tuple[R, ...]:
        """The rows as they stand in the table."""
        return tuple(self._rows)

    def replace(self, rows: Sequence[R]) -> None:
        """Show other rows. If they are the same things in the same order, only cells are repainted."""
        rows = self._in_order(list(rows))
        if rows and [self._key(r) for r in rows] == [self._key(r) for r in self._rows]:
            self._rows = rows
            self.dataChanged.emit(self.index(0, 0), self.index(len(rows) - 1, len(self.columns) - 1))
            return
        self.beginResetModel()
        self._rows = rows
        self.endResetModel()

    def cell(self, row: int, column: int) -> Cell:
        """The cell at a place of the table."""
        return self.columns[column].cell(self._rows[row])

    def row_at(self, index: Index) -> R | None:
        """The row value an index stands on."""
        return self._rows[index.row()] if index.isValid() and index.row() < len(self._rows) else None

    def key_at(self, row: int) -> Hashable | None:
        """The key of the row at this position, if there is one."""
        return self._key(self._rows[row]) if 0 <= row < len(self._rows) else None

    def row_of(self, key: Hashable) -> int | None:
        """Where the row with this key stands now."""
        return next((i for i, row in enumerate(self._rows) if self._key(row) == key), None)

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's signature
        """Rows under the root."""
        return 0 if parent.isValid() else len(self._rows)

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's signature
        """Columns under the root."""
        return 0 if parent.isValid() else len(self.columns)

    def data(self, index: Index, role: int = Role.DisplayRole) -> object:
        """The cell under ``CellRole``; its words under the usual roles."""
        if self.row_at(index) is None:
            return None
        return cell_data(self.cell(index.row(), index.column()), role)

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = Role.DisplayRole) -> object:
        """Column titles, aligned as their cells."""
        if orientation is not Qt.Orientation.Horizontal or not 0 <= section < len(self.columns):
            return None
        column = self.columns[section]
        if role in (Role.DisplayRole, Role.AccessibleTextRole):
            return column.title
        if role == Role.TextAlignmentRole:
            side = Qt.AlignmentFlag.AlignRight if column.align == "right" else Qt.AlignmentFlag.AlignLeft
            return side | Qt.AlignmentFlag.AlignVCenter
        if role == Role.ToolTipRole and column.tip:
            return escape(column.tip)
        return None

    def sort(self, column: int, order: Qt.SortOrder = Qt.SortOrder.AscendingOrder) -> None:
        """Sort by a column that has a sort key, and stay sorted when rows are replaced; -1 ends it."""
        sortable = 0 <= column < len(self.columns) and self.columns[column].sort is not None
        self._sorted = (column, order) if sortable else None
        if self._sorted is None:
            return
        self.layoutAboutToBeChanged.emit()
        held = [(index, self.key_at(index.row())) for index in self.persistentIndexList()]
        self._rows = self._in_order(self._rows)
        places = {self._key(row): i for i, row in enumerate(self._rows)}
        for index, key in held:
            if key is not None:
                self.changePersistentIndex(index, self.index(places[key], index.column()))
        self.layoutChanged.emit()

    def _in_order(self, rows: list[R]) -> list[R]:
        if self._sorted is None:
            return rows
        column, order = self._sorted
        by = self.columns[column].sort
        return rows if by is None else sorted(rows, key=by, reverse=order is Qt.SortOrder.DescendingOrder)


def cell_data(cell: Cell, role: int) -> object:
    """What a model answers for a cell: for models that do not hold their rows in a list."""
    if role == CellRole:
        return cell
    if role == Role.DisplayRole:
        return cell.text
    if role == Role.AccessibleTextRole:
        return cell.spoken
    if role == Role.ToolTipRole:
        return escape(cell.spoken)
    return None
