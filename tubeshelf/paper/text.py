"""Text measured in millimetres on any device: user-given text is drawn as data, never read as markup."""

import unicodedata
from dataclasses import dataclass, replace

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QFont, QFontMetricsF, QPainter, QTextCharFormat, QTextLayout, QTextLine, QTextOption

UNITS = 100
"""Painter units in a millimetre. Fonts take whole pixels only, so the unit has to be a small one."""

_MM_PER_POINT = 25.4 / 72
_LEADING = 1.32
_LINE_SEPARATOR = "\N{LINE SEPARATOR}"
_BIDI_CONTROLS = frozenset("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")


@dataclass(frozen=True, slots=True)
class Style:
    """A size in points and a weight."""

    points: float = 9.0
    bold: bool = False
    family: str = "DejaVu Sans"

    @property
    def leading(self) -> float:
        """Distance between two base lines, in mm."""
        return self.points * _MM_PER_POINT * _LEADING

    def font(self) -> QFont:
        """The font in painter units: without hinting, its widths are the same on every device."""
        font = QFont(self.family)
        font.setPixelSize(round(self.points * _MM_PER_POINT * UNITS))
        font.setBold(self.bold)
        font.setFeature(QFont.Tag("liga"), 0)  # or a search in the PDF does not find "amplifier"
        font.setHintingPreference(QFont.HintingPreference.PreferNoHinting)
        return font


BODY = Style()
STRONG = Style(bold=True)
SMALL = Style(points=7.5)
SMALL_STRONG = Style(points=7.5, bold=True)
TITLE = Style(points=17.0, bold=True)


def clean(text: str) -> str:
    """The text as it can be drawn: line ends kept, control characters and direction overrides left out."""
    lines = text.replace("\r\n", "\n").replace("\r", "\n").replace("\t", " ").split("\n")
    return _LINE_SEPARATOR.join("".join(c for c in line if _drawable(c)) for line in lines)


def _drawable(char: str) -> bool:
    return char not in _BIDI_CONTROLS and unicodedata.category(char) not in ("Cc", "Cs")


def width_of(text: str, style: Style) -> float:
    """The width of the widest of its lines without any wrapping, in mm."""
    metrics = QFontMetricsF(style.font())
    return max(metrics.horizontalAdvance(line) for line in clean(text).split(_LINE_SEPARATOR)) / UNITS


def longest_word(text: str, style: Style) -> float:
    """The width of the widest word, in mm: below it, a column would have to break a word."""
    metrics = QFontMetricsF(style.font())
    return max((metrics.horizontalAdvance(word) for word in clean(text).split()), default=0.0) / UNITS


class Flow:
    """Text wrapped to a width; its first characters may be bold. Lines can be drawn a few at a time."""

    def __init__(self, text: str, width: float, style: Style = BODY, *, lead: str = "", right: bool = False):
        lead = clean(lead)
        text = clean(text)
        joined = f"{lead} {text}" if lead and text else lead + text
        self.style = style
        self._layout = QTextLayout(joined, style.font())
        self._layout.setTextOption(_option(right))
        self._layout.setFormats([_bold(len(lead), style)] if lead else [])
        self._layout.setCacheEnabled(True)
        self._lines = _broken(self._layout, width)

    @property
    def lines(self) -> int:
        """How many lines there are; empty text has none."""
        return len(self._lines)

    @property
    def height(self) -> float:
        """The height of all lines, in mm."""
        return self.lines * self.style.leading

    def draw(self, painter: QPainter, x: float, y: float, first: int = 0, last: int | None = None) -> None:
        """Draw lines ``first`` up to ``last`` with the top of the first at ``y``; x and y in mm."""
        ascent = QFontMetricsF(self.style.font()).ascent()
        for number, line in enumerate(self._lines[first:last]):
            # A line that borrows glyphs from another font has another ascent: base lines stay level.
            top = (y + number * self.style.leading) * UNITS + ascent - line.ascent()
            line.draw(painter, QPointF(x * UNITS, top))


def _option(right: bool) -> QTextOption:
    option = QTextOption(Qt.AlignmentFlag.AlignRight if right else Qt.AlignmentFlag.AlignLeft)
    option.setWrapMode(QTextOption.WrapMode.WrapAtWordBoundaryOrAnywhere)
    option.setTextDirection(Qt.LayoutDirection.LeftToRight)
    return option


def _bold(length: int, style: Style) -> QTextLayout.FormatRange:
    strong = QTextLayout.FormatRange()
    strong.start = 0
    strong.length = length
    strong.format = QTextCharFormat()
    strong.format.setFont(replace(style, bold=True).font())
    return strong


def _broken(layout: QTextLayout, width: float) -> list[QTextLine]:
    lines: list[QTextLine] = []
    if not layout.text():
        return lines
    layout.beginLayout()
    line = layout.createLine()
    while line.isValid():
        line.setLineWidth(width * UNITS)
        line.setPosition(QPointF(0, 0))
        lines.append(line)
        line = layout.createLine()
    layout.endLayout()
    return lines
