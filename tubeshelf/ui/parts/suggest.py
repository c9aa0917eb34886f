"""A field that offers what the record knows while one types."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from PySide6.QtCore import QEvent, QPoint, QRect, QSize, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent
from PySide6.QtWidgets import QFrame, QLineEdit, QListWidget, QVBoxLayout, QWidget

_MOST = 8
_PAD = 5


@dataclass(frozen=True, slots=True)
class Offer:
    """One suggestion: how it is listed, what it writes into the field, and the thing itself."""

    words: str
    text: str
    value: object


Finder = Callable[[str], Sequence[Offer]]
"""From the text typed so far to what is on offer."""


class Suggest(QLineEdit):
    """A line to type in; ``chosen`` carries the value of the offer that was taken.

    Down, Up and Enter take one from the list below the field, which never has the focus; Escape puts the
    list away. Without them the text stays as typed.
    """

    chosen = Signal(object)

    def __init__(self, find: Finder, hint: str = "") -> None:
        super().__init__()
        self._find = find
        self._list: _Offers | None = None
        self.setPlaceholderText(hint)
        self.textEdited.connect(self._look)

    @property
    def offered(self) -> tuple[str, ...]:
        """The words on offer now."""
        shown = self._open_list()
        return () if shown is None else tuple(offer.words for offer in shown.offers)

    def event(self, event: QEvent) -> bool:
        """While the list is open, Escape is its own and not the way out of the sheet."""
        if event.type() == QEvent.Type.ShortcutOverride and self._open_list() is not None:
            assert isinstance(event, QKeyEvent)
            if event.key() == Qt.Key.Key_Escape:
                event.accept()
                return True
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Walk, take, put away; everything else is typing."""
        key, shown = event.key(), self._open_list()
        if shown is None:
            super().keyPressEvent(event)
        elif key in (Qt.Key.Key_Down, Qt.Key.Key_Up):
            shown.step(1 if key == Qt.Key.Key_Down else -1)
        elif key == Qt.Key.Key_Escape:
            shown.hide()
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and shown.marked is not None:
            self._take(shown.marked)
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            shown.hide()  # it would cover what the form may say below the field
            super().keyPressEvent(event)
        else:
            super().keyPressEvent(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """The list goes when the focus goes."""
        if self._list is not None:
            self._list.hide()
        super().focusOutEvent(event)

    def _open_list(self) -> "_Offers | None":
        return self._list if self._list is not None and self._list.isVisible() else None

    def _look(self, text: str) -> None:
        offers = tuple(self._find(text.strip())[:_MOST]) if text.strip() else ()
        if self._list is None:
            if not offers:
                return
            self._list = _Offers(self.window())
            self._list.picked.connect(self._take)
        self._list.show_offers(offers)
        self._list.setGeometry(self._below(self._list.wanted_height))
        self._list.setVisible(bool(offers))
        self._list.raise_()

    def _below(self, height: int) -> QRect:
        corner = self.mapTo(self.window(), QPoint(0, self.height() + 2))
        if corner.y() + height > self.window().height():
            corner = self.mapTo(self.window(), QPoint(0, -height - 2))
        return QRect(corner, QSize(max(self.width(), 300), height))

    def _take(self, offer: object) -> None:
        assert isinstance(offer, Offer)
        if self._list is not None:
            self._list.hide()
        self.setText(offer.text)
        self.chosen.emit(offer.value)


class _Offers(QFrame):
    """The list below the field."""

    picked = Signal(object)

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setProperty("role", "popup")
        self.offers: tuple[Offer, ...] = ()
        self._rows = QListWidget()
        self._rows.setAccessibleName("Known")
        self._rows.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._rows.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._rows.setTextElideMode(Qt.TextElideMode.ElideRight)
        self._rows.itemClicked.connect(lambda item: self.picked.emit(self.offers[self._rows.row(item)]))
        column = QVBoxLayout(self)
        column.setContentsMargins(_PAD, _PAD, _PAD, _PAD)
        column.addWidget(self._rows)
        self.hide()

    @property
    def marked(self) -> Offer | None:
        """The offer that Enter would take."""
        row = self._rows.currentRow()
        return self.offers[row] if 0 <= row < len(self.offers) else None

    @property
    def wanted_height(self) -> int:
        """Room for all offers."""
        return 2 * _PAD + sum(self._rows.sizeHintForRow(i) for i in range(len(self.offers))) + 2

    def show_offers(self, offers: tuple[Offer, ...]) -> None:
        """Show others; none is marked until the user walks to it."""
        self.offers = offers
        self._rows.clear()
        self._rows.addItems([offer.words for offer in offers])
        self._rows.setCurrentRow(-1)

    def step(self, by: int) -> None:
        """Mark the next or the previous."""
        at = self._rows.currentRow()
        self._rows.setCurrentRow((at + by) % len(self.offers) if at >= 0 or by > 0 else len(self.offers) - 1)
