"""Search fields: one for a page, and the one of the top bar with its list of hits."""

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from PySide6.QtCore import QPoint, QRectF, Qt, QTimer, Signal
from PySide6.QtGui import QColor, QFocusEvent, QKeyEvent, QKeySequence, QPainter, QPaintEvent, QPen, QShortcut
from PySide6.QtWidgets import QLineEdit, QWidget

from tubeshelf.ui import icons, tokens
from tubeshelf.ui.parts.framebuttons import shown_keys
from tubeshelf.ui.parts.text import small_font
from tubeshelf.ui.place import Hit

if TYPE_CHECKING:
    from tubeshelf.ui.parts.hits import HitList

_PAUSE_MS = 90
_MOST = 8


class SearchField(QLineEdit):
    """A field with a lens at the left and, while it is empty, the key that leads to it at the right.

    ``paused`` carries the text shortly after the last change, so that not every key press asks.
    """

    paused = Signal(str)

    def __init__(self, hint: str, shortcut: str = "", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._keys = shown_keys(shortcut)
        self.setPlaceholderText(hint)
        self.setAccessibleName(hint)
        self.setClearButtonEnabled(False)
        self.setTextMargins(22, 0, 0, 0)
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(_PAUSE_MS)
        self._timer.timeout.connect(lambda: self.paused.emit(self.text()))
        self.textChanged.connect(lambda: self._timer.start())
        if shortcut:
            QShortcut(QKeySequence(shortcut), self).activated.connect(self.take_focus)

    def take_focus(self) -> None:
        """Go into the field with everything selected."""
        self.setFocus(Qt.FocusReason.ShortcutFocusReason)
        self.selectAll()

    def paintEvent(self, event: QPaintEvent) -> None:
        """The field, the lens, the key."""
        super().paintEvent(event)
        palette = tokens.palette_now()
        with QPainter(self) as painter:
            lens = QRectF(10, (self.height() - 16) / 2, 16, 16)
            icons.paint_mark(painter, lens, "search", palette.soft)
            if self._keys and not self.text() and not self.hasFocus():
                painter.setRenderHint(QPainter.RenderHint.Antialiasing)
                painter.setFont(small_font(self.font()))
                width = painter.fontMetrics().horizontalAdvance(self._keys) + 14
                box = QRectF(self.width() - width - 9.5, self.height() / 2 - 9.5, width, 19)
                painter.setPen(QPen(QColor(palette.line), 1))
                painter.setBrush(QColor(palette.bg))
                painter.drawRoundedRect(box, 4, 4)
                painter.setPen(QColor(palette.ink))
                painter.drawText(box, int(Qt.AlignmentFlag.AlignCenter), self._keys)


class Finder(SearchField):
    """The search field of the top bar; ``chosen`` carries the ``Hit`` that was picked.

    Down and Up walk the hits while the text keeps the focus; Enter takes one, Escape leaves.
    """

    chosen = Signal(object)

    def __init__(
        self, find: Callable[[str], Sequence[Hit]], hint: str, shortcut: str, parent: QWidget | None = None
    ) -> None:
        super().__init__(hint, shortcut, parent)
        self._find = find
        self._list: HitList | None = None
        self.paused.connect(self._look)

    @property
    def hits(self) -> tuple[Hit, ...]:
        """What is on offer now."""
        return self._list.model.rows if self._list is not None and self._list.isVisible() else ()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Walk, take or leave; everything else is typing."""
        key = event.key()
        if key == Qt.Key.Key_Escape:
            self.leave()
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            if not self.hits:
                self._look(self.text())
            self._take(self._list.table.in_hand() if self._list is not None else None)
        elif key in (Qt.Key.Key_Down, Qt.Key.Key_Up) and self._list is not None and self.hits:
            self._list.step(1 if key == Qt.Key.Key_Down else -1)
        else:
            super().keyPressEvent(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """The hits go when the focus goes."""
        super().focusOutEvent(event)
        if self._list is not None:
            self._list.hide()

    def leave(self) -> None:
        """Empty the field and give the focus back to the page."""
        self.clear()
        if self._list is not None:
            self._list.hide()
        self.clearFocus()

    def _look(self, text: str) -> None:
        text = text.strip()
        if not text or not self.hasFocus():
            if self._list is not None:
                self._list.hide()
            return
        if self._list is None:
            from tubeshelf.ui.parts.hits import HitList

            self._list = HitList(self.window())
            self._list.table.clicked.connect(lambda: self._take(self._list and self._list.table.in_hand()))
        self._list.offer(self._find(text)[:_MOST], text)
        corner = self.mapTo(self.window(), QPoint(self.width(), self.height() + 4))
        self._list.move(corner.x() - self._list.width(), corner.y())
        self._list.show()
        self._list.raise_()

    def _take(self, hit: object) -> None:
        if isinstance(hit, Hit):
            self.leave()
            self.chosen.emit(hit)
