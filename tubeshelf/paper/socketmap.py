"""The sockets as circles in rows: filled is replaced, an outline stays, dashed is undecided."""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum
from math import ceil

from tubeshelf.paper.blocks import Frame, Piece
from tubeshelf.paper.canvas import Canvas
from tubeshelf.paper.text import SMALL, STRONG, Flow, Style, width_of

_RADIUS = 7.0
_PITCH = 17.4
_PAD = 4.5
_CAPTION = 8.0
_WORD = Style(points=6.0)


class Fill(Enum):
    """How a socket is drawn; legible in a fax."""

    FILLED = "filled"
    OUTLINE = "outline"
    DASHED = "dashed"


@dataclass(frozen=True, slots=True)
class Place:
    """A socket on the map with the word under its position."""

    position: str
    word: str
    fill: Fill


@dataclass(frozen=True, slots=True)
class SocketMap:
    """Circles in order within an outline of the chassis, its front below; for reading, not for measuring."""

    places: tuple[Place, ...]
    gap: float = 6.0

    def pieces(self, frame: Frame) -> list[Piece]:
        """One piece for each page it needs."""
        most = max(1, int((frame.height - 2 * _PAD - _CAPTION) / _PITCH))
        rows = rows_of(self.places, int((frame.width - 2 * _PAD) / _PITCH))
        return [
            _part(rows[first : first + most], frame.width, self.gap) for first in range(0, len(rows), most)
        ]


def rows_of(places: Sequence[Place], widest: int) -> list[Sequence[Place]]:
    """The places in rows as even as can be; more than three make at least two rows."""
    if not places:
        return []
    count = max(ceil(len(places) / max(1, widest)), 2 if len(places) > 3 else 1)
    short, longer = divmod(len(places), count)
    rows, at = [], 0
    for number in range(count):
        length = short + (1 if number < longer else 0)
        rows.append(places[at : at + length])
        at += length
    return rows


def _part(rows: Sequence[Sequence[Place]], width: float, gap: float) -> Piece:
    height = len(rows) * _PITCH + 2 * _PAD

    def draw(canvas: Canvas, x: float, y: float) -> None:
        canvas.rectangle(x, y, width, height, radius=2.0)
        for number, row in enumerate(rows):
            step = (width - 2 * _PAD) / len(row)
            for i, place in enumerate(row):
                centre = x + _PAD + (i + 0.5) * step
                _socket(canvas, place, centre, y + _PAD + (number + 0.5) * _PITCH)
        _centred(canvas, "front", x + width / 2, y + height + 1.0, SMALL)
        remark = "sockets in the order of their numbers, not to scale"
        _centred(canvas, remark, x + width / 2, y + height + 1.0 + SMALL.leading, _WORD)

    return Piece(height + _CAPTION, draw, gap=gap)


def _socket(canvas: Canvas, place: Place, x: float, y: float) -> None:
    filled = place.fill is Fill.FILLED
    canvas.circle(x, y, _RADIUS, filled=filled, dashed=place.fill is Fill.DASHED)
    position = _fitting(place.position)
    style = STRONG if width_of(position, STRONG) <= 2 * _RADIUS - 2 else _WORD
    _centred(canvas, position, x, y - style.leading + 0.4, style, white=filled)
    _centred(canvas, place.word, x, y + 0.5, _WORD, white=filled)


def _fitting(position: str) -> str:
    """The position, cut short where a circle cannot hold it; the tables have it whole."""
    room = 2 * _RADIUS - 1.5
    if width_of(position, _WORD) <= room:
        return position
    kept = position
    while len(kept) > 1 and width_of(kept + "…", _WORD) > room:
        kept = kept[:-1]
    return kept + "…"


def _centred(canvas: Canvas, text: str, x: float, y: float, style: Style, *, white: bool = False) -> None:
    width = width_of(text, style) + 0.2
    flow = Flow(text, width, style)
    if white:
        canvas.white_flow(flow, x - width / 2, y)
    else:
        canvas.flow(flow, x - width / 2, y)
