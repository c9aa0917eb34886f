"""The base of a tube from below: numbered pins, key or gap, and a list of what is on them."""

from math import ceil, cos, radians, sin

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QFontMetrics, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from tubeshelf.domain.palette import Palette
from tubeshelf.ui import tokens
from tubeshelf.ui.parts.cellpaint import small_font
from tubeshelf.ui.parts.pins import CAP, BaseView, shape_of

_RING = 136
_ROW = 22
_LIST_GAP = 20


class BasePicture(QWidget):
    """Draws a ``BaseView``; marked pins are filled and their words bold, so they differ in grey too."""

    def __init__(self, view: BaseView | None = None, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._view = view
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.show_view(view)

    def show_view(self, view: BaseView | None) -> None:
        """Draw another base, or nothing."""
        self._view = view
        self.setAccessibleName(view.spoken() if view else "")
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        """The ring, with the list beside it."""
        if self._view is None:
            return QSize(0, 0)
        columns, rows = self._grid()
        top = _ROW if self._has_cap() else 0
        return QSize(_RING + _LIST_GAP + columns * self._words_width(), max(_RING + top, rows * _ROW + 4))

    def minimumSizeHint(self) -> QSize:
        """Narrow, but as high as its list."""
        return QSize(_RING + 80, self.sizeHint().height())

    def resizeEvent(self, event: object) -> None:
        """Another width may need another height."""
        self.updateGeometry()

    def paintEvent(self, event: QPaintEvent) -> None:
        """The ring at the left, the list at the right."""
        if self._view is None:
            return
        palette = tokens.palette_now()
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            self._ring(painter, self._view, palette)
            self._list(painter, self._view, palette)

    def _ring(self, painter: QPainter, view: BaseView, palette: Palette) -> None:
        numbered = [pin for pin, _ in view.pins if pin != CAP]
        shape = shape_of(view.base, len(numbered))
        top = _ROW if self._has_cap() else 0
        centre = QPointF(_RING / 2, top + (self.height() - top) / 2)
        painter.setPen(QPen(QColor(palette.soft), 1.4))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawEllipse(centre, _RING / 2 - 4, _RING / 2 - 4)
        _mark(painter, shape.mark, centre, palette)
        many = len(shape.angles) > 9
        for n, angle in enumerate(shape.angles[: len(numbered)], start=1):
            at = _clockwise_from_bottom(centre, 45 if not many else 48, angle)
            radius = 11 if n in shape.thick else 8.5
            _pin(painter, at, radius, str(n), str(n) in view.marked, palette, self.font())
        if self._has_cap():
            at = QPointF(centre.x(), centre.y() - _RING / 2 - 6)
            _pin(painter, at, 8.5, "c", CAP in view.marked, palette, self.font())

    def _list(self, painter: QPainter, view: BaseView, palette: Palette) -> None:
        columns, rows = self._grid()
        width = (self.width() - _RING - _LIST_GAP) / columns
        top = (self.height() - rows * _ROW) / 2
        for i, (pin, words) in enumerate(view.pins):
            differs = pin in view.marked
            left = _RING + _LIST_GAP + (i // rows) * width
            box = QRectF(left, top + (i % rows) * _ROW, width - 4, _ROW)
            font = small_font(self.font())
            font.setBold(differs)
            metrics = QFontMetrics(font)
            painter.setFont(font)
            painter.setPen(QColor(palette.soft))
            painter.drawText(box, int(Qt.AlignmentFlag.AlignVCenter), pin)
            box.setLeft(left + metrics.horizontalAdvance("12 ") + (8 if self._has_cap() else 0))
            painter.setPen(QColor(palette.reject if differs else palette.ink))
            shown = metrics.elidedText(words, Qt.TextElideMode.ElideRight, int(box.width()))
            painter.drawText(box, int(Qt.AlignmentFlag.AlignVCenter), shown)

    def _grid(self) -> tuple[int, int]:
        """Two columns if the words have room in them, else one."""
        count = len(self._view.pins) if self._view else 0
        two = self.width() - _RING - _LIST_GAP >= 2 * self._words_width() and count > 4
        columns = 2 if two else 1
        return columns, max(ceil(count / columns), 1)

    def _words_width(self) -> int:
        font = small_font(self.font())
        font.setBold(bool(self._view and self._view.marked))
        metrics = QFontMetrics(font)
        words = self._view.pins if self._view else ()
        return max((metrics.horizontalAdvance(f"12 {w}") for _, w in words), default=0) + 12

    def _has_cap(self) -> bool:
        return self._view is not None and any(pin == CAP for pin, _ in self._view.pins)


def _clockwise_from_bottom(centre: QPointF, radius: float, degrees: float) -> QPointF:
    turn = radians(degrees)
    return QPointF(centre.x() - radius * sin(turn), centre.y() + radius * cos(turn))


def _mark(painter: QPainter, mark: str, centre: QPointF, palette: Palette) -> None:
    """The key of a guide post, the pip on a rim or the gap in the ring, at the bottom."""
    if mark in ("key", "lock"):
        painter.drawEllipse(centre, 17, 17)
        painter.setBrush(QColor(palette.soft))
        painter.drawRect(QRectF(centre.x() - 4, centre.y() + 14, 8, 7))
        if mark == "lock":
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawEllipse(centre, 11, 11)
    elif mark == "pip":
        painter.setBrush(QColor(palette.soft))
        painter.drawEllipse(QPointF(centre.x(), centre.y() + _RING / 2 - 4), 4, 4)
    elif mark == "gap":
        at = QPointF(centre.x(), centre.y() + 45)
        painter.drawLine(at - QPointF(4, 0), at + QPointF(4, 0))


def _pin(
    painter: QPainter, at: QPointF, radius: float, text: str, marked: bool, palette: Palette, base: QFont
) -> None:
    painter.setPen(QPen(QColor(palette.reject if marked else palette.ink), 1.4))
    painter.setBrush(QColor(palette.reject if marked else palette.panel))
    painter.drawEllipse(at, radius, radius)
    font = small_font(base)
    font.setPixelSize(10)
    font.setBold(marked)
    painter.setFont(font)
    painter.setPen(QColor(palette.panel if marked else palette.ink))
    box = QRectF(at.x() - radius, at.y() - radius, 2 * radius, 2 * radius)
    painter.drawText(box, int(Qt.AlignmentFlag.AlignCenter), text)
