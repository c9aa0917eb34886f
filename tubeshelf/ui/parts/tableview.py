"""The table of every page: tall quiet rows, the row in hand with an accent edge."""

from collections.abc import Hashable, Sequence
from typing import Any, Protocol, runtime_checkable

from PySide6.QtCore import (
    QAbstractItemModel,
    QItemSelectionModel,
    QModelIndex,
    QRect,
    QRectF,
    QSize,
    Qt,
    Signal,
)
from PySide6.QtGui import QKeyEvent, QPainter, QResizeEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHeaderView,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTableView,
    QWidget,
)

from tubeshelf.domain.palette import Palette
from tubeshelf.ui import tokens
from tubeshelf.ui.models.cells import Cell, CellRole, Column, Index, RowsModel
from tubeshelf.ui.parts.cellpaint import cell_width, colour_of, inner, inset, paint_cell, ring
from tubeshelf.ui.parts.header import Header, share_out

_MEASURED_ROWS = 60
_KEYPAD = Qt.KeyboardModifier.KeypadModifier


@runtime_checkable
class Keyed(Protocol):
    """A model that can find a row again after a reset."""

    def key_at(self, row: int) -> Hashable | None:
        """The key of a row."""

    def row_of(self, key: Hashable) -> int | None:
        """Where that key stands now."""


class CellDelegate(QStyledItemDelegate):
    """Paints a ``Cell``: mark, bold first line, soft second line; hairline below; ring on focus."""

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Paint one cell."""
        table = option.widget
        assert isinstance(table, Table)
        palette, rect = tokens.palette_now(), option.rect
        painter.save()
        self._ground(painter, table, rect, index, palette)
        cell = _cell(index)
        if cell is not None:
            paint_cell(painter, QRectF(inner(rect, index)), cell, palette, table.font())
        painter.restore()

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        """What the cell needs to show all it says."""
        cell = _cell(index)
        table = option.widget
        if cell is None or not isinstance(table, Table):
            return super().sizeHint(option, index)
        return QSize(cell_width(cell, table.font()) + inset(index), table.row_height)

    def _ground(self, painter: QPainter, table: "Table", rect: QRect, index: Index, palette: Palette) -> None:
        in_hand = index.row() == table.currentIndex().row()
        if in_hand or table.selectionModel().isRowSelected(index.row()):
            painter.fillRect(rect, colour_of(palette.selected))
        painter.setPen(colour_of(palette.line))
        painter.drawLine(rect.bottomLeft(), rect.bottomRight())
        if not in_hand:
            return
        first, last = table.visual_ends()
        if index.column() == first:
            painter.fillRect(
                QRect(rect.topLeft(), QSize(tokens.EDGE, rect.height())), colour_of(palette.accent)
            )
        if table.hasFocus() and (table.cell_focus is False or index == table.currentIndex()):
            ends = (True, True) if table.cell_focus else (index.column() == first, index.column() == last)
            ring(painter, rect, palette, *ends)


def _cell(index: Index) -> Cell | None:
    """The cell of an index: from our own model without the detour through Qt."""
    model = index.model()
    if isinstance(model, RowsModel):
        return model.cell(index.row(), index.column())
    cell = index.data(CellRole)
    return cell if isinstance(cell, Cell) else None


class Table(QTableView):
    """A list of things. ``row_changed`` carries the row in hand, ``opened`` that of Enter or double click.

    With ``cell_focus`` the ring stands on one cell and Left and Right walk along the row.
    """

    row_changed = Signal(object)
    opened = Signal(object)

    def __init__(
        self, name: str, *, compact: bool = False, cell_focus: bool = False, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.cell_focus = cell_focus
        self.row_height = tokens.COMPACT_ROW if compact else tokens.ROW
        self._columns: tuple[Column[Any], ...] = ()
        self._held: tuple[Hashable | None, int, int] = (None, 0, 0)
        self._wanted: dict[int, int] = {}
        self.setAccessibleName(name)
        self.setShowGrid(False)
        self.setWordWrap(False)
        self.setMouseTracking(False)
        self.setTabKeyNavigation(False)
        self.setFrameShape(QTableView.Shape.NoFrame)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setHorizontalHeader(Header(self))
        self.horizontalHeader().setHighlightSections(False)
        rows = self.verticalHeader()
        rows.hide()
        rows.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        rows.setDefaultSectionSize(self.row_height)
        self.setItemDelegate(CellDelegate(self))
        self.doubleClicked.connect(lambda index: self.opened.emit(self._value(index)))

    def set_rows_model(self, model: QAbstractItemModel, columns: Sequence[Column[Any]]) -> None:
        """Show a model whose columns are known; the row in hand survives its resets."""
        self.setModel(model)
        # Of its own, so that the titles are not painted again whenever another row comes into hand.
        self.horizontalHeader().setSelectionModel(QItemSelectionModel(model, self))
        self._columns = tuple(columns)
        sortable = any(column.sort for column in columns)
        self.horizontalHeader().setSectionsClickable(sortable)
        if sortable:
            self.horizontalHeader().setSortIndicatorClearable(True)
            self.horizontalHeader().setSortIndicator(-1, Qt.SortOrder.AscendingOrder)
            self.setSortingEnabled(True)
        model.modelAboutToBeReset.connect(self._hold)
        model.modelReset.connect(self._find_again)
        model.dataChanged.connect(self._repeat)
        self.allot()

    def in_hand(self) -> object:
        """The value of the row in hand, or None."""
        return self._value(self.currentIndex())

    def take_in_hand(self, key: Hashable, column: int | None = None) -> bool:
        """Make the row with this key the one in hand; False if it is not there."""
        model = self.model()
        row = model.row_of(key) if isinstance(model, Keyed) else None
        if row is None:
            return False
        at = max(self.currentIndex().column(), 0) if column is None else column
        self.setCurrentIndex(model.index(row, at))
        return True

    def visual_ends(self) -> tuple[int, int]:
        """The logical columns that stand first and last."""
        header = self.horizontalHeader()
        shown = [c for i in range(header.count()) if not self.isColumnHidden(c := header.logicalIndex(i))]
        return (shown[0], shown[-1]) if shown else (0, 0)

    def allot(self) -> None:
        """Give each column its room."""
        if not self._columns:
            return
        header = self.horizontalHeader()
        shown = [i for i in range(len(self._columns)) if not self.isColumnHidden(i)]
        wants = [max(self.sizeHintForColumn(i), header.sectionSizeHint(i)) for i in shown]
        self._wanted = dict(zip(shown, wants, strict=True))
        columns = [self._columns[i] for i in shown]
        room = self.viewport().width()
        scarce = sum(max(c.width, wanted) for c, wanted in zip(columns, wants, strict=True)) > room
        least = [
            max(c.width, self._needs(i))
            if c.keep or c.align == "right"
            else min(c.width, wanted)
            if scarce
            else c.width
            for i, c, wanted in zip(shown, columns, wants, strict=True)
        ]
        stretch = [column.stretch for column in columns]
        for i, width in zip(shown, share_out(least, wants, stretch, room), strict=True):
            header.resizeSection(i, width)

    def _needs(self, column: int) -> int:
        """What title and first lines of a column need; second lines give way where room is scarce."""
        model = self.model()
        indexes = [model.index(row, column) for row in range(min(model.rowCount(), _MEASURED_ROWS))]
        cells = [(index, _cell(index)) for index in indexes]
        needs = (
            cell_width(cell, self.font(), sub=False) + inset(index)
            for index, cell in cells
            if cell is not None
        )
        return max(self.horizontalHeader().sectionSizeHint(column), *needs, 0)

    def sizeHintForColumn(self, column: int) -> int:
        """What the first rows of a column need; long tables are not measured to their end."""
        model = self.model()
        option = QStyleOptionViewItem()
        self.initViewItemOption(option)
        delegate = self.itemDelegate()
        rows = range(min(model.rowCount(), _MEASURED_ROWS))
        return max((delegate.sizeHint(option, model.index(r, column)).width() for r in rows), default=0)

    def currentChanged(self, current: Index, previous: Index) -> None:
        """Repaint both rows whole, since edge and ground span them, and tell."""
        super().currentChanged(current, previous)
        for at in (previous, current):
            if at.isValid():
                self._repaint_row(at.row())
        if current.row() != previous.row() or not previous.isValid():
            self.row_changed.emit(self._value(current))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter opens; Left and Right do not wander over cells unless cells have the focus."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and not event.modifiers() & ~_KEYPAD:
            if self.currentIndex().isValid():
                self.opened.emit(self._value(self.currentIndex()))
            return
        if not self.cell_focus and event.key() in (Qt.Key.Key_Left, Qt.Key.Key_Right):
            event.ignore()
            return
        super().keyPressEvent(event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Share the room anew."""
        super().resizeEvent(event)
        self.allot()

    def _wider(self, row: int) -> bool:
        """Whether a cell of a row wants more room than any of its column did when room was shared."""
        indexes = [self.model().index(row, column) for column in self._wanted]
        cells = [(index, _cell(index)) for index in indexes]
        return any(
            cell is None or cell_width(cell, self.font()) + inset(index) > self._wanted[index.column()]
            for index, cell in cells
        )

    def _repaint_row(self, row: int) -> None:
        top, width = self.rowViewportPosition(row), self.viewport().width()
        self.viewport().update(QRect(0, top, width, self.rowHeight(row)))

    def _value(self, index: Index) -> object:
        model = self.model()
        return model.row_at(index) if model is not None and hasattr(model, "row_at") else None

    def _hold(self) -> None:
        at = self.currentIndex()
        model = self.model()
        key = model.key_at(at.row()) if isinstance(model, Keyed) and at.isValid() else None
        self._held = (key, at.row(), at.column())

    def _find_again(self) -> None:
        key, row, column = self._held
        self.allot()
        if key is None or self.take_in_hand(key, column):
            return
        if (count := self.model().rowCount()) > 0:
            self.setCurrentIndex(self.model().index(min(row, count - 1), column))
        else:
            self.row_changed.emit(None)

    def _repeat(self, first: QModelIndex, last: QModelIndex) -> None:
        if first.row() != last.row() or self._wider(first.row()):
            self.allot()
        if first.row() <= self.currentIndex().row() <= last.row():
            self.row_changed.emit(self.in_hand())
