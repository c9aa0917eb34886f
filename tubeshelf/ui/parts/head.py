"""The title line of a page: what it is, the facts that identify it, and the choices that frame it."""

from html import escape

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QFontMetrics, QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QSizePolicy, QWidget

from tubeshelf.ui import tokens


class Elided(QLabel):
    """A plain label that ends in … where it has no room; the tooltip then has it all."""

    def __init__(self, text: str = "", role: str = "", *, grows: bool = True) -> None:
        super().__init__()
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setProperty("role", role)
        across = QSizePolicy.Policy.Expanding if grows else QSizePolicy.Policy.Maximum
        self.setSizePolicy(across, QSizePolicy.Policy.Preferred)
        self.setMinimumWidth(24)
        self._whole = ""
        self.say(text)

    def say(self, text: str) -> None:
        """Show another text."""
        self._whole = text
        self.setAccessibleName(text)
        self._fit()
        self.updateGeometry()

    def sizeHint(self) -> QSize:
        """All of the text."""
        self.ensurePolished()
        return QSize(
            QFontMetrics(self.font()).horizontalAdvance(self._whole) + 2, super().sizeHint().height()
        )

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Cut anew."""
        super().resizeEvent(event)
        self._fit()

    def _fit(self) -> None:
        metrics = QFontMetrics(self.font())
        shown = metrics.elidedText(self._whole, Qt.TextElideMode.ElideRight, self.width())
        self.setText(shown)
        self.setToolTip(escape(self._whole) if shown != self._whole else "")


class TitleLine(QWidget):
    """Title, facts beside it in soft, and at the right whatever ``choices`` holds."""

    def __init__(self, title: str = "", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(tokens.MARGIN)
        self._title = Elided(title, "title", grows=False)
        self._facts = Elided("", "soft")
        self.choices = QHBoxLayout()
        self.choices.setSpacing(8)
        row.addWidget(self._title)
        row.addWidget(self._facts, 1)
        row.addLayout(self.choices)

    def minimumSizeHint(self) -> QSize:
        """As high as its buttons, also where the page is short of room."""
        return super().minimumSizeHint().expandedTo(QSize(0, max(32, self.sizeHint().height())))

    def show_title(self, title: str, *facts: str) -> None:
        """Show a title and its facts, joined by dots; empty facts are left out."""
        self._title.say(title)
        self._facts.say(" · ".join(fact for fact in facts if fact))

    def add(self, *choices: QWidget) -> None:
        """Add to the choices at the right."""
        for choice in choices:
            self.choices.addWidget(choice)
