"""The scale picture: the zones of a limit with the reading in them, drawn as it is typed."""

from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QFontMetrics, QPainter, QPaintEvent, QPen, QResizeEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from tubeshelf.domain.palette import Palette
from tubeshelf.ui import tokens
from tubeshelf.ui.parts.labels import Placed, Tag, place
from tubeshelf.ui.parts.text import small_font

_BAR = 16
_LINE = 17
_TICK = 5
_NEEDLE = 11
_HEADROOM = 1.08


@dataclass(frozen=True, slots=True)
class ScaleView:
    """What to draw, all in ``unit``; ``None`` is not known, and without a limit there are no zones.

    ``guard`` is half the width of the band in which a reading is not sure, 1.645·u. ``earlier`` are
    older readings with a caption each. On a scale of ``words`` values are positions counted from 1.
    """

    good_from: float | None = None
    reject_below: float | None = None
    bogey: float | None = None
    full_scale: float | None = None
    unit: str = ""
    value: float | None = None
    guard: float | None = None
    earlier: tuple[tuple[str, float], ...] = ()
    words: tuple[str, ...] = ()

    def top(self) -> float:
        """The right end of the scale: the tester's full scale unless everything would crowd at the left."""
        if self.words:
            return len(self.words) + 0.5
        known = [self.good_from, self.reject_below, self.bogey, self.value, *(v for _, v in self.earlier)]
        most = max((v for v in known if v is not None), default=0.0) * _HEADROOM
        if self.full_scale is not None and (most <= 0 or most <= self.full_scale <= 2 * most):
            return self.full_scale
        return most if most > 0 else 1.0

    def say(self, value: float) -> str:
        """A value as it is written on the scale."""
        if self.words:
            return self.words[min(max(round(value), 1), len(self.words)) - 1]
        digits = 0 if abs(value) >= 100 or value == int(value) else 2 if abs(value) < 10 else 1
        return f"{value:,.{digits}f}"

    def caption(self) -> str:
        """The picture in words: for the heading above it and for those who do not see it."""
        low, high = self.reject_below, self.good_from
        parts = [
            f"reject below {self.say(low)}" if low is not None else "",
            f"good from {self.say(high)}" if high is not None else "",
        ]
        return ", ".join(p for p in parts if p) or "no limit entered"


class ScalePicture(QWidget):
    """Draws a ``ScaleView``."""

    def __init__(self, view: ScaleView | None = None, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._view = view or ScaleView()
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.show_view(self._view)

    @property
    def view(self) -> ScaleView:
        """What is drawn."""
        return self._view

    def show_view(self, view: ScaleView) -> None:
        """Draw another."""
        self._view = view
        reads = "" if view.value is None else f"reads {view.say(view.value)}, "
        self.setAccessibleName(f"Scale: {reads}{view.caption()}")
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        """Room for the lines of labels; above the bar it does not change while a reading is typed."""
        below = 1 + max((label.level for label in self.below()), default=0)
        return QSize(260, self._bar_top() + _BAR + _TICK + below * _LINE + 2)

    def minimumSizeHint(self) -> QSize:
        """As high as it hints, since its labels are read."""
        return QSize(160, self.sizeHint().height())

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Another width may need another line of labels."""
        self.updateGeometry()

    def above(self) -> list[Placed]:
        """The labels above the bar: the reading first, then the earlier ones."""
        view = self._view
        bold, small = QFontMetrics(_needle_font(self.font())), QFontMetrics(small_font(self.font()))
        tags = [
            _tag(f"{caption}: {view.say(value)}", self._x(value), small, n - len(view.earlier))
            for n, (caption, value) in enumerate(view.earlier)
        ]
        if view.value is not None:
            tags.append(_tag(view.say(view.value), self._x(view.value), bold, 1))
        return place(tags, 0, self.width())

    def below(self) -> list[Placed]:
        """The labels below the bar: the limits first, then the bogey and the ends."""
        view, small = self._view, QFontMetrics(small_font(self.font()))
        marks: list[tuple[float, str, int]] = []
        if view.words:
            marks = [(n, word, 0) for n, word in enumerate(view.words, start=1)]
        else:
            marks.append((0.0, "0", -2))
            marks += [(v, view.say(v), 2) for v in {view.reject_below, view.good_from} if v is not None]
            if view.bogey is not None:
                marks.append((view.bogey, f"{view.say(view.bogey)} bogey", 1))
            if view.full_scale is not None and view.full_scale == view.top() != view.bogey:
                marks.append((view.full_scale, view.say(view.full_scale), -1))
        tags = [_tag(text, self._x(value), small, weight) for value, text, weight in marks]
        return place(tags, 0, self.width())

    def paintEvent(self, event: QPaintEvent) -> None:
        """Zones, ticks and their labels, earlier readings, guard band, needle."""
        palette = tokens.palette_now()
        bar = QRectF(0, self._bar_top(), self.width(), _BAR)
        with QPainter(self) as painter:
            self._zones(painter, bar, palette)
            self._labels(painter, bar, palette)
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            for _, value in self._view.earlier:
                painter.setPen(QPen(QColor(palette.soft), 1.6))
                painter.setBrush(QColor(palette.panel))
                painter.drawEllipse(QPointF(self._x(value), bar.center().y()), 4, 4)
            if self._view.value is not None:
                self._needle(painter, bar, palette, self._view.value)

    def _zones(self, painter: QPainter, bar: QRectF, palette: Palette) -> None:
        view = self._view
        if view.good_from is None and view.reject_below is None:
            painter.setPen(QPen(QColor(palette.control), 1, Qt.PenStyle.DashLine))
            painter.drawRect(bar.adjusted(0.5, 0.5, -0.5, -0.5))
            return
        good = self._x(view.good_from if view.good_from is not None else view.reject_below or 0.0)
        reject = self._x(view.reject_below) if view.reject_below is not None else 0.0
        edges = (0.0, min(reject, good), good, bar.right())
        for left, right, zone in zip(
            edges, edges[1:], (palette.zone_reject, palette.zone_weak, palette.zone_good), strict=False
        ):
            painter.fillRect(QRectF(left, bar.top(), right - left, bar.height()), QColor(zone))

    def _labels(self, painter: QPainter, bar: QRectF, palette: Palette) -> None:
        small = small_font(self.font())
        painter.setFont(small)
        for label in self.below():
            painter.setPen(QColor(palette.soft))
            x = min(label.tag.at, bar.right() - 1)
            painter.drawLine(QPointF(x, bar.bottom()), QPointF(x, bar.bottom() + _TICK - 1))
            top = bar.bottom() + _TICK + label.level * _LINE
            _write(painter, label, top)
        for label in self.above():
            needle = self._view.value is not None and label.tag.weight == 1
            painter.setFont(_needle_font(self.font()) if needle else small)
            painter.setPen(QColor(palette.ink if needle else palette.soft))
            _write(painter, label, bar.top() - _NEEDLE - (label.level + 1) * _LINE)

    def _needle(self, painter: QPainter, bar: QRectF, palette: Palette, value: float) -> None:
        x = min(max(self._x(value), 1.5), bar.right() - 1.5)
        guard = self._view.guard
        if guard is not None and guard > 0:
            half = max(abs(self._x(value + guard) - self._x(value)), 3)
            pen = QPen(QColor(palette.again), 1.6)
            pen.setDashPattern([2.4, 1.8])
            painter.setPen(pen)
            painter.setBrush(Qt.BrushStyle.NoBrush)
            band = QRectF(x - half, bar.top() - 4, 2 * half, bar.height() + 8)
            painter.drawRect(band & QRectF(1, 0, self.width() - 2, self.height()))
        painter.setPen(QPen(QColor(palette.ink), 3, c=Qt.PenCapStyle.FlatCap))
        painter.drawLine(QPointF(x, bar.top() - _NEEDLE + 2), QPointF(x, bar.bottom() + 6))

    def _bar_top(self) -> int:
        return (2 if self._view.earlier else 1) * _LINE + _NEEDLE

    def _x(self, value: float) -> float:
        view = self._view
        low = 0.5 if view.words else 0.0
        share = (value - low) / (view.top() - low)
        return min(max(share, 0.0), 1.0) * self.width()


def _tag(text: str, at: float, metrics: QFontMetrics, weight: int) -> Tag:
    return Tag(text, at, metrics.horizontalAdvance(text) + 1, weight)


def _write(painter: QPainter, label: Placed, top: float) -> None:
    box = QRectF(label.left, top, label.tag.width + 2, _LINE)
    painter.drawText(box, int(Qt.AlignmentFlag.AlignVCenter | Qt.TextFlag.TextSingleLine), label.tag.text)


def _needle_font(base: QFont) -> QFont:
    font = small_font(base)
    font.setPixelSize(tokens.SMALL + 1)
    font.setBold(True)
    return font
