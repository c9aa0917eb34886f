"""What the charts take in: plain values, so that no chart knows the record."""

from dataclasses import dataclass

from tubeshelf.domain.judging import Limit


@dataclass(frozen=True, slots=True)
class ChartLine:
    """One setting line of one socket: what it read as found and as left, against its own limit.

    ``label`` is position and type, ``sub`` the role and the line's own label. ``words`` are those of a scale
    of words, worst first; the values are then positions in it, counted from 1. ``None`` is not read.
    """

    label: str
    sub: str
    value_as_found: float | None
    value_as_left: float | None
    limit: Limit | None
    unit: str
    words: tuple[str, ...] = ()
