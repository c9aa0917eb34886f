"""Facts: small boxes with a soft name and a bold value, as for what to dial in."""

from collections.abc import Sequence

from PySide6.QtWidgets import QFrame, QGridLayout, QVBoxLayout, QWidget

from tubeshelf.paper.fonts import tabular
from tubeshelf.ui import tokens
from tubeshelf.ui.parts.text import label


class Facts(QWidget):
    """Boxes of equal width, a few to a line."""

    def __init__(self, columns: int = 4, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._columns = columns
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setSpacing(8)
        self._shown: tuple[tuple[str, str], ...] = ()

    @property
    def shown(self) -> tuple[tuple[str, str], ...]:
        """The (name, value) pairs that are on show."""
        return self._shown

    def show_facts(self, facts: Sequence[tuple[str, str]]) -> None:
        """Show a box for each (name, value)."""
        if tuple(facts) == self._shown:
            return
        self._shown = tuple(facts)
        while (item := self._grid.takeAt(0)) is not None:
            if (old := item.widget()) is not None:
                old.hide()
                old.deleteLater()
        for i in range(self._columns):
            self._grid.setColumnStretch(i, 1)
        for i, (name, value) in enumerate(facts):
            self._grid.addWidget(_box(name, value), i // self._columns, i % self._columns)
        self.updateGeometry()


def _box(name: str, value: str) -> QFrame:
    box = QFrame()
    box.setProperty("role", "box")
    box.setAccessibleName(f"{name} {value}")
    lines = QVBoxLayout(box)
    lines.setContentsMargins(10, 5, 10, 6)
    lines.setSpacing(0)
    figure = label(value or "–", "figure")
    figure.setFont(tabular(figure.font(), pixels=tokens.BODY + 1))
    lines.addWidget(label(name, "small"))
    lines.addWidget(figure)
    return box
