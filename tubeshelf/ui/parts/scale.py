"""The scale picture: the zones of a limit with the reading in them, drawn as it is typed."""

from dataclasses import dataclass

from PySide6.QtCore import QRectF, QSize
from PySide6.QtGui import QFont, QFontMetrics, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from tubeshelf.domain.judging import Zone
from tubeshelf.ui import tokens
from tubeshelf.ui.parts import scaledraw as draw
from tubeshelf.ui.parts.labels import Placed, Tag, place
from tubeshelf.ui.parts.text import small_font

_HEADROOM = 1.08

Edges = tuple[tuple[Zone, float | None, float | None], ...]
"""Zones from the worst to the best, each with the values between which it lies; ``None`` is the end."""


@dataclass(frozen=True, slots=True)
class Earlier:
    """An older reading on the same scale: when, what, and whether of this tube or only of this place."""

    when: str
    value: float
    same_tube: bool


@dataclass(frozen=True, slots=True)
class ScaleView:
    """What to draw, all in ``unit``; ``None`` is not known, and without a limit there are no zones.

    ``guard`` is 1.645·u: so far the reading reaches to both sides, and so far from a limit it is not sure.
    ``repeats`` are the readings that ``value`` is the mean of. On a scale of ``words`` values are positions
    counted from 1.
    """

    good_from: float | None = None
    reject_below: float | None = None
    bogey: float | None = None
    above: float | None = None
    full_scale: float | None = None
    unit: str = ""
    value: float | None = None
    guard: float | None = None
    repeats: tuple[float, ...] = ()
    earlier: tuple[Earlier, ...] = ()
    words: tuple[str, ...] = ()

    def low(self) -> float:
        """The left end of the scale: nothing, or half a step below the worst word."""
        return 0.5 if self.words else 0.0

    def top(self) -> float:
        """The right end: the tester's full scale unless everything would crowd at the left."""
        if self.words:
            return len(self.words) + 0.5
        most = self._most() * _HEADROOM
        if self.full_scale is not None and (most <= 0 or self.full_scale <= 2 * most):
            return self.full_scale
        return most if most > 0 else 1.0

    def _most(self) -> float:
        """The highest figure with a place on the scale; what a meter cannot show has none."""
        known = (self.good_from, self.reject_below, self.bogey, self.above, self.value, *self.repeats)
        values = [v for v in (*known, *(e.value for e in self.earlier)) if v is not None]
        end = self.full_scale
        return max((v for v in values if end is None or v <= end), default=0.0 if end is None else end)

    def share(self, value: float) -> float:
        """Where a value stands, 0 at the left end to 1 at the right; off the scale it stands at its end."""
        return min(max((value - self.low()) / (self.top() - self.low()), 0.0), 1.0)

    def off(self, value: float) -> int:
        """-1 for a value below the scale, 1 for one above it, else 0."""
        return -1 if value < 0 else 1 if value > self.top() else 0

    def limits(self) -> tuple[float, ...]:
        """The borders of the zones. A word stands for every tube that got it: they lie between two words."""
        step = 0.5 if self.words else 0.0
        known = {v - step for v in (self.reject_below, self.good_from) if v is not None}
        return tuple(sorted(known))

    def edges(self) -> Edges:
        """The zones; where a limit calls nothing weak, or nothing reject, that zone is not there."""
        limits = self.limits()
        if not limits:
            return ()
        worst = Zone.WEAK if self.reject_below is None else Zone.REJECT
        if len(limits) == 1 or (self.reject_below or 0.0) > (self.good_from or 0.0):
            return (worst, None, limits[-1]), (Zone.GOOD, limits[-1], None)
        return (worst, None, limits[0]), (Zone.WEAK, limits[0], limits[1]), (Zone.GOOD, limits[1], None)

    def say(self, value: float) -> str:
        """A value as it is written on the scale."""
        if self.words:
            return self.words[min(max(round(value), 1), len(self.words)) - 1]
        digits = 0 if abs(value) >= 100 or value == int(value) else 2 if abs(value) < 10 else 1
        return f"{value:,.{digits}f}"

    def caption(self) -> str:
        """The limit in words, for the heading above the picture."""
        low, high = self.reject_below, self.good_from
        parts = [
            f"reject below {self.say(low)}" if low is not None else "",
            f"good from {self.say(high)}" if high is not None else "",
        ]
        return ", ".join(p for p in parts if p) or "no limit entered"

    def spoken(self) -> str:
        """All of the picture in words, for those who do not see it."""
        reads = ""
        if self.value is not None:
            reads = f"reads {self.say(self.value)}"
            reads += f" ± {self.say(self.guard)}" if self.guard and not self.words else ""
            reads += " off the scale" if self.off(self.value) else ""
        whose = {True: "this tube", False: "this place"}
        before = [f"{whose[e.same_tube]} {e.when} {self.say(e.value)}" for e in self.earlier]
        return ", ".join(p for p in (reads, self.caption(), *before) if p)


class ScalePicture(QWidget):
    """Draws a ``ScaleView``: its captions above and below the bar never lie on each other."""

    def __init__(self, view: ScaleView | None = None, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._view = view or ScaleView()
        self._hinted: tuple[int, QFont, QSize] | None = None
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.show_view(self._view)

    @property
    def view(self) -> ScaleView:
        """What is drawn."""
        return self._view

    def show_view(self, view: ScaleView) -> None:
        """Draw another."""
        name = f"Scale: {view.spoken()}"
        if view == self._view and name == self.accessibleName():
            return
        self._view, self._hinted = view, None
        self.setAccessibleName(name)
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        """Room for all lines of captions; above the bar it does not change while a reading is typed."""
        width, font = self.width(), self.font()
        if self._hinted is None or self._hinted[:2] != (width, font):  # layouts ask for it again and again
            height = round(self.bar().bottom()) + draw.TICK + self._below_lines() * draw.LINE + 2
            self._hinted = width, font, QSize(260, height)
        return self._hinted[2]

    def minimumSizeHint(self) -> QSize:
        """As high as it hints, since its captions are read."""
        return QSize(160, self.sizeHint().height())

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Another width may need another line of captions."""
        self.updateGeometry()

    def bar(self) -> QRectF:
        """Where the zones are: below the reading's own line and those of the earlier ones."""
        top = (1 + _lines(self.before())) * draw.LINE + draw.NEEDLE
        return QRectF(0, top, self.width(), draw.BAR)

    def reading(self) -> list[Placed]:
        """The caption of the reading, alone on its line, so that it stays above its needle."""
        view = self._view
        if view.value is None:
            return []
        text = view.say(view.value) + (", off the scale" if view.off(view.value) else "")
        return self._placed(
            [Tag(text, self.place_of(view.value), self._needle_metrics().horizontalAdvance(text) + 1)]
        )

    def before(self) -> list[Placed]:
        """The captions of earlier readings, each with room for its shape."""
        tags = [
            Tag(f"{e.when}: {self._view.say(e.value)}", self.place_of(e.value), 0, -n)
            for n, e in enumerate(self._view.earlier)
        ]
        return self._placed([self._measured(tag, draw.SHAPE) for tag in tags])

    def below(self) -> list[Placed]:
        """The captions below the bar: the limits first, then the bogey and the ends."""
        view = self._view
        marks: list[tuple[float, str, int]] = []
        if view.words:
            marks = [(n, word, 0) for n, word in enumerate(view.words, start=1)]
        else:
            marks.append((0.0, "0", -2))
            marks += [(v, view.say(v), 2) for v in view.limits()]
            if view.bogey is not None:
                marks.append((view.bogey, f"{view.say(view.bogey)} bogey", 1))
            if view.above is not None:
                marks.append((view.above, f"remark above {view.say(view.above)}", 1))
            if view.full_scale is not None and view.full_scale == view.top() != view.bogey:
                marks.append((view.full_scale, view.say(view.full_scale), -1))
        return self._placed(
            [self._measured(Tag(text, self.place_of(v), 0, weight)) for v, text, weight in marks]
        )

    def legend(self) -> list[Placed]:
        """What the shapes mean, those that are there, below everything else."""
        kinds = {e.same_tube for e in self._view.earlier}
        words = [word for word, kind in ((draw.THIS_TUBE, True), (draw.THIS_PLACE, False)) if kind in kinds]
        if self._view.guard and self._view.limits():
            words.append(draw.NOT_SURE)
        tags = [self._measured(Tag(word, 0.0, 0), draw.SHAPE) for word in words]
        placed, at, level = [], 0.0, 0
        for tag in tags:
            if at and at + tag.width > self.width():
                at, level = 0.0, level + 1
            placed.append(Placed(tag, at, level))
            at += tag.width + 14
        return placed

    def place_of(self, value: float) -> float:
        """Where a value stands, in pixels."""
        return self._view.share(value) * self.width()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Zones and guard bands, captions, earlier readings, the reading with its uncertainty."""
        view, bar = self._view, self.bar()
        with QPainter(self) as painter:
            canvas = draw.Canvas(painter, bar, tokens.palette_now(), self.place_of)
            canvas.zones(view.edges())
            canvas.guards(view.limits(), view.guard)
            canvas.frame(view.limits(), judged=bool(view.limits()))
            painter.setFont(small_font(self.font()))
            canvas.ticks(self.below(), dotted=() if view.above is None else (view.above,))
            canvas.shapes_before(self.before(), view.earlier)
            canvas.legend(self.legend(), bar.bottom() + draw.TICK + _lines(self.below()) * draw.LINE)
            canvas.repeats(view.repeats)
            if view.value is not None:
                painter.setFont(_needle_font(self.font()))
                canvas.reading(view.value, view.off(view.value), view.guard, self.reading())

    def _below_lines(self) -> int:
        return max(1, _lines(self.below())) + _lines(self.legend())

    def _placed(self, tags: list[Tag]) -> list[Placed]:
        return place(tags, 0, self.width())

    def _measured(self, tag: Tag, more: float = 0) -> Tag:
        width = QFontMetrics(small_font(self.font())).horizontalAdvance(tag.text) + 1
        return Tag(tag.text, tag.at, width + more, tag.weight)

    def _needle_metrics(self) -> QFontMetrics:
        return QFontMetrics(_needle_font(self.font()))


def _lines(placed: list[Placed]) -> int:
    return 1 + max((one.level for one in placed), default=-1)


def _needle_font(base: QFont) -> QFont:
    font = small_font(base)
    font.setPixelSize(tokens.SMALL + 1)
    font.setBold(True)
    return font
