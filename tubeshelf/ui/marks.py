"""Verdicts and fits as shape, word and colour: never colour alone."""

from dataclasses import dataclass

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFontMetrics, QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from tubeshelf.domain.fitting import Outcome
from tubeshelf.ui import icons, tokens
from tubeshelf.ui.models.cells import Cell


@dataclass(frozen=True, slots=True)
class Look:
    """How something is shown: the icon's name, the word beside it and the colour of both."""

    icon: str
    word: str
    tone: str


_VERDICTS = {
    "good": Look("tube-good", "Good", "good"),
    "weak": Look("tube-weak", "Weak", "weak"),
    "reject": Look("tube-reject", "Reject", "reject"),
    "unjudged": Look("tube-none", "No limit", "soft"),
    "not read": Look("tube-none", "Not read yet", "soft"),
    "short": Look("tube-short", "Short", "reject"),
    "leakage": Look("tube-leakage", "Leakage", "reject"),
    "gas": Look("tube-gas", "Gas", "reject"),
    "noise": Look("tube-noise", "Noise", "reject"),
    "open heater": Look("tube-open", "Open heater", "reject"),
    "dead section": Look("tube-dead", "Dead section", "reject"),
    "cracked": Look("tube-cracked", "Cracked", "reject"),
    "loose base": Look("tube-loose", "Loose base", "reject"),
    "white getter": Look("tube-getter", "White getter", "reject"),
}

_FITS = {
    Outcome.RIGHT_TYPE: Look("fit-right", "right type", "good"),
    Outcome.ACCEPTED_SUBSTITUTE: Look("fit-substitute", "accepted substitute", "good"),
    Outcome.UNKNOWN: Look("fit-unknown", "unknown", "soft"),
    Outcome.WRONG_TYPE: Look("fit-wrong", "wrong type", "weak"),
    Outcome.CANNOT_SEAT: Look("fit-cannot", "cannot seat", "reject"),
    Outcome.HARMFUL: Look("fit-harmful", "harmful", "reject"),
}


def verdict_look(word: str, doubt: str = "") -> Look:
    """The look of a verdict's word; a fault that has no drawing of its own gets the general fault mark.

    A verdict in ``doubt``, such as ``read again``, says so first of all: in shape, words and colour.
    """
    look = _VERDICTS.get(word, Look("tube-fault", word.capitalize(), "reject"))
    return Look("tube-again", f"{look.word}, {doubt}", "again") if doubt else look


def fit_look(outcome: Outcome | str) -> Look:
    """The look of a fit."""
    return _FITS[Outcome(outcome)]


def mark_cell(look: Look, sub: str = "", *, bold: bool = True, tip: str = "") -> Cell:
    """A table cell of mark and word."""
    return Cell(look.word, sub, mark=look.icon, tone=look.tone, bold=bold, tip=tip)


def fit_cell(outcome: Outcome | str, sub: str = "", *, tip: str = "") -> Cell:
    """A table cell of a fit: what is all right speaks low, what is not speaks up."""
    look = fit_look(outcome)
    loud = Outcome(outcome).severity >= Outcome.WRONG_TYPE.severity
    tone = look.tone if loud else "soft"
    return Cell(
        look.word, sub, mark=look.icon, mark_tone=look.tone, tone=tone, bold=loud, small=not loud, tip=tip
    )


class MarkLabel(QWidget):
    """A mark with its word; without the word, that is the accessible name and the tooltip."""

    def __init__(self, look: Look | None = None, *, word: bool = True, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._word = word
        self._look: Look | None = None
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self.show_look(look)

    def show_look(self, look: Look | None) -> None:
        """Show another mark, or nothing."""
        self._look = look
        self.setAccessibleName(look.word if look else "")
        self.setToolTip("" if self._word or look is None else look.word)
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        """Mark, gap and word."""
        words = self._look.word if self._look and self._word else ""
        beside = 8 + _bold(self).horizontalAdvance(words) if words else 0
        return QSize(tokens.MARK + beside, tokens.MARK + 4)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Mark at the left, word after it."""
        if self._look is None:
            return
        colour = tokens.palette_now().tone(self._look.tone)
        with QPainter(self) as painter:
            box = QRectF(0, (self.height() - tokens.MARK) / 2, tokens.MARK, tokens.MARK)
            icons.paint_mark(painter, box, self._look.icon, colour)
            if self._word:
                font = self.font()
                font.setBold(True)
                painter.setFont(font)
                painter.setPen(QColor(colour))
                beside = QRectF(tokens.MARK + 8, 0, self.width(), self.height())
                painter.drawText(beside, Qt.AlignmentFlag.AlignVCenter, self._look.word)


def _bold(widget: QWidget) -> QFontMetrics:
    font = widget.font()
    font.setBold(True)
    return QFontMetrics(font)
