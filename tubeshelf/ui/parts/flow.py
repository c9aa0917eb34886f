"""A layout that goes on in the next line when a line is full."""

from PySide6.QtCore import QPoint, QRect, QSize, Qt
from PySide6.QtWidgets import QLayout, QLayoutItem, QWidget


class FlowLayout(QLayout):
    """Items from left to right, then on the next line; its height follows from its width.

    It needs its widget from the start: the binding lets go of items that were added to a layout without one
    while the layout still holds them, and then the program crashes.
    """

    def __init__(self, parent: QWidget, *, gap: int = 8) -> None:
        super().__init__(parent)
        self._items: list[QLayoutItem] = []
        self._gap = gap
        self.setContentsMargins(0, 0, 0, 0)

    def addItem(self, item: QLayoutItem) -> None:
        """Qt's way in."""
        self._items.append(item)

    def count(self) -> int:
        """How many items."""
        return len(self._items)

    def itemAt(self, index: int) -> QLayoutItem | None:
        """The item at a place."""
        return self._items[index] if 0 <= index < len(self._items) else None

    def takeAt(self, index: int) -> QLayoutItem | None:
        """Take an item out."""
        return self._items.pop(index) if 0 <= index < len(self._items) else None

    def expandingDirections(self) -> Qt.Orientation:
        """Takes no more than it needs."""
        return Qt.Orientation(0)

    def hasHeightForWidth(self) -> bool:
        """Narrower is higher."""
        return True

    def heightForWidth(self, width: int) -> int:
        """How high at this width."""
        return self._place(QRect(0, 0, width, 0), move=False)

    def setGeometry(self, rect: QRect) -> None:
        """Place the items."""
        super().setGeometry(rect)
        self._place(rect, move=True)

    def sizeHint(self) -> QSize:
        """One line of all."""
        sizes = [item.sizeHint() for item in self._items]
        width = sum(s.width() + self._gap for s in sizes)
        return QSize(width, max((s.height() for s in sizes), default=0))

    def minimumSize(self) -> QSize:
        """The widest item."""
        size = QSize(0, 0)
        for item in self._items:
            size = size.expandedTo(item.minimumSize())
        return size

    def _place(self, rect: QRect, *, move: bool) -> int:
        x, y, high = rect.left(), rect.top(), 0
        for item in self._items:
            if item.isEmpty():
                continue
            size = item.sizeHint()
            if x > rect.left() and x + size.width() > rect.right() + 1:
                x, y, high = rect.left(), y + high + self._gap, 0
            if move:
                item.setGeometry(QRect(QPoint(x, y), size))
            x += size.width() + self._gap
            high = max(high, size.height())
        return y + high - rect.top()
