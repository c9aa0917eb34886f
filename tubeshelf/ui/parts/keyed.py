"""A choice that single keys answer at once, for rows that are answered one after the other."""

from collections.abc import Mapping, Sequence

from PySide6.QtCore import Signal
from PySide6.QtGui import QKeyEvent

from tubeshelf.ui.parts.form import Choice


class KeyedChoice(Choice):
    """``keys`` maps a letter or sign to the value it chooses, which ``activated`` tells as usual.

    ``typed`` says after it that a key did it, so that the keyboard may go on to the next row.
    """

    typed = Signal()

    def __init__(
        self, options: Sequence[tuple[str, object]], keys: Mapping[str, object], *, name: str
    ) -> None:
        super().__init__(options, name=name)
        self._keys = keys

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Take one of the keys; every other is the choice's own."""
        sign = event.text().casefold()
        if sign not in self._keys:
            super().keyPressEvent(event)
            return
        self.choose(self._keys[sign])
        self.activated.emit(self.currentIndex())
        self.typed.emit()
