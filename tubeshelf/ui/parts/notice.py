"""The line on a page that says what went wrong with an act, or what else the user should know."""

from PySide6.QtGui import QAccessible, QAccessibleEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QWidget

from tubeshelf.ui.parts.banner import Glyph
from tubeshelf.ui.parts.buttons import IconButton
from tubeshelf.ui.parts.text import label, restyle


class Notice(QFrame):
    """One sentence with a close button; hidden while there is nothing to say."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("role", "notice")
        row = QHBoxLayout(self)
        row.setContentsMargins(12, 4, 6, 4)
        self._glyph = Glyph("warning", "reject", 20)
        self._text = label("", wrap=True)
        close = IconButton("close", "Dismiss this message")
        close.clicked.connect(self.clear)
        row.addWidget(self._glyph)
        row.addWidget(self._text, 1)
        row.addWidget(close)
        self.hide()

    @property
    def text(self) -> str:
        """What it says now."""
        return self._text.text()

    def fail(self, sentence: str) -> None:
        """Say what went wrong and what to do."""
        self._show(sentence, "error", "warning", "reject")

    def tell(self, sentence: str) -> None:
        """Say something that is no error."""
        self._show(sentence, "info", "info", "accent")

    def clear(self) -> None:
        """Nothing to say any more."""
        self._text.clear()
        self.hide()

    def _show(self, sentence: str, tone: str, icon: str, colour: str) -> None:
        restyle(self, "tone", tone)
        self._glyph.show_icon(icon, colour)
        self._text.setText(sentence)
        self.setAccessibleName(sentence)
        self.setVisible(bool(sentence))
        QAccessible.updateAccessibility(QAccessibleEvent(self, QAccessible.Event.Alert))
