"""How the parts of the scale picture are drawn: what differs does so in shape, to be read in grey as well."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QPainter, QPainterPath, QPen, QPolygonF

from tubeshelf.domain.judging import Zone
from tubeshelf.domain.palette import Palette
from tubeshelf.ui.parts.labels import Placed

if TYPE_CHECKING:
    from tubeshelf.ui.parts.scale import Earlier, Edges

BAR = 16
LINE = 17
TICK = 5
NEEDLE = 13
SHAPE = 14
"""Room for a shape before its words."""

THIS_TUBE, THIS_PLACE, NOT_SURE = "this tube before", "this place, other tubes", "too close to call"

_WHISKER_UP = 5
_RADIUS = 4.2


@dataclass(frozen=True, slots=True)
class Canvas:
    """A painter at work on one scale: where its bar is, its colours, and where a value stands."""

    painter: QPainter
    bar: QRectF
    palette: Palette
    x: Callable[[float], float]

    def zones(self, edges: "Edges") -> None:
        """The grounds, which differ in lightness as much as in colour."""
        grounds = {
            Zone.REJECT: self.palette.zone_reject,
            Zone.WEAK: self.palette.zone_weak,
            Zone.GOOD: self.palette.zone_good,
        }
        for zone, low, high in edges:
            left = self.bar.left() if low is None else self.x(low)
            right = self.bar.right() if high is None else self.x(high)
            self.painter.fillRect(
                QRectF(left, self.bar.top(), right - left, self.bar.height()), QColor(grounds[zone])
            )

    def guards(self, limits: Sequence[float], guard: float | None) -> None:
        """The guard bands: hatched where a reading is too close to a limit to be sure of."""
        if not guard:
            return
        bands = QPainterPath()
        for limit in limits:
            left, right = self.x(limit - guard), self.x(limit + guard)
            band = QPainterPath()
            band.addRect(QRectF(left, self.bar.top(), max(right - left, 2.0), self.bar.height()))
            bands = bands.united(band)
        self.painter.fillPath(bands, self._hatch())

    def frame(self, limits: Sequence[float], *, judged: bool) -> None:
        """A line around the bar, dashed where nothing is judged, and one at each limit."""
        style = Qt.PenStyle.SolidLine if judged else Qt.PenStyle.DashLine
        self.painter.setPen(QPen(QColor(self.palette.control), 1, style))
        self.painter.setBrush(Qt.BrushStyle.NoBrush)
        self.painter.drawRect(self.bar.adjusted(0.5, 0.5, -0.5, -0.5))
        self.painter.setPen(QPen(QColor(self.palette.ink), 1.4))
        for limit in limits:
            x = min(max(self.x(limit), 1.0), self.bar.right() - 1)
            self.painter.drawLine(QPointF(x, self.bar.top()), QPointF(x, self.bar.bottom()))

    def ticks(self, labels: Sequence[Placed], dotted: Sequence[float]) -> None:
        """The figures below the bar; at those of ``dotted`` a dotted line goes through it."""
        for label in labels:
            self.painter.setPen(QColor(self.palette.soft))
            x = min(label.tag.at, self.bar.right() - 1)
            self.painter.drawLine(QPointF(x, self.bar.bottom()), QPointF(x, self.bar.bottom() + TICK - 1))
            self._write(label, self.bar.bottom() + TICK + label.level * LINE)
        self.painter.setPen(QPen(QColor(self.palette.ink), 1.4, Qt.PenStyle.DotLine))
        for value in dotted:
            x = min(self.x(value), self.bar.right() - 1)
            self.painter.drawLine(QPointF(x, self.bar.top()), QPointF(x, self.bar.bottom()))

    def shapes_before(self, labels: Sequence[Placed], earlier: "Sequence[Earlier]") -> None:
        """Earlier readings on the bar, and their captions above the reading's own line."""
        for one in earlier:
            self._shape(self.x(one.value), self.bar.center().y(), same_tube=one.same_tube)
        # The captions were given falling weights in the order of the readings.
        for label in labels:
            top = self.bar.top() - NEEDLE - (label.level + 2) * LINE
            self._shape(label.left + 5, top + LINE / 2, same_tube=earlier[-label.tag.weight].same_tube)
            self.painter.setPen(QColor(self.palette.soft))
            self._write(label, top, SHAPE)

    def legend(self, labels: Sequence[Placed], top: float) -> None:
        """What the shapes mean."""
        for label in labels:
            at = top + label.level * LINE
            if label.tag.text == NOT_SURE:
                box = QRectF(label.left, at + 4, 10, LINE - 8)
                self.painter.fillRect(box, self._hatch())
                self.painter.setPen(QColor(self.palette.control))
                self.painter.drawRect(box)
            else:
                self._shape(label.left + 5, at + LINE / 2, same_tube=label.tag.text == THIS_TUBE)
            self.painter.setPen(QColor(self.palette.soft))
            self._write(label, at, SHAPE)

    def repeats(self, values: Sequence[float]) -> None:
        """The readings of which the mean is shown: small dots at the foot of the bar."""
        self.painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        self.painter.setPen(Qt.PenStyle.NoPen)
        self.painter.setBrush(QColor(self.palette.ink))
        for value in values:
            self.painter.drawEllipse(QPointF(self.x(value), self.bar.bottom() - 3.5), 2.2, 2.2)

    def reading(self, value: float, off: int, guard: float | None, labels: Sequence[Placed]) -> None:
        """The needle with a whisker as long as its uncertainty; off the scale an arrow that points there."""
        painter, ink = self.painter, QColor(self.palette.ink)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        x = min(max(self.x(value), 1.5), self.bar.right() - 1.5)
        above = self.bar.top() - _WHISKER_UP
        if off:
            tip, middle = x + 1.5 * off, self.bar.center().y()
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(ink)
            corners = (QPointF(tip - 11 * off, middle - 8), QPointF(tip - 11 * off, middle + 8))
            painter.drawPolygon(QPolygonF([QPointF(tip, middle), *corners]))
        else:
            painter.setPen(QPen(ink, 3, c=Qt.PenCapStyle.FlatCap))
            painter.drawLine(QPointF(x, self.bar.top() - NEEDLE + 2), QPointF(x, self.bar.bottom() + 5))
        if guard and not off:
            painter.setPen(QPen(ink, 2, c=Qt.PenCapStyle.FlatCap))
            left, right = self.x(value - guard), self.x(value + guard)
            painter.drawLine(QPointF(left, above), QPointF(right, above))
            for end in (left, right):
                end = min(max(end, 0.8), self.bar.right() - 0.8)
                painter.drawLine(QPointF(end, above - 3), QPointF(end, above + 3))
        painter.setPen(ink)
        for label in labels:
            self._write(label, self.bar.top() - NEEDLE - LINE)

    def _shape(self, x: float, y: float, *, same_tube: bool) -> None:
        """A ring for this tube, a diamond for another tube in this place."""
        painter = self.painter
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(QColor(self.palette.ink), 1.5))
        painter.setBrush(QColor(self.palette.panel))
        if same_tube:
            painter.drawEllipse(QPointF(x, y), _RADIUS, _RADIUS)
        else:
            r = _RADIUS + 0.9
            corners = (QPointF(x, y - r), QPointF(x + r, y), QPointF(x, y + r), QPointF(x - r, y))
            painter.drawPolygon(QPolygonF(corners))
        painter.restore()

    def _hatch(self) -> QBrush:
        return QBrush(QColor(self.palette.again), Qt.BrushStyle.BDiagPattern)

    def _write(self, label: Placed, top: float, indent: float = 0) -> None:
        box = QRectF(label.left + indent, top, label.tag.width - indent + 2, LINE)
        flags = int(Qt.AlignmentFlag.AlignVCenter | Qt.TextFlag.TextSingleLine)
        self.painter.drawText(box, flags, label.tag.text)
