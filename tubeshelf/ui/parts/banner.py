"""The banner for harm: at most one on a page, until what it says is resolved."""

from collections.abc import Sequence

from PySide6.QtCore import QEvent, QSize, Qt, Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QWidget

from tubeshelf.ui import icons, tokens
from tubeshelf.ui.parts.buttons import Link
from tubeshelf.ui.parts.text import label

_MOST_HARMS = 2


class Glyph(QLabel):
    """An icon that stands beside words and follows light and dark; silent, since the words say it."""

    def __init__(self, name: str, tone: str, size: int = tokens.MARK) -> None:
        super().__init__()
        self.setTextFormat(Qt.TextFormat.PlainText)
        self._look = (name, tone, size)
        self.setFixedSize(QSize(size, size))
        self._draw()

    def show_icon(self, name: str, tone: str) -> None:
        """Another icon."""
        self._look = (name, tone, self._look[2])
        self._draw()

    def changeEvent(self, event: QEvent) -> None:
        """Follow light and dark."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.PaletteChange:
            self._draw()

    def _draw(self) -> None:
        name, tone, size = self._look
        self.setPixmap(icons.pixmap(name, tokens.palette_now().tone(tone), size, self.devicePixelRatioF()))


class Banner(QFrame):
    """A warning that spans the page; ``asked`` when the reasons are wanted. Hidden while it has no text."""

    asked = Signal()

    def __init__(
        self, strong: str = "Do not power.", link: str = "Show why", parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.setProperty("role", "banner")
        row = QHBoxLayout(self)
        row.setContentsMargins(tokens.MARGIN - 4, 8, tokens.MARGIN - 2, 8)
        row.setSpacing(tokens.GAP)
        self._strong = label(strong, "strong", tone="reject")
        self._text = label("", wrap=True)
        self._link = Link(link)
        if not link:
            self._link.hide()
        self._link.clicked.connect(self.asked)
        row.addWidget(Glyph("warning", "reject"), 0, Qt.AlignmentFlag.AlignVCenter)
        row.addWidget(self._strong)
        row.addWidget(self._text, 1)
        row.addWidget(self._link)
        self.hide()

    def tell(self, text: str, strong: str = "", *, whole: str = "") -> None:
        """Show the warning; an empty text takes it away. ``whole`` is what a text cut short stands for."""
        if strong:
            self._strong.setText(strong)
        self._text.setText(text)
        self._text.setToolTip("" if whole in ("", text) else whole)
        self.setAccessibleName(f"{self._strong.text()} {whole or text}".strip())
        self.setVisible(bool(text))

    def tell_harm(self, harm: Sequence[tuple[str, str]]) -> None:
        """Show why nobody must power a set, a (position, sentence) each: two of them, and how many more."""
        told = [f"{position}: {why}." for position, why in harm]
        more = len(told) - _MOST_HARMS
        shown = [*told[:_MOST_HARMS], f"And {more} more."] if more > 0 else told
        self.tell(" ".join(shown), whole=" ".join(told))
