"""The base of a tube from below: numbered pins, key or gap, and a list of what is on them."""

from math import ceil, cos, radians, sin

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QFont, QFontMetrics, QMouseEvent, QPainter, QPaintEvent, QPen, QResizeEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from tubeshelf.domain.palette import Palette
from tubeshelf.ui import tokens
from tubeshelf.ui.parts.pins import CAP, SCHEMATIC, BaseView
from tubeshelf.ui.parts.text import small_font

_RING = 128
_ROW = 20
_LIST_GAP = 14
_COLUMN_GAP = 10
_PINS = 44
_REACH = 3


class BasePicture(QWidget):
    """Draws a ``BaseView``; marked pins are filled and their words bold, so they differ in grey too.

    ``picked`` carries the pin that was clicked, for a picture one ``may_pick`` from.
    """

    picked = Signal(str)

    def __init__(self, view: BaseView | None = None, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._view = view
        self._hinted: tuple[int, QFont, QSize] | None = None
        self.may_pick = False
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.show_view(view)

    def show_view(self, view: BaseView | None) -> None:
        """Draw another base, or nothing."""
        if view is not None and view == self._view and self.accessibleName():
            return
        self._view, self._hinted = view, None
        self.setAccessibleName(view.spoken() if view else "")
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        """The ring, with the list beside it."""
        width, font = self.width(), self.font()
        if self._hinted is None or self._hinted[:2] != (width, font):  # layouts ask for it again and again
            self._hinted = width, font, self._size()
        return self._hinted[2]

    def _size(self) -> QSize:
        if self._view is None:
            return QSize(0, 0)
        columns = self._columns()
        top = _ROW if self._has_cap() else 0
        words = sum(self._needs(column) + _COLUMN_GAP for column in columns)
        below = _ROW if self._view.shape.schematic else 0
        return QSize(_RING + _LIST_GAP + words, max(_RING + top + below, len(columns[0]) * _ROW + 4))

    @property
    def view(self) -> BaseView | None:
        """What is drawn."""
        return self._view

    @property
    def whole_width(self) -> int:
        """The least width at which no word is cut."""
        return 0 if self._view is None else _RING + _LIST_GAP + self._needs(self._view.pins)

    def minimumSizeHint(self) -> QSize:
        """Narrow, but as high as its list."""
        return QSize(_RING + 80, self.sizeHint().height())

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Another width may need another height."""
        self.updateGeometry()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """A click picks the pin it is on, or its line in the list."""
        pin = self.pin_at(event.position()) if self.may_pick else ""
        if pin:
            self.picked.emit(pin)
        else:
            super().mousePressEvent(event)

    def pin_at(self, point: QPointF) -> str:
        """The pin at a point of the picture, empty for none."""
        for pin, at, radius in self.places():
            off = point - at
            if off.x() ** 2 + off.y() ** 2 <= (radius + _REACH) ** 2:
                return pin
        for pin, _, box in self._lines():
            if box.contains(point):
                return pin
        return ""

    def paintEvent(self, event: QPaintEvent) -> None:
        """The ring at the left, the list at the right."""
        if self._view is None:
            return
        palette = tokens.palette_now()
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            self._ring(painter, self._view, palette)
            for pin, words, box in self._lines():
                self._line(painter, box, pin, words, palette, differs=pin in self._view.marked)

    def _ring(self, painter: QPainter, view: BaseView, palette: Palette) -> None:
        centre = self._centre()
        painter.setPen(QPen(QColor(palette.soft), 1.4))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawEllipse(centre, _RING / 2 - 4, _RING / 2 - 4)
        _mark(painter, view.shape.mark, centre, palette)
        for pin, at, radius in self.places():
            number = "c" if pin == CAP else pin
            _pin(painter, at, radius, number, pin in view.marked, palette, self.font())
        if view.shape.schematic:
            painter.setFont(self._font(bold=False))
            painter.setPen(QColor(palette.soft))
            under = QRectF(0, centre.y() + _RING / 2 - 2, _RING, _ROW)
            painter.drawText(under, int(Qt.AlignmentFlag.AlignCenter), SCHEMATIC)

    def _centre(self) -> QPointF:
        top = _ROW if self._has_cap() else 0
        below = _ROW if self._view is not None and self._view.shape.schematic else 0
        return QPointF(_RING / 2, top + (self.height() - top - below) / 2)

    def places(self) -> list[tuple[str, QPointF, float]]:
        """Each pin of the ring with its centre and radius; the top cap above them."""
        if self._view is None:
            return []
        centre, shape = self._centre(), self._view.shape
        numbered = sum(pin != CAP for pin, _ in self._view.pins)
        places = [
            (str(n), _clockwise_from_bottom(centre, _PINS * reach, angle), 11 if n in shape.thick else 8.5)
            for n, (angle, reach) in enumerate(shape.places(numbered), start=1)
        ]
        if self._has_cap():
            places.append((CAP, QPointF(centre.x(), centre.y() - _RING / 2 - 6), 8.5))
        return places

    def _lines(self) -> list[tuple[str, str, QRectF]]:
        """Each line of the list: its pin, its words, its box."""
        left = float(_RING + _LIST_GAP)
        columns = self._columns()
        rows = len(columns[0]) if columns else 0
        top = (self.height() - rows * _ROW) / 2
        lines = []
        for column in columns:
            room = self.width() - left if column is columns[-1] else self._needs(column)
            lines += [
                (pin, words, QRectF(left, top + i * _ROW, room, _ROW))
                for i, (pin, words) in enumerate(column)
            ]
            left += room + _COLUMN_GAP
        return lines

    def _line(
        self, painter: QPainter, box: QRectF, pin: str, words: str, palette: Palette, *, differs: bool
    ) -> None:
        metrics = self._metrics(bold=differs)
        painter.setFont(self._font(bold=differs))
        painter.setPen(QColor(palette.soft))
        painter.drawText(box, int(Qt.AlignmentFlag.AlignVCenter), pin)
        box.setLeft(box.left() + self._number_width())
        painter.setPen(QColor(palette.reject if differs else palette.ink))
        shown = metrics.elidedText(words, Qt.TextElideMode.ElideRight, int(box.width()) + 1)
        painter.drawText(box, int(Qt.AlignmentFlag.AlignVCenter), shown)

    def _columns(self) -> list[tuple[tuple[str, str], ...]]:
        """The list in two columns if the words have room in them, else in one."""
        pins = self._view.pins if self._view else ()
        half = ceil(len(pins) / 2)
        two = [pins[:half], pins[half:]]
        needed = sum(self._needs(column) for column in two) + _COLUMN_GAP
        return two if len(pins) > 4 and needed <= self.width() - _RING - _LIST_GAP else [pins]

    def _needs(self, column: tuple[tuple[str, str], ...]) -> int:
        marked = self._view.marked if self._view else frozenset()
        widths = (self._metrics(bold=pin in marked).horizontalAdvance(words) for pin, words in column)
        return self._number_width() + max(widths, default=0) + 2

    def _number_width(self) -> int:
        longest = max((pin for pin, _ in self._view.pins), key=len, default="") if self._view else ""
        return self._metrics(bold=True).horizontalAdvance(longest + "  ")

    def _font(self, *, bold: bool) -> QFont:
        font = small_font(self.font())
        font.setBold(bold)
        return font

    def _metrics(self, *, bold: bool) -> QFontMetrics:
        return QFontMetrics(self._font(bold=bold))

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
        at = QPointF(centre.x(), centre.y() + _PINS)
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
