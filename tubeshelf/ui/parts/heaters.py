"""Pictures of heater circuits: the load of a winding as a bar, a series string as a ladder."""

from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QFontMetrics, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from tubeshelf.domain.palette import Palette
from tubeshelf.ui import tokens
from tubeshelf.ui.parts.text import small_font

_BAR = 18
_LINE = 18
_RUNG = 34
_WIRE = 12
_BODY = 18
_LOW, _HIGH = 90.0, 110.0
_LEAST, _MOST = 60.0, 140.0
_LEFT = int(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
_RIGHT = int(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)


@dataclass(frozen=True, slots=True)
class LoadView:
    """The load of a winding in amperes, part by part; ``limit`` is what it may carry, with its words."""

    parts: tuple[tuple[str, float], ...]
    limit: float | None = None
    limit_words: str = ""
    over: bool = False

    @property
    def amperes(self) -> float:
        """All parts together."""
        return sum(amperes for _, amperes in self.parts)

    def spoken(self) -> str:
        """The picture in words."""
        parts = ", ".join(f"{name} {amperes:g} A" for name, amperes in self.parts)
        limit = f", {self.limit_words}" if self.limit is not None else ""
        return f"Load {self.amperes:.3g} A{limit}: {parts}"


@dataclass(frozen=True, slots=True)
class Rung:
    """One part of a string: its name, what stands there, its volts in words, and per cent of its rating.

    ``percent`` is none for what has no rating, such as a dropper.
    """

    name: str
    what: str
    volts: str
    percent: float | None = None

    def words(self) -> str:
        """The figures: ``33.3 V, 95 %``, with a word where it is out of bounds: ``40 V, 115 %: high``.

        The colon keeps "115 % high" from being read as 115 per cent too much.
        """
        if self.percent is None:
            return self.volts
        word = ": high" if self.percent > _HIGH else ": low" if self.percent < _LOW else ""
        return f"{self.volts}, {self.percent:.0f} %{word}"


@dataclass(frozen=True, slots=True)
class LadderView:
    """A string from one side of its supply to the other."""

    supply: str
    rungs: tuple[Rung, ...]

    def spoken(self) -> str:
        """The picture in words."""
        return f"String on {self.supply}: " + "; ".join(f"{r.name} {r.what} {r.words()}" for r in self.rungs)


class _Picture(QWidget):
    """A picture as wide as there is room and as high as it needs."""

    def __init__(self, height: int, spoken: str) -> None:
        super().__init__()
        self._height = height
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setAccessibleName(spoken)
        self.setToolTip(spoken)

    def sizeHint(self) -> QSize:
        """Wide enough for names and figures."""
        return QSize(360, self._height)

    def minimumSizeHint(self) -> QSize:
        """Narrow; words are cut before figures are."""
        return QSize(220, self._height)


class LoadBar(_Picture):
    """Draws a ``LoadView``: a segment a part, a tick where the limit is, the sum at the right."""

    def __init__(self, view: LoadView) -> None:
        super().__init__(_BAR + 2 * _LINE + 4, view.spoken())
        self.view = view

    def paintEvent(self, event: QPaintEvent) -> None:
        """The names above, the bar, the limit below."""
        palette, view = tokens.palette_now(), self.view
        most = 1.12 * max(view.amperes, view.limit or 0.0) or 1.0
        with QPainter(self) as painter:
            left = 0.0
            for at, (name, amperes) in enumerate(view.parts):
                box = QRectF(left, _LINE, amperes / most * self.width(), _BAR)
                painter.fillRect(box, QColor(palette.zone_good if at % 2 == 0 else palette.line))
                painter.setPen(QPen(QColor(palette.soft), 1))
                painter.drawRect(box)
                _say(painter, QRectF(left + 2, 0, box.width() - 4, _LINE), name, palette.soft, self.font())
                left = box.right()
            total = QRectF(0, _LINE + _BAR + 2, self.width(), _LINE)
            words = f"{view.amperes:.3g} A"
            _say(painter, total, words, palette.reject if view.over else palette.ink, self.font(), bold=True)
            if view.limit is not None:
                self._limit(painter, palette, view.limit / most * self.width())

    def _limit(self, painter: QPainter, palette: Palette, x: float) -> None:
        painter.setPen(QPen(QColor(palette.reject), 2))
        painter.drawLine(QPointF(x, _LINE - 4), QPointF(x, _LINE + _BAR + 4))
        room = QRectF(70, _LINE + _BAR + 2, max(x - 70, 140), _LINE)
        _say(painter, room, self.view.limit_words, palette.soft, self.font(), align=_RIGHT)


class Ladder(_Picture):
    """Draws a ``LadderView``: the wire at the left, a rung a heater, its share of its rating at the right."""

    def __init__(self, view: LadderView) -> None:
        super().__init__(len(view.rungs) * _RUNG + 2 * _LINE, view.spoken())
        self.view = view

    def paintEvent(self, event: QPaintEvent) -> None:
        """From the supply down to its other side."""
        palette = tokens.palette_now()
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setPen(QPen(QColor(palette.soft), 1.6))
            painter.drawLine(QPointF(_WIRE, _LINE / 2), QPointF(_WIRE, self.height() - _LINE / 2))
            for y in (_LINE / 2, self.height() - _LINE / 2):
                painter.setBrush(QColor(palette.panel))
                painter.drawEllipse(QPointF(_WIRE, y), 3.5, 3.5)
            _say(
                painter, QRectF(30, 0, self.width() - 30, _LINE), self.view.supply, palette.soft, self.font()
            )
            metrics = _metrics(self.font(), bold=True)
            wide = max((metrics.horizontalAdvance(r.words()) for r in self.view.rungs), default=0) + 8
            for at, rung in enumerate(self.view.rungs):
                self._rung(painter, palette, _LINE + at * _RUNG, rung, wide)

    def _rung(self, painter: QPainter, palette: Palette, top: float, rung: Rung, wide: int) -> None:
        tone = _tone(rung.percent, palette)
        body = QRectF(_WIRE - _BODY / 2, top + (_RUNG - _BODY) / 2, _BODY, _BODY)
        painter.setPen(QPen(QColor(tone), 1.6))
        painter.setBrush(QColor(palette.panel))
        if rung.percent is None:
            painter.drawRect(body)
        else:
            painter.drawEllipse(body)
        bar = max(min(self.width() * 0.3, 160), 60)
        names = QRectF(30, top, self.width() - 30 - wide - bar - 12, _RUNG)
        offset = _metrics(self.font(), bold=True).horizontalAdvance(f"{rung.name}  ")
        _say(painter, names, rung.name, palette.ink, self.font(), bold=True)
        _say(painter, names.adjusted(offset, 0, 0, 0), rung.what, palette.soft, self.font())
        if rung.percent is not None:
            place = QRectF(self.width() - wide - bar - 4, top + _RUNG / 2 - 5, bar, 10)
            _share(painter, palette, place, rung.percent)
        where = QRectF(self.width() - wide, top, wide, _RUNG)
        _say(painter, where, rung.words(), tone, self.font(), bold=True, align=_RIGHT)


def _share(painter: QPainter, palette: Palette, place: QRectF, percent: float) -> None:
    """Where a heater stands between too cold and too hot."""

    def x(at: float) -> float:
        within = min(max(at, _LEAST), _MOST)
        return place.left() + (within - _LEAST) / (_MOST - _LEAST) * place.width()

    zones = (
        (_LEAST, _LOW, palette.zone_weak),
        (_LOW, _HIGH, palette.zone_good),
        (_HIGH, _MOST, palette.zone_reject),
    )
    for low, high, colour in zones:
        painter.fillRect(QRectF(x(low), place.top(), x(high) - x(low), place.height()), QColor(colour))
    painter.setPen(QPen(QColor(palette.ink), 1))
    for edge in (_LOW, _HIGH):
        painter.drawLine(QPointF(x(edge), place.top()), QPointF(x(edge), place.bottom()))
    painter.setPen(QPen(QColor(palette.ink), 3))
    painter.drawLine(QPointF(x(percent), place.top() - 4), QPointF(x(percent), place.bottom() + 4))


def _tone(percent: float | None, palette: Palette) -> str:
    if percent is None:
        return palette.soft
    return palette.reject if percent > _HIGH else palette.weak if percent < _LOW else palette.ink


def _metrics(base: QFont, *, bold: bool) -> QFontMetrics:
    font = small_font(base)
    font.setBold(bold)
    return QFontMetrics(font)


def _say(
    painter: QPainter,
    room: QRectF,
    words: str,
    colour: str,
    base: QFont,
    *,
    bold: bool = False,
    align: int = _LEFT,
) -> None:
    """Words within their room, cut with dots where it is too small."""
    font = small_font(base)
    font.setBold(bold)
    painter.setFont(font)
    painter.setPen(QColor(colour))
    shown = QFontMetrics(font).elidedText(words, Qt.TextElideMode.ElideRight, max(int(room.width()) + 1, 0))
    painter.drawText(room, align, shown)
