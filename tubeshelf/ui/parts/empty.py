"""The empty state: one sentence on what belongs here, and the act that puts it there."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from tubeshelf.ui import tokens
from tubeshelf.ui.parts.banner import Glyph
from tubeshelf.ui.parts.buttons import Act
from tubeshelf.ui.parts.text import label


class Empty(QWidget):
    """Shown in place of an empty list. ``asked`` when the offered act is wanted."""

    asked = Signal()

    def __init__(
        self, sentence: str, act: str = "", shortcut: str = "", icon: str = "", parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        column = QVBoxLayout(self)
        column.setContentsMargins(tokens.MARGIN * 2, tokens.MARGIN, tokens.MARGIN * 2, tokens.MARGIN)
        column.setSpacing(tokens.MARGIN)
        column.addStretch(2)
        if icon:
            column.addWidget(Glyph(icon, "soft", 48), 0, Qt.AlignmentFlag.AlignHCenter)
        self._sentence = label(sentence, "soft", wrap=True)
        self._sentence.setAlignment(Qt.AlignmentFlag.AlignCenter)
        column.addWidget(self._sentence)
        if act:
            self.act = Act(act, shortcut, primary=True)
            self.act.clicked.connect(self.asked)
            column.addWidget(self.act, 0, Qt.AlignmentFlag.AlignHCenter)
        column.addStretch(3)

    def say(self, sentence: str) -> None:
        """Another sentence."""
        self._sentence.setText(sentence)
