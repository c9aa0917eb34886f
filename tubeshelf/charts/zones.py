"""Readings of different scales on one axis: each is placed within the zones of its own limit.

The axis is 3 long, whatever the unit: reject from 0 to 1, weak from 1 to 2, good from 2 to 3. Within a zone
the scale is linear, so a limit stands at the same place in every row and a marker shows how near it is.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise

from tubeshelf.domain.judging import Limit, Zone

LENGTH = 3.0
_BOGEY_AT = 2.5


@dataclass(frozen=True, slots=True)
class Span:
    """A zone with where it begins and ends on the axis."""

    zone: Zone
    start: float
    end: float


@dataclass(frozen=True, slots=True)
class Row:
    """The zones of one limit and the points (value, place) between which the axis is linear."""

    spans: tuple[Span, ...]
    points: tuple[tuple[float, float], ...]

    def place(self, value: float) -> float:
        """Where a value stands on the axis, 0 to 3; beyond the ends it stands at the end."""
        if value <= self.points[0][0]:
            return self.points[0][1]
        for (low, start), (high, end) in pairwise(self.points):
            if value <= high:
                return min(start + (end - start) * (value - low) / (high - low), end)
        return self.points[-1][1]


def row(limit: Limit | None, values: Iterable[float]) -> Row:
    """The axis of one row: with its limit, or one neutral bar from 0 to the highest value without."""
    known = list(values)
    low = min([0.0, *known])
    reject = limit.reject_below if limit is not None else None
    good = limit.good_from if limit is not None else None
    if limit is None or (reject is None and good is None):
        top = max([0.0, *known]) * 1.1
        return Row((Span(Zone.UNJUDGED, 0.0, LENGTH),), ((low, 0.0), (max(top, low + 1.0), LENGTH)))
    borders = [(border, at) for border, at in ((reject, 1.0), (good, 2.0)) if border is not None]
    if reject is not None and good is not None and good <= reject:
        borders = [(reject, 2.0)]
    first = borders[0][0]
    start = min(low, first - abs(first))
    if start == first:
        start = first - 1.0
    return Row(_spans(borders, reject), ((start, 0.0), *borders, *_good_zone(borders[-1][0], limit, known)))


def _spans(borders: list[tuple[float, float]], reject: float | None) -> tuple[Span, ...]:
    """Reject below the first border, or weak where nothing is called reject; good above the last."""
    below = Span(Zone.REJECT if reject is not None else Zone.WEAK, 0.0, borders[0][1])
    between = [Span(Zone.WEAK, borders[0][1], borders[1][1])] if len(borders) > 1 else []
    return (below, *between, Span(Zone.GOOD, borders[-1][1], LENGTH))


def _good_zone(border: float, limit: Limit, values: list[float]) -> tuple[tuple[float, float], ...]:
    """The bogey in the middle of the upper half, and a top that no value goes beyond."""
    bogey = limit.bogey
    if bogey is None or bogey <= border:
        return ((max([border + max(abs(border) * 0.5, 1.0), *values]), LENGTH),)
    return ((bogey, _BOGEY_AT), (max([2 * bogey - border, *values]), LENGTH))
