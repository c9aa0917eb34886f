"""The sheet at the left of a page: a table of rows, or the sentence that an empty one says, over a foot."""

from collections.abc import Callable, Hashable, Sequence
from typing import Generic, TypeVar, cast

from PySide6.QtCore import QEvent, QObject, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QStackedLayout, QWidget

from tubeshelf.ui.models.cells import Column, RowsModel
from tubeshelf.ui.parts.empty import Empty
from tubeshelf.ui.parts.sheet import Counts, Sheet
from tubeshelf.ui.parts.tableview import Table

R = TypeVar("R")


class ListSheet(Sheet, Generic[R]):
    """``picked`` carries the row in hand or None, ``opened`` that of Enter; ``new_wanted`` asks for the act
    of an empty list, ``digit`` carries a figure typed on a list that is ``searched_by_figures``."""

    picked = Signal(object)
    opened = Signal(object)
    new_wanted = Signal()
    digit = Signal(str)

    searched_by_figures = False

    def __init__(
        self,
        name: str,
        columns: Sequence[Column[R]],
        key: Callable[[R], Hashable],
        *,
        nothing: str,
        new: str,
        icon: str,
    ) -> None:
        """``nothing`` is what an empty list says, ``new`` the act it offers."""
        super().__init__(flush=True)
        self.model = RowsModel[R](columns, key=key, parent=self)
        self.table = Table(name)
        self.table.set_rows_model(self.model, self.model.columns)
        self.table.row_changed.connect(self.picked)
        self.table.opened.connect(self.opened)
        if self.searched_by_figures:
            self.table.installEventFilter(self)
        self.empty = Empty(nothing, new, icon=icon)
        self.empty.asked.connect(self.new_wanted)
        whole = QWidget()
        self._stack = QStackedLayout(whole)
        self._stack.addWidget(self.table)
        self._stack.addWidget(self.empty)
        self.body.addWidget(whole, 1)

    def with_counts(self, *beside: QWidget) -> Counts:
        """Add a foot that counts, with other widgets at its right; once."""
        counts, foot = Counts(), self.foot()
        foot.addWidget(counts, 1)
        for widget in beside:
            foot.addWidget(widget)
        return counts

    def show_rows(self, rows: Sequence[R]) -> None:
        """Show these rows; one is always in hand while there are any."""
        self.model.replace(rows)
        self._stack.setCurrentIndex(0 if rows else 1)
        if rows and not self.table.currentIndex().isValid():
            self.table.setCurrentIndex(self.model.index(0, 0))
        if not rows:
            self.picked.emit(None)

    @property
    def first(self) -> QWidget:
        """Where the keyboard begins: on the rows, or on the act that an empty list offers."""
        return self.table if self._stack.currentIndex() == 0 else self.empty.act

    def in_hand(self) -> R | None:
        """The row in hand."""
        return cast("R | None", self.table.in_hand()) if self._stack.currentIndex() == 0 else None

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """A figure typed on the list is the beginning of a name or tag: it goes to the search field."""
        pressed = event.text() if isinstance(event, QKeyEvent) else ""
        if watched is self.table and event.type() == QEvent.Type.KeyPress and pressed.isdigit():
            self.digit.emit(pressed)
            return True
        return super().eventFilter(watched, event)
