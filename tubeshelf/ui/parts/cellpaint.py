"""How a cell is painted: mark, first line, soft second line, and the ring of focus."""

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
    mark = tokens.MARK + _MARK_GAP if cell.mark else 0
    width = QFontMetrics(_main(cell, base)).horizontalAdvance(cell.text)
    if sub:
        width = max(width, QFontMetrics(small_font(base)).horizontalAdvance(cell.sub))
    return mark + width + 2


def paint_cell(painter: QPainter, rect: QRectF, cell: Cell, palette: Palette, base: QFont) -> None:
    """Paint a cell's mark and lines into ``rect``."""
    colour = palette.tone(cell.tone)
    if cell.mark:
        box = QRectF(rect.left(), rect.center().y() - tokens.MARK / 2, tokens.MARK, tokens.MARK)
        icons.paint_mark(painter, box, cell.mark, palette.tone(cell.mark_tone or cell.tone))
        rect = rect.adjusted(tokens.MARK + _MARK_GAP, 0, 0, 0)
    sides = {"left": Qt.AlignmentFlag.AlignLeft, "right": Qt.AlignmentFlag.AlignRight}
    side = sides.get(cell.align, Qt.AlignmentFlag.AlignHCenter)
    font, small = _main(cell, base), small_font(base)
    height, low = QFontMetrics(font).height(), QFontMetrics(small).height() if cell.sub else 0
    top = rect.center().y() - (height + low) / 2 + (1 if cell.sub else 0)
    _line(painter, QRectF(rect.left(), top, rect.width(), height), side, cell.text, font, colour)
    if cell.sub:
        below = QRectF(rect.left(), top + height - 1, rect.width(), low)
        _line(painter, below, side, cell.sub, small, palette.soft)


def _line(
    painter: QPainter, rect: QRectF, side: Qt.AlignmentFlag, text: str, font: QFont, colour: str
) -> None:
    painter.setFont(font)
    painter.setPen(QColor(colour))
    shown = QFontMetrics(font).elidedText(text, Qt.TextElideMode.ElideRight, int(rect.width()) + 1)
    painter.drawText(rect, int(side | Qt.AlignmentFlag.AlignVCenter | Qt.TextFlag.TextSingleLine), shown)


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


def _main(cell: Cell, base: QFont) -> QFont:
    if cell.big:
        return tabular(base, pixels=tokens.READING)
    font = tabular(base, pixels=tokens.BODY, bold=cell.bold) if cell.align == "right" else QFont(base)
    font.setPixelSize(tokens.SMALL if cell.small else tokens.BODY)
    font.setBold(cell.bold)
    return font
