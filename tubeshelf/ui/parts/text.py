"""Labels: always plain text, since what is shown may come from a customer."""

from PySide6.QtCore import Qt
from PySide6.QtGui import QFont
from PySide6.QtWidgets import QFrame, QLabel, QSizePolicy, QWidget

from tubeshelf.ui import tokens


def label(text: str = "", role: str = "", *, tone: str = "", wrap: bool = False) -> QLabel:
    """A plain-text label. ``role`` and ``tone`` are those of the style sheet (title, soft, small …)."""
    made = QLabel(text)
    made.setTextFormat(Qt.TextFormat.PlainText)
    made.setWordWrap(wrap)
    if wrap:
        made.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
    if role:
        made.setProperty("role", role)
    if tone:
        made.setProperty("tone", tone)
    return made


def restyle(widget: QWidget, name: str, value: object) -> None:
    """Change a property that the style sheet looks at."""
    if widget.property(name) != value:
        widget.setProperty(name, value)
        widget.style().unpolish(widget)
        widget.style().polish(widget)


def small_font(base: QFont) -> QFont:
    """The font of second lines and column titles."""
    font = QFont(base)
    font.setPixelSize(tokens.SMALL)
    font.setBold(False)
    return font


def rule() -> QFrame:
    """A hairline."""
    line = QFrame()
    line.setProperty("role", "rule")
    return line
