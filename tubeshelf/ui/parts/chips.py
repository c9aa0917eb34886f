"""Chips: what a search field understood, each to be dropped with a click or a key."""

from collections.abc import Hashable, Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QPushButton, QSizePolicy, QWidget

from tubeshelf.ui.parts.flow import FlowLayout


class Chips(QWidget):
    """A line of chips; ``dropped`` carries the key of one that is no longer wanted."""

    dropped = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._flow = FlowLayout(self)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self._shown: tuple[tuple[Hashable, str], ...] = ()

    def show_chips(self, chips: Sequence[tuple[Hashable, str]]) -> None:
        """Show a chip for each (key, words)."""
        if tuple(chips) == self._shown:
            return
        self._shown = tuple(chips)
        while (item := self._flow.takeAt(0)) is not None:
            if (old := item.widget()) is not None:
                old.hide()
                old.deleteLater()
        for key, words in chips:
            self._flow.addWidget(self._chip(key, words))
        self.updateGeometry()

    def _chip(self, key: Hashable, words: str) -> QPushButton:
        chip = QPushButton(f"{words.replace('&', '&&')}  ×")
        chip.setProperty("role", "chip")
        chip.setAccessibleName(f"Drop {words}")
        chip.clicked.connect(lambda: self.dropped.emit(key))
        return chip
