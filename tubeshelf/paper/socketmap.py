"""The sockets where they are on the chassis: filled is replaced, an outline stays, dashed is undecided."""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum, StrEnum

from tubeshelf.domain.chassis import Seat, room_for
from tubeshelf.paper.blocks import Frame, Piece
from tubeshelf.paper.canvas import Canvas
from tubeshelf.paper.text import SMALL, SMALL_STRONG, STRONG, Flow, Style, width_of

_RADIUS = 4.5
_ROW = 20.0
_WORD = Style(points=6.0)
_LEGEND = "filled: replace · outline: leave in · dashed: undecided; not to scale"


class Fill(Enum):
    """How a socket is drawn; legible in a fax."""

    FILLED = "filled"
    OUTLINE = "outline"
    DASHED = "dashed"


class Side(StrEnum):
    """From where the chassis is seen."""

    ABOVE = "from above"
    BELOW = "from below"
    BOTH = "from above and below"


@dataclass(frozen=True, slots=True)
class Place:
    """A socket on the map, its ``seat`` from above: how its tube is, how it fits, what is to be done."""

    position: str
    words: tuple[str, ...]
    fill: Fill
    seat: Seat


@dataclass(frozen=True, slots=True)
class SocketMap:
    """The chassis with its front below, from above or from below; for finding a socket, not for measuring.

    ``proposed`` says which places nobody has saved; empty if all are.
    """

    places: tuple[Place, ...]
    below: bool = False
    proposed: str = ""
    gap: float = 6.0

    def pieces(self, frame: Frame) -> list[Piece]:
        """One piece, no higher than the page."""
        room = room_for(len(self.places))
        captions = self._captions(frame.width)
        foot = 1.5 + sum(flow.height for flow, _ in captions)
        height = min(_ROW / room.depth, frame.height - foot)

        def draw(canvas: Canvas, x: float, y: float) -> None:
            canvas.rectangle(x, y, frame.width, height, radius=2.0)
            canvas.rule(x + frame.width / 5, y + height, 3 * frame.width / 5, line=1.0)
            for place in self.places:
                _socket(canvas, place, *self._at(place, frame.width, height, x, y), frame.width * room.width)
            below = y + height + 1.5
            for flow, wide in captions:
                canvas.flow(flow, x + (frame.width - wide) / 2, below)
                below += flow.height

        return [Piece(height + foot, draw, gap=self.gap)]

    def _at(self, place: Place, width: float, height: float, x: float, y: float) -> tuple[float, float]:
        """The middle of a socket, so far from the edge that nothing of it is cut."""
        seat = place.seat.mirrored() if self.below else place.seat
        half = _RADIUS + 3.0
        across = min(max(seat.x * width, half), width - half)
        deep = min(max(seat.y * height, _ROW / 2), height - _ROW / 2)
        return x + across, y + deep

    def _captions(self, width: float) -> list[tuple[Flow, float]]:
        """What stands below the front, with how wide it is."""
        side = Side.BELOW if self.below else Side.ABOVE
        exchanged = ", left and right exchanged" if self.below else ""
        lines = [(f"front · {side}{exchanged}", SMALL)]
        if self.proposed:
            lines.append((self.proposed, SMALL_STRONG))
        lines.append((_LEGEND, _WORD))
        wide = [min(width, width_of(text, style) + 0.3) for text, style in lines]
        return [(Flow(text, w, style), w) for (text, style), w in zip(lines, wide, strict=True)]


def maps(places: Sequence[Place], side: Side, proposed: str = "") -> tuple[SocketMap, ...]:
    """The map, or the two of them, that are asked for."""
    views = {Side.ABOVE: (False,), Side.BELOW: (True,), Side.BOTH: (False, True)}
    return tuple(SocketMap(tuple(places), below, proposed) for below in views[side])


def _socket(canvas: Canvas, place: Place, x: float, y: float, room: float) -> None:
    """A circle with its position, and the words below it."""
    filled = place.fill is Fill.FILLED
    centre = y - 1.5 * _WORD.leading
    canvas.circle(x, centre, _RADIUS, filled=filled, dashed=place.fill is Fill.DASHED)
    position = _fitting(place.position, 2 * _RADIUS - 1.0)
    style = STRONG if width_of(position, STRONG) <= 2 * _RADIUS - 1.5 else _WORD
    _centred(canvas, position, x, centre - style.leading / 2, style, white=filled)
    top = centre + _RADIUS + 0.3
    for word in place.words:
        _centred(canvas, _fitting(word, room - 0.4), x, top, _WORD)
        top += _WORD.leading


def _fitting(word: str, room: float) -> str:
    """A word, cut short where it has no room; the tables have it whole."""
    if width_of(word, _WORD) <= room:
        return word
    kept = word
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
