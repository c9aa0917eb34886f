"""Which spare on the shelf is the best for a socket, and which tubes make a set for a match group."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import IntEnum
from itertools import groupby

from tubeshelf.domain.fitting import Outcome
from tubeshelf.domain.jobs import Condition
from tubeshelf.domain.judging import NOT_READ, Zone


@dataclass(frozen=True, slots=True)
class Spare:
    """A free spare as seen from one socket.

    ``readings`` are the matched quantities, in the same order for all spares of a type on a ``tester``;
    ``readings_text`` says them to a reader. ``margin`` is (reading − good_from)/good_from of the worst
    line; ``grade`` that of the substitute entry (1 best), 0 for the right type; ``tag`` and ``word`` are
    those of a single tube, a counted lot has no tag and is ``not read``. ``matched_set`` is the id of the
    set it belongs to and ``set_size`` how many tubes that has, promised ones included.
    """

    item_id: int
    tag: int | None
    type_key: str
    bin: str
    outcome: Outcome
    word: str = NOT_READ
    sure: bool | None = None
    readings: tuple[float, ...] = ()
    readings_text: str = ""
    tester: str = ""
    margin: float | None = None
    premium: bool = False
    condition: Condition | None = None
    price_minor: int | None = None
    matched_set: int | None = None
    set_size: int | None = None
    quantity: int = 1
    grade: int = 0

    @property
    def tested(self) -> bool:
        """Whether it is good on a reading, and not by somebody's claim; otherwise it is untested."""
        return self.word == Zone.GOOD


class _Tier(IntEnum):
    SURE = 0
    CLOSE = 1
    UNTESTED = 2


Order = tuple[float, ...]
"""Where a spare stands among others; smallest first."""

FITS = (Outcome.RIGHT_TYPE, Outcome.ACCEPTED_SUBSTITUTE)
"""What a tube must be to a socket to be offered, best first."""

_NEVER = (Condition.SUSPECT, Condition.DEAD, Condition.REFERENCE)


def offered(spare: Spare) -> bool:
    """Whether a spare may be named at all: it fits, and nothing read or claimed speaks against it."""
    if spare.outcome not in FITS or spare.quantity < 1 or spare.condition in _NEVER:
        return False
    if spare.tested:
        return True
    untested = spare.word in (NOT_READ, Zone.UNJUDGED)
    return untested and spare.condition is not Condition.WEAK_BUT_USABLE


def order(spare: Spare) -> Order:
    """Smallest first: tested before untested, right type, plain, no set broken, margin, price, age of tag."""
    tier = _Tier.UNTESTED if not spare.tested else _Tier.CLOSE if spare.sure is False else _Tier.SURE
    return (
        tier is _Tier.UNTESTED,
        FITS.index(spare.outcome),
        spare.grade,
        tier,
        spare.premium,
        spare.matched_set is not None,
        -(spare.margin if spare.margin is not None else -math.inf),
        spare.price_minor if spare.price_minor is not None else math.inf,
        spare.item_id,
    )


def rank(spares: Iterable[Spare]) -> tuple[Spare, ...]:
    """The spares that may serve a socket, best first; weak, rejected and faulty ones are left out.

    Good on a reading comes before untested, the right type before a substitute, a plain tube before a
    premium one, then not breaking a matched set, the higher margin and the lower price.
    """
    return tuple(sorted(filter(offered, spares), key=order))


def best_spare(spares: Iterable[Spare]) -> Spare | None:
    """The spare to name in the line of a socket, ``None`` without any; say so where it is untested."""
    return next(iter(rank(spares)), None)


@dataclass(frozen=True, slots=True)
class SpareSet:
    """Tubes for a match group; ``matched`` if the shop matched them as a set, with the spread in per cent."""

    spares: tuple[Spare, ...]
    spread_percent: float | None
    matched: bool


def spread_percent(spares: Sequence[Spare]) -> float | None:
    """The largest ln(max/min) over the matched quantities, in per cent; ``None`` where readings are missing.

    To first order the trade's (max − min)/mean, and additive.
    """
    counts = {len(spare.readings) for spare in spares}
    if len(counts) != 1 or 0 in counts or min(min(spare.readings) for spare in spares) <= 0:
        return None
    columns = zip(*(spare.readings for spare in spares), strict=True)
    return 100 * max(math.log(max(column) / min(column)) for column in columns)


def best_set(spares: Iterable[Spare], n: int) -> SpareSet | None:
    """``n`` tested tubes of one type for a match group: a matched set whole, else the closest readings.

    Without a whole set, windows over the sorted readings of one type on one tester are compared; for
    one quantity that is provably the best, for several the sort is by the first. No set of another size
    is broken for it: that needs a decision.
    """
    tested = [spare for spare in rank(spares) if spare.tested and spare.quantity == 1]
    found = _whole_sets(tested, n) or _windows(tested, n)
    return min(found, key=_set_order, default=None)


def _whole_sets(tested: list[Spare], n: int) -> list[SpareSet]:
    members: dict[int, list[Spare]] = {}
    for spare in tested:
        if spare.matched_set is not None:
            members.setdefault(spare.matched_set, []).append(spare)
    return [
        SpareSet(tuple(m), spread_percent(m), True)
        for m in members.values()
        if len(m) == n and all(spare.set_size in (None, n) for spare in m)
    ]


def _windows(tested: list[Spare], n: int) -> list[SpareSet]:
    def comparable(spare: Spare) -> tuple[str, str, int]:
        return spare.type_key, spare.tester, len(spare.readings)

    single = sorted(
        (spare for spare in tested if spare.matched_set is None and spare.readings),
        key=lambda spare: (comparable(spare), spare.readings),
    )
    found = []
    for _, group in groupby(single, key=comparable):
        alike = list(group)
        for window in (alike[i : i + n] for i in range(len(alike) - n + 1)):
            spread = spread_percent(window)
            if spread is not None:
                found.append(SpareSet(tuple(window), spread, False))
    return found


def _set_order(candidate: SpareSet) -> tuple[float, ...]:
    """The right type first, then plain tubes, then the smallest spread, unknown last."""
    spread = candidate.spread_percent if candidate.spread_percent is not None else math.inf
    return (
        max(FITS.index(spare.outcome) for spare in candidate.spares),
        max(spare.grade for spare in candidate.spares),
        sum(spare.premium for spare in candidate.spares),
        spread,
    )
