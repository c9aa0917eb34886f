"""How a chassis and its sockets are painted: mark, words and ring; from below with the pins."""

from dataclasses import dataclass
from math import cos, radians, sin

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetrics, QPainter, QPen

from tubeshelf.domain.chassis import Seat
from tubeshelf.domain.palette import Palette
from tubeshelf.ui import icons, tokens
from tubeshelf.ui.marks import Look
from tubeshelf.ui.parts.pins import Shape
from tubeshelf.ui.parts.text import small_font

CAPTION = 22
"""Pixels below the chassis for the word at its front."""

_LINE, _SOCKET, _LEAST_SOCKET = 17, 44, 22
_FIT = 20
_CENTRE = int(Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignVCenter)


@dataclass(frozen=True, slots=True)
class SocketMark:
    """A socket to draw: its mark and words, a second line, the mark of a fit that is not right.

    ``spoken`` is all of it in a sentence; ``shape`` where the pins are, seen from below.
    """

    position: str
    seat: Seat
    look: Look
    beside: str = ""
    fit: Look | None = None
    empty: bool = False
    shape: Shape | None = None
    spoken: str = ""


def paint_chassis(painter: QPainter, palette: Palette, chassis: QRectF, font: QFont, *, below: bool) -> None:
    """The outline, its front a heavy edge with the word below it."""
    painter.setPen(QPen(QColor(palette.soft), 1.4))
    painter.setBrush(QColor(palette.panel))
    painter.drawRoundedRect(chassis, 6, 6)
    painter.setPen(QPen(QColor(palette.ink), 4, Qt.PenStyle.SolidLine, Qt.PenCapStyle.FlatCap))
    inset = chassis.width() / 5
    painter.drawLine(chassis.bottomLeft() + QPointF(inset, 0), chassis.bottomRight() - QPointF(inset, 0))
    caption = QRectF(chassis.left(), chassis.bottom() + 3, chassis.width(), CAPTION - 3)
    words = "front · from below, left and right exchanged" if below else "front · from above"
    _say(painter, caption, words, palette.soft, small_font(font))


def paint_rings(painter: QPainter, palette: Palette, box: QRectF, *, in_hand: bool, focus: bool) -> None:
    """The ground of the socket in hand, and the ring where the keyboard is."""
    if in_hand:
        painter.setPen(QPen(QColor(palette.accent), 1.4))
        painter.setBrush(QColor(palette.selected))
        painter.drawRoundedRect(box, 8, 8)
    if focus:
        painter.setPen(QPen(QColor(palette.accent), tokens.RING + 0.5))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRoundedRect(box.adjusted(-2, -2, 2, 2), 9, 9)


def paint_socket(
    painter: QPainter, palette: Palette, box: QRectF, mark: SocketMark, font: QFont, *, below: bool
) -> None:
    """The position, the socket with what stands in it, and the words; the second line only if it has room."""
    bold, small = QFont(font), small_font(font)
    bold.setBold(True)
    tone = "soft" if mark.fit is None else mark.fit.tone
    told = ((mark.look.word, palette.tone(mark.look.tone)), (mark.beside, palette.tone(tone)))
    lines = [line for line in told if line[0]]
    size = box.height() - _LINE * (1 + len(lines)) - 4
    if size < _LEAST_SOCKET:
        lines, size = lines[:1], max(box.height() - 2 * _LINE - 4, _LEAST_SOCKET)
    size = min(size, _SOCKET)
    top = box.center().y() - (size + _LINE * (1 + len(lines)) + 4) / 2
    _say(painter, QRectF(box.left(), top, box.width(), _LINE), mark.position, palette.ink, bold)
    _seat(painter, palette, mark, QPointF(box.center().x(), top + _LINE + 2 + size / 2), size, below)
    for number, (words, colour) in enumerate(lines):
        line = QRectF(box.left() + 2, top + _LINE * (1 + number) + size + 4, box.width() - 4, _LINE)
        words_font = QFont(small)
        words_font.setBold(number == 0 or mark.fit is not None)
        _say(painter, line, words, colour, words_font)


def _seat(
    painter: QPainter, palette: Palette, mark: SocketMark, centre: QPointF, size: float, below: bool
) -> None:
    """A ring, dashed where it is empty; inside it the mark of the tube, beside it that of the fit."""
    pen = QPen(QColor(palette.ink if mark.empty else palette.soft), 1.4)
    if mark.empty:
        pen.setDashPattern([3.0, 3.0])
    painter.setPen(pen)
    painter.setBrush(QColor(palette.panel))
    painter.drawEllipse(centre, size / 2, size / 2)
    if below and mark.shape is not None:
        _pins(painter, palette, mark.shape, centre, size / 2)
    if mark.look.icon and not mark.empty:
        inner = size - (16 if below else 10)
        icons.paint_mark(painter, _square(centre, inner), mark.look.icon, palette.tone(mark.look.tone))
    if mark.fit is not None:
        side = min(_FIT, size / 2)
        corner = centre + QPointF(size / 2 + side / 2 + 2, -size / 2 + side / 2)
        icons.paint_mark(painter, _square(corner, side), mark.fit.icon, palette.tone(mark.fit.tone))


def _pins(painter: QPainter, palette: Palette, shape: Shape, centre: QPointF, radius: float) -> None:
    """A dot for each pin clockwise from the bottom, as seen from below; the first one is filled."""
    painter.setPen(QPen(QColor(palette.ink), 1.2))
    for number, (angle, reach) in enumerate(shape.places(len(shape.angles))):
        turn, away = radians(angle), radius * reach
        at = QPointF(centre.x() - away * sin(turn), centre.y() + away * cos(turn))
        painter.setBrush(QColor(palette.panel if number else palette.ink))
        painter.drawEllipse(at, 2.6, 2.6)


def _square(centre: QPointF, side: float) -> QRectF:
    return QRectF(centre.x() - side / 2, centre.y() - side / 2, side, side)


def _say(painter: QPainter, room: QRectF, words: str, colour: str, font: QFont) -> None:
    painter.setFont(font)
    painter.setPen(QColor(colour))
    shown = QFontMetrics(font).elidedText(words, Qt.TextElideMode.ElideRight, int(room.width()) + 1)
    painter.drawText(room, _CENTRE, shown)
