"""Where the words of the large-figure view stand, and how large: everything fits, whatever the window."""

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QFont, QFontMetricsF

from tubeshelf.paper.fonts import tabular
from tubeshelf.ui import tokens
from tubeshelf.ui.marks import Look

WIDTH, HEIGHT = 1024, 600
"""The window in which figures are ``READING_LARGE`` high; in a smaller one all shrinks, in a larger grows."""

_MARGIN = 26.0
_NAME, _WORDS, _DIALLED, _VERDICT = 24, 28, 52, 56
_SMALLEST = 9
_LEADING = 1.3
"""Height of a line of text, as a share of its size."""


@dataclass(frozen=True, slots=True)
class Figures:
    """What the view says: of the socket in hand, its line in hand, and what was read just before.

    ``typed`` says that ``reading`` stands in the entry and is not stored yet. ``note`` is what one must know
    of the type, in the tone ``note_tone``; ``warning`` why nobody must power the set.
    """

    position: str = ""
    role: str = ""
    type: str = ""
    note: str = ""
    note_tone: str = "soft"
    line: str = ""
    dial: tuple[tuple[str, str], ...] = ()
    reading: str = ""
    unit: str = ""
    typed: bool = False
    look: Look | None = None
    beside: str = ""
    before: str = ""
    warning: str = ""

    @property
    def spoken(self) -> str:
        """All of it for a screen reader."""
        reads = f"{self.reading} {self.unit}".strip() + (", not saved yet" if self.typed else "")
        dial = ", ".join(f"{name} {value}" for name, value in self.dial)
        word = self.look.word if self.look else ""
        parts = (self.position, self.role, self.type, self.note, self.line, dial, reads, word, self.beside)
        return ". ".join(part for part in (*parts, self.before, self.warning) if part)


@dataclass(frozen=True, slots=True)
class Placed:
    """A text in its place, in ``pixels``, or with ``icon`` a mark; ``tone`` is a colour of the palette."""

    box: QRectF
    text: str
    pixels: int
    tone: str = ""
    bold: bool = False
    icon: str = ""


@dataclass(frozen=True, slots=True)
class _Text:
    text: str
    pixels: float
    tone: str = ""
    bold: bool = False


def font_of(placed: Placed | _Text, base: QFont, pixels: int) -> QFont:
    """The font of a text, with figures of equal width."""
    return tabular(base, pixels=pixels, bold=placed.bold)


def placed(figures: Figures, width: float, height: float, base: QFont) -> list[Placed]:
    """All texts and marks of the view for a window of this size, none outside it or over another."""
    scale = min(width / WIDTH, height / HEIGHT)
    page = _Page(width, height, scale, base)
    page.row(
        _Text(figures.position, tokens.READING_LARGE, "accent", bold=True),
        (
            _Text(figures.type, _DIALLED, bold=True),
            _Text(" · ".join(x for x in (figures.role, figures.note) if x), _WORDS, figures.note_tone),
        ),
    )
    page.cells(figures.dial)
    reading = _Text(figures.reading, tokens.READING_LARGE, "accent" if figures.typed else "", bold=True)
    below = "not saved yet" if figures.typed else figures.line
    page.row(reading, (_Text(figures.unit, _WORDS, "soft"), _Text(below, _WORDS, "soft")))
    if figures.look is not None:
        page.verdict(figures.look, figures.beside)
    page.foot(_Text(figures.before, _WORDS, "soft"), _Text(figures.warning, _WORDS, "reject", bold=True))
    return page.placed


class _Page:
    """Puts one row below the other; the lengths of texts are those of a window of the usual size."""

    def __init__(self, width: float, height: float, scale: float, base: QFont) -> None:
        self._scale, self._base = scale, base
        self._left = _MARGIN * scale
        self._right = width - self._left
        self._top = _MARGIN * 0.7 * scale
        self._bottom = height - self._left * 0.7
        # What a window is higher than its width asks for goes between the rows.
        self._gap = 14 * scale + max(0.0, height - HEIGHT * scale) / 6
        self.placed: list[Placed] = []

    def row(self, large: _Text, beside: Sequence[_Text]) -> None:
        """A large text, and at its right smaller ones below each other."""
        room = self._right - self._left
        each = [text.pixels * _LEADING * self._scale for text in beside]
        height = max(large.pixels * _LEADING * self._scale, sum(each))
        used = self._put(large, self._left, self._top, room * 0.72, height)
        left = self._left + used + 24 * self._scale
        top = self._top + (height - sum(each)) / 2
        for text, own in zip(beside, each, strict=True):
            self._put(text, left, top, self._right - left, own)
            top += own
        self._top += height + self._gap

    def cells(self, dial: Sequence[tuple[str, str]]) -> None:
        """What to dial in, name over value, in one line however many there are."""
        above, below = _NAME * _LEADING * self._scale, _DIALLED * _LEADING * self._scale
        pairs = [(_Text(name, _NAME, "soft"), _Text(value, _DIALLED, bold=True)) for name, value in dial]
        wanted = [max(map(self._wide, pair)) for pair in pairs]
        gap = 22 * self._scale
        room = self._right - self._left - gap * max(0, len(pairs) - 1)
        share = min(1.0, room / max(1.0, sum(wanted)))
        left = self._left
        for (name, value), width in zip(pairs, wanted, strict=True):
            self._put(name, left, self._top, width * share, above)
            self._put(value, left, self._top + above, width * share, below)
            left += width * share + gap
        self._top += above + below + self._gap

    def verdict(self, look: Look, below: str) -> None:
        """Mark and word of the verdict, and below it how it was come by."""
        side = _VERDICT * _LEADING * self._scale
        box = QRectF(self._left, self._top, side, side)
        self.placed.append(Placed(box, look.word, 0, look.tone, icon=look.icon))
        left = self._left + side + 16 * self._scale
        self._put(_Text(look.word, _VERDICT, look.tone, bold=True), left, self._top, self._right - left, side)
        self._top += side
        self._put(
            _Text(below, _WORDS, "soft"), left, self._top, self._right - left, _WORDS * _LEADING * self._scale
        )

    def foot(self, *texts: _Text) -> None:
        """At the bottom, one line each; what is empty takes no room."""
        shown = [text for text in texts if text.text]
        top = self._bottom - sum(text.pixels * _LEADING * self._scale for text in shown)
        for text in shown:
            height = text.pixels * _LEADING * self._scale
            self._put(text, self._left, top, self._right - self._left, height)
            top += height

    def _put(self, text: _Text, left: float, top: float, room: float, height: float) -> float:
        """A text as large as the room allows, cut only where it would be too small to read; its width."""
        if not text.text or room <= 0:
            return 0.0
        pixels = max(_SMALLEST, round(text.pixels * self._scale))
        while pixels > _SMALLEST and self._metrics(text, pixels).horizontalAdvance(text.text) > room:
            pixels -= 1
        metrics = self._metrics(text, pixels)
        shown = metrics.elidedText(text.text, Qt.TextElideMode.ElideRight, room)
        width = min(room, metrics.horizontalAdvance(shown) + 1)
        self.placed.append(Placed(QRectF(left, top, width, height), shown, pixels, text.tone, text.bold))
        return width

    def _wide(self, text: _Text) -> float:
        pixels = max(_SMALLEST, round(text.pixels * self._scale))
        return self._metrics(text, pixels).horizontalAdvance(text.text) + 2

    def _metrics(self, text: _Text, pixels: int) -> QFontMetricsF:
        return QFontMetricsF(font_of(text, self._base, pixels))
