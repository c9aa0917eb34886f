"""A small histogram: how many of a type read what, over the zones of their limit, drawn at once."""

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFontMetrics, QPainter, QPaintEvent, QPen, QResizeEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from tubeshelf.domain.judging import Zone
from tubeshelf.domain.palette import Palette
from tubeshelf.ui import tokens
from tubeshelf.ui.parts.labels import Placed, Tag, place
from tubeshelf.ui.parts.scale import ScaleView
from tubeshelf.ui.parts.text import small_font

_HEIGHT = 84
_TICK = 5
_LINE = 17
_BINS = 18
_POINTER = 7


@dataclass(frozen=True, slots=True)
class HistogramView:
    """What to draw, in the unit of ``scale``: all ``values``, and those of the tube ``in_hand`` marked."""

    scale: ScaleView
    values: tuple[float, ...] = ()
    in_hand: tuple[float, ...] = ()

    def top(self) -> float:
        """The right end: everything has room, and some is left."""
        scale = self.scale
        if scale.words:
            return len(scale.words) + 0.5
        known = [scale.good_from, scale.reject_below, scale.bogey, *self.values, *self.in_hand]
        return max((v for v in known if v is not None), default=0.0) * 1.08 or 1.0

    def counts(self) -> tuple[int, ...]:
        """How many values fall into each bar, from the left end of the scale; one bar a word."""
        bars = len(self.scale.words) or _BINS
        low = 0.5 if self.scale.words else 0.0
        found = [0] * bars
        for value in self.values:
            share = (value - low) / (self.top() - low)
            found[min(max(int(share * bars), 0), bars - 1)] += 1
        return tuple(found)

    def spoken(self) -> str:
        """The picture in words."""
        if not self.values:
            return "none read yet"
        low, high = min(self.values), max(self.values)
        return f"{len(self.values)} readings from {self.scale.say(low)} to {self.scale.say(high)}"


class Histogram(QWidget):
    """Draws a ``HistogramView``."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._view = HistogramView(ScaleView())
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    @property
    def view(self) -> HistogramView:
        """What is drawn."""
        return self._view

    def show_view(self, view: HistogramView) -> None:
        """Draw another."""
        self._view = view
        self.setAccessibleName(f"Histogram: {view.spoken()}, {view.scale.caption()}")
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        """Bars, ticks, and as many lines of labels as they need."""
        lines = 1 + max((label.level for label in self._placed()), default=0)
        return QSize(260, _POINTER + _HEIGHT + _TICK + lines * _LINE)

    def minimumSizeHint(self) -> QSize:
        """Narrower, as high."""
        return QSize(160, self.sizeHint().height())

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Another width may need another line of labels."""
        self.updateGeometry()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Zones, bars, the tube in hand, labels."""
        palette = tokens.palette_now()
        field = QRectF(0, _POINTER, self.width(), _HEIGHT)
        with QPainter(self) as painter:
            self._zones(painter, field, palette)
            self._bars(painter, field, palette)
            self._pointers(painter, field, palette)
            self._labels(painter, field, palette)

    def _zones(self, painter: QPainter, field: QRectF, palette: Palette) -> None:
        edges = self._view.scale.edges()
        if not edges:
            painter.setPen(QPen(QColor(palette.line), 1))
            painter.drawRect(field.adjusted(0.5, 0.5, -0.5, -0.5))
        grounds = {
            Zone.REJECT: palette.zone_reject,
            Zone.WEAK: palette.zone_weak,
            Zone.GOOD: palette.zone_good,
        }
        for zone, low, high in edges:
            left = field.left() if low is None else self._x(low)
            right = field.right() if high is None else self._x(high)
            painter.fillRect(QRectF(left, field.top(), right - left, field.height()), QColor(grounds[zone]))

    def _bars(self, painter: QPainter, field: QRectF, palette: Palette) -> None:
        counts = self._view.counts()
        most, width = max(counts, default=0), field.width() / len(counts)
        for at, count in enumerate(counts):
            if count:
                height = count / most * (field.height() - 10)
                bar = QRectF(at * width + 2, field.bottom() - height, width - 4, height)
                painter.fillRect(bar, QColor(palette.accent))

    def _pointers(self, painter: QPainter, field: QRectF, palette: Palette) -> None:
        """A line and a wedge from above for each reading of the tube in hand."""
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        for value in self._view.in_hand:
            x = min(max(self._x(value), 1.0), field.right() - 1)
            painter.setPen(QPen(QColor(palette.ink), 1.6))
            painter.drawLine(QPointF(x, field.top()), QPointF(x, field.bottom()))
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(QColor(palette.ink))
            top = field.top() - _POINTER
            painter.drawPolygon((QPointF(x - 5, top), QPointF(x + 5, top), QPointF(x, field.top() + 1)))

    def _labels(self, painter: QPainter, field: QRectF, palette: Palette) -> None:
        painter.setFont(small_font(self.font()))
        painter.setPen(QColor(palette.soft))
        for label in self._placed():
            x = min(label.tag.at, field.right() - 1)
            painter.drawLine(QPointF(x, field.bottom()), QPointF(x, field.bottom() + _TICK - 1))
            top = field.bottom() + _TICK + label.level * _LINE
            box = QRectF(label.left, top, label.tag.width + 2, _LINE)
            painter.drawText(box, int(Qt.AlignmentFlag.AlignVCenter), label.tag.text)

    def _placed(self) -> list[Placed]:
        return place(self._tags(QFontMetrics(small_font(self.font()))), 0, self.width())

    def _tags(self, metrics: QFontMetrics) -> Sequence[Tag]:
        scale = self._view.scale
        if scale.words:
            marks = [(float(n), word, 0) for n, word in enumerate(scale.words, start=1)]
        else:
            marks = [(v, scale.say(v), 2) for v in {scale.reject_below, scale.good_from} if v is not None]
            if scale.bogey is not None:
                marks.append((scale.bogey, f"{scale.say(scale.bogey)} bogey", 1))
            if not marks:
                marks = [(v, scale.say(v), 0) for v in {*self._view.values[:1], *self._view.values[-1:]}]
        return [Tag(text, self._x(v), metrics.horizontalAdvance(text) + 1, w) for v, text, w in marks]

    def _x(self, value: float) -> float:
        low = 0.5 if self._view.scale.words else 0.0
        share = (value - low) / (self._view.top() - low)
        return min(max(share, 0.0), 1.0) * self.width()
