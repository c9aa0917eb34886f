"""Where sockets are on a chassis from above, its front at the bottom: a first layout, and moving about."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import ceil

DEPTH = 0.6
"""How deep the drawing of a chassis is, as a share of its width."""

STEP, LARGE_STEP = 0.02, 0.1
"""What a key moves a socket by, as a share of width or depth; a drag comes to rest on the smaller one."""

_FINE = 50
_SLACK = 1e-9


@dataclass(frozen=True, slots=True)
class Seat:
    """The middle of a socket: shares of width from the left and of depth from the back, from above."""

    x: float
    y: float

    def mirrored(self) -> "Seat":
        """The same seen from below, front at the bottom still: left and right are exchanged."""
        return Seat(1 - self.x, self.y)

    def moved(self, right: float, forward: float) -> "Seat":
        """Moved and put on the raster of ``STEP``, no farther than the edge."""
        return Seat(_rested(self.x + right), _rested(self.y + forward))


@dataclass(frozen=True, slots=True)
class Room:
    """What one socket may take of the drawing: shares of width and depth."""

    width: float
    depth: float

    def clash(self, one: Seat, other: Seat) -> bool:
        """Whether two sockets with this room overlap."""
        return abs(one.x - other.x) < self.width - _SLACK and abs(one.y - other.y) < self.depth - _SLACK


_KINDS: tuple[tuple[str, int], ...] = (
    (r"rectifier|regulator|stabili[sz]er|ballast|supply|reference", 9),
    (r"damper|booster|high voltage|hv|eht", 8),
    (r"output|outputs|power|final", 7),
    (r"phase|inverter|splitter|driver|drivers", 5),
    (r"converter|mixer|oscillator|osc|first detector", 1),
    (r"if|limiter", 2),
    (r"detector|discriminator|demodulator", 3),
    (r"rf|antenna|aerial|tuner|input|inputs|mic|microphone|phono|preamp|pre-amp", 0),
)
"""Words of a role and where along the signal they belong; what has most current or heat decides first."""

_BETWEEN, _AT_THE_BACK = 4, 7


def propose(roles: Sequence[str]) -> tuple[Seat, ...]:
    """A first layout for sockets in test order, told apart by the words of their roles.

    Along the front stand the small tubes from the left as the signal goes, at the back output tubes and
    right of them what belongs to the supply. It is a place to start from: no socket overlaps another or
    leaves the chassis while each takes no more than ``room_for`` them all.
    """
    ranks = [_rank(role) for role in roles]
    order = sorted(range(len(roles)), key=lambda at: (ranks[at], at))
    across, _ = _raster(len(roles))
    back = [at for at in order if ranks[at] >= _AT_THE_BACK]
    front = [at for at in order if ranks[at] < _AT_THE_BACK]
    rows = [*_rows(back, across), *_rows(front, across)]
    seats = {
        at: Seat((column + 0.5) / len(row), (number + 0.5) / len(rows))
        for number, row in enumerate(rows)
        for column, at in enumerate(row)
    }
    return tuple(seats[at] for at in range(len(roles)))


def complete(roles: Sequence[str], saved: Sequence[Seat | None]) -> tuple[Seat, ...]:
    """The saved seats, and for each socket without one a free seat: the proposed one where it is free.

    A chassis so full that nothing is free gets the proposed one all the same.
    """
    proposed, room = propose(roles), room_for(len(roles))
    taken = [seat for seat in saved if seat is not None]
    seats = []
    for wanted, seat in zip(proposed, saved, strict=True):
        if seat is None:
            seat = _free(wanted, taken, room)
            taken.append(seat)
        seats.append(seat)
    return tuple(seats)


def room_for(count: int) -> Room:
    """The room that each of so many sockets may take, so that any proposed layout of them has it."""
    across, deep = _raster(count)
    return Room(1 / across, 1 / deep)


def towards(seats: Sequence[Seat], here: int, right: int, forward: int) -> int:
    """Which socket an arrow key leads to from ``here``: the nearest on that side, else ``here`` itself.

    ``right`` and ``forward`` are -1, 0 or 1; to the side counts double.
    """

    def way(there: Seat) -> tuple[float, float]:
        x, y = there.x - seats[here].x, (there.y - seats[here].y) * DEPTH
        return x * right + y * forward, abs(x * forward) + abs(y * right)

    ways = {at: way(seat) for at, seat in enumerate(seats) if at != here}
    ahead = {at: along + 2 * aside for at, (along, aside) in ways.items() if along > _SLACK}
    return min(ahead, key=lambda at: (ahead[at], at), default=here)


def _rank(role: str) -> int:
    words = role.casefold().replace(".", "")
    return next((rank for kind, rank in _KINDS if re.search(rf"\b(?:{kind})\b", words)), _BETWEEN)


def _raster(count: int) -> tuple[int, int]:
    """Sockets across and rows deep that give each of ``count`` the most, in two groups of any sizes."""

    def deep(across: int) -> int:
        return ceil(count / across) + 1

    columns = range(1, max(count, 1) + 1)
    across = max(columns, key=lambda across: (min(1 / across, DEPTH / deep(across)), across))
    return across, deep(across)


def _rows(sockets: Sequence[int], across: int) -> list[Sequence[int]]:
    """In rows as even as can be, none longer than ``across``."""
    count = ceil(len(sockets) / across)
    edges = [len(sockets) * at // count for at in range(count + 1)] if count else []
    return [sockets[begin:end] for begin, end in pairwise(edges)]


def _free(wanted: Seat, taken: Sequence[Seat], room: Room) -> Seat:
    across, deep = round(1 / room.width), round(1 / room.depth)
    raster = (Seat((x + 0.5) / across, (y + 0.5) / deep) for y in range(deep) for x in range(across))
    fine = (
        seat
        for y in range(_FINE + 1)
        for x in range(_FINE + 1)
        if _inside(seat := Seat(x / _FINE, y / _FINE), room)
    )
    for candidates in ((wanted,), raster, fine):
        for seat in candidates:
            if not any(room.clash(seat, other) for other in taken):
                return seat
    return wanted


def _inside(seat: Seat, room: Room) -> bool:
    width, depth = room.width / 2 - _SLACK, room.depth / 2 - _SLACK
    return width <= seat.x <= 1 - width and depth <= seat.y <= 1 - depth


def _rested(share: float) -> float:
    return round(min(max(round(share / STEP) * STEP, 0.0), 1.0), 4)
