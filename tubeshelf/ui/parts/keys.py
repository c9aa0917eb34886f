"""The status line: what was saved last, work under way, and the keys that work now."""

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QProgressBar, QSizePolicy, QWidget

from tubeshelf.ui import tokens
from tubeshelf.ui.parts.framebuttons import Link
from tubeshelf.ui.parts.head import Elided
from tubeshelf.ui.parts.sheet import clear
from tubeshelf.ui.parts.text import label

Keys = Sequence[tuple[str, str]]

_FOOT = 104
"""Room for F1, however long a sentence stands beside it."""


class KeyFoot(QWidget):
    """Key caps with what each does; those that do not fit are left to F1, which comes last and stays."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._row = QHBoxLayout(self)
        self._row.setContentsMargins(0, 0, 0, 0)
        self._row.setSpacing(6)
        self._pairs: list[tuple[QWidget, int]] = []
        self._keys: tuple[tuple[str, str], ...] = ()
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)

    @property
    def keys(self) -> tuple[tuple[str, str], ...]:
        """The (key, words) that are on show."""
        return self._keys

    def show_keys(self, keys: Keys) -> None:
        """Show these (key, words)."""
        if tuple(keys) == self._keys:
            return
        self._keys = tuple(keys)
        clear(self._row)
        self._pairs = []
        self._row.addStretch(1)
        for key, words in keys:
            pair = _pair(key, words)
            self._row.addWidget(pair)
            self._pairs.append((pair, pair.sizeHint().width() + 6))
        self._choose()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Hide what does not fit."""
        super().resizeEvent(event)
        self._choose()

    def _choose(self) -> None:
        if not self._pairs:
            return
        room = self.width() - self._pairs[-1][1]
        for pair, width in self._pairs[:-1]:
            room -= width
            pair.setVisible(room >= 0)
        self._pairs[-1][0].show()


class StatusLine(QWidget):
    """The foot of the window. ``cancelled`` when the user stops the work that is under way."""

    cancelled = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("role", "statusline")
        self.setAttribute(Qt.WidgetAttribute.WA_StyledBackground)
        self.setFixedHeight(34)
        row = QHBoxLayout(self)
        row.setContentsMargins(tokens.MARGIN, 0, tokens.MARGIN, 0)
        row.setSpacing(tokens.GAP)
        self.said = Elided("", "small", grows=False)
        self._work = label("", "small")
        self._bar = QProgressBar()
        self._bar.setTextVisible(False)
        self._bar.setFixedWidth(120)
        self._bar.setAccessibleName("Progress")
        self._stop = Link("Cancel")
        self._stop.clicked.connect(self.cancelled)
        self.foot = KeyFoot()
        self.foot.setMinimumWidth(_FOOT)
        for widget in (self.said, self._work, self._bar, self._stop):
            row.addWidget(widget)
        row.addWidget(self.foot, 1)
        self.rest()

    def say(self, words: str) -> None:
        """What was saved last."""
        self.said.say(words)
        if (row := self.layout()) is not None:
            row.activate()  # so that it has its room before it is next painted

    def busy(self, words: str, done: int, total: int) -> None:
        """Show work under way; a total of 0 means that its end is not known."""
        self._work.setText(f"{words} {done:,} of {total:,}" if total else words)
        self._bar.setRange(0, total)
        self._bar.setValue(done)
        for widget in (self._work, self._bar, self._stop):
            widget.show()

    def rest(self) -> None:
        """Nothing is under way."""
        for widget in (self._work, self._bar, self._stop):
            widget.hide()


def keycap(key: str) -> QWidget:
    """A key as it looks on the keyboard."""
    cap = label(key, "key")
    cap.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
    return cap


def _pair(key: str, words: str) -> QWidget:
    pair = QWidget()
    row = QHBoxLayout(pair)
    row.setContentsMargins(6, 0, 0, 0)
    row.setSpacing(6)
    row.addWidget(keycap(key))
    row.addWidget(label(words, "small"))
    return pair
