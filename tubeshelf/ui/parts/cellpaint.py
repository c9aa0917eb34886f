"""How a cell is painted: mark, first line, soft second line, and the ring of focus."""

from functools import lru_cache
from typing import NamedTuple

from PySide6.QtCore import QPointF, QRect, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetrics, QPainter, QPen

from tubeshelf.domain.palette import Palette
from tubeshelf.paper.fonts import tabular
from tubeshelf.ui import icons, tokens
from tubeshelf.ui.models.cells import Cell, Index
from tubeshelf.ui.parts.text import small_font

PAD = 10
_MARK_GAP = 8


def inset(index: Index) -> int:
    """The padding left and right of a cell's content, in pixels."""
    return 2 * PAD + (tokens.EDGE if index.column() == 0 else 0)


def inner(rect: QRect, index: Index) -> QRect:
    """A cell without its padding: also where an editor belongs."""
    return rect.adjusted(PAD + (tokens.EDGE if index.column() == 0 else 0), 0, -PAD, -1)


def cell_width(cell: Cell, base: QFont, *, sub: bool = True) -> int:
    """How wide the content of a cell is, in pixels; without ``sub`` only its first line."""
    fonts = _fonts_of(cell, base)
    width = fonts.first.width(cell.text)
    if sub and cell.sub:
        width = max(width, fonts.second.width(cell.sub))
    return (tokens.MARK + _MARK_GAP if cell.mark else 0) + width + 2


def paint_cell(painter: QPainter, rect: QRectF, cell: Cell, palette: Palette, base: QFont) -> None:
    """Paint a cell's mark and lines into ``rect``."""
    colour = palette.tone(cell.tone)
    if cell.mark:
        box = QRectF(rect.left(), rect.center().y() - tokens.MARK / 2, tokens.MARK, tokens.MARK)
        icons.paint_mark(painter, box, cell.mark, palette.tone(cell.mark_tone or cell.tone))
        rect = rect.adjusted(tokens.MARK + _MARK_GAP, 0, 0, 0)
    fonts = _fonts_of(cell, base)
    first, second = fonts
    low = second.height if cell.sub else 0
    top = rect.center().y() - (first.height + low) / 2 + (1 if cell.sub else 0)
    side = _SIDES.get(cell.align, _CENTRE)
    _line(painter, QRectF(rect.left(), top, rect.width(), first.height), side, cell.text, first, colour)
    if cell.sub:
        below = QRectF(rect.left(), top + first.height - 1, rect.width(), low)
        _line(painter, below, side, cell.sub, second, palette.soft)


_ONE_LINE = Qt.AlignmentFlag.AlignVCenter.value | Qt.TextFlag.TextSingleLine.value
_SIDES = {
    "left": Qt.AlignmentFlag.AlignLeft.value | _ONE_LINE,
    "right": Qt.AlignmentFlag.AlignRight.value | _ONE_LINE,
}
_CENTRE = Qt.AlignmentFlag.AlignHCenter.value | _ONE_LINE
_MOST_WIDTHS = 2_000


class _Type:
    """A font with its measures: to make one, or to measure a text, costs more than to paint it."""

    def __init__(self, font: QFont) -> None:
        self.font = font
        self._metrics = QFontMetrics(font)
        self.height = self._metrics.height()
        self._widths: dict[str, int] = {}

    def width(self, text: str) -> int:
        """How wide a text is, in pixels."""
        known = self._widths.get(text)
        if known is None:
            if len(self._widths) >= _MOST_WIDTHS:
                self._widths.clear()
            known = self._widths[text] = self._metrics.horizontalAdvance(text)
        return known

    def cut(self, text: str, width: int) -> str:
        """As much of a text as there is room for."""
        if self.width(text) <= width:
            return text
        return self._metrics.elidedText(text, Qt.TextElideMode.ElideRight, width)


class _Fonts(NamedTuple):
    """The fonts of the two lines of a cell."""

    first: _Type
    second: _Type


def _fonts_of(cell: Cell, base: QFont) -> _Fonts:
    return _fonts(base, cell.align == "right", cell.bold, cell.big, cell.small)


@lru_cache(maxsize=64)
def _fonts(base: QFont, right: bool, bold: bool, big: bool, small: bool) -> _Fonts:
    second = _Type(small_font(base))
    if big:
        return _Fonts(_Type(tabular(base, pixels=tokens.READING)), second)
    font = tabular(base, pixels=tokens.BODY, bold=bold) if right else QFont(base)
    font.setPixelSize(tokens.SMALL if small else tokens.BODY)
    font.setBold(bold)
    return _Fonts(_Type(font), second)


@lru_cache(maxsize=256)
def colour_of(name: str) -> QColor:
    """A colour by its name, made once."""
    return QColor(name)


def _line(painter: QPainter, rect: QRectF, flags: int, text: str, of: _Type, colour: str) -> None:
    painter.setFont(of.font)
    painter.setPen(colour_of(colour))
    painter.drawText(rect, flags, of.cut(text, int(rect.width()) + 1))


def ring(painter: QPainter, rect: QRect, palette: Palette, left: bool, right: bool) -> None:
    """The ring of focus around a cell; without an end where the ring goes on over the next cell."""
    painter.setPen(QPen(QColor(palette.accent), tokens.RING))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    box = QRectF(rect).adjusted(1, 1, -1, -2)
    if left and right:
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.drawRoundedRect(box.adjusted(1, 4, -1, -4), 6, 6)
        return
    painter.drawLine(QPointF(rect.left(), box.top()), QPointF(rect.right() + 1, box.top()))
    painter.drawLine(QPointF(rect.left(), box.bottom()), QPointF(rect.right() + 1, box.bottom()))
    if left:
        painter.drawLine(box.topLeft(), box.bottomLeft())
    if right:
        painter.drawLine(box.topRight(), box.bottomRight())
