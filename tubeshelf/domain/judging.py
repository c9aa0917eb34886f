"""Values of a judged reading: limits, zones, verdicts, observations. The rules are in ``verdict``."""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum

NOT_READ = "not read"
"""The word of a tube of which something that was asked for has not been read yet."""


class Zone(StrEnum):
    """Where a value falls on its limit; ``UNJUDGED`` where there is no limit."""

    GOOD = "good"
    WEAK = "weak"
    REJECT = "reject"
    UNJUDGED = "unjudged"


class Mark(StrEnum):
    """What a technician notes besides numbers. The technician says which is a fault."""

    SHORT = "short"
    LEAKAGE = "leakage"
    GAS = "gas"
    NOISE = "noise"
    OPEN_HEATER = "open heater"
    DEAD_SECTION = "dead section"
    CRACKED = "cracked"
    LOOSE_BASE = "loose base"
    WHITE_GETTER = "white getter"
    LIFE_TEST = "life test"


class Stage(StrEnum):
    """When in its life on the bench a reading was taken."""

    INCOMING = "incoming"
    AS_FOUND = "as found"
    AS_LEFT = "as left"
    CHECK = "check"


@dataclass(frozen=True, slots=True)
class Limit:
    """What a setting line calls good and reject, in the tester's own scale, and who says so.

    ``derived`` tells that no limit was entered and a default rule made this one. On a scale of words
    the figures are positions in the list of words, worst first, counted from 1.
    """

    good_from: float | None
    reject_below: float | None
    bogey: float | None = None
    above: float | None = None
    unit: str = ""
    source: str = ""
    dated: date | None = None
    derived: bool = False


@dataclass(frozen=True, slots=True)
class Repeatability:
    """How well one tester repeats: a share of the reading and an absolute part; ``None`` unknown."""

    relative: float | None = None
    absolute: float | None = None


@dataclass(frozen=True, slots=True)
class Scale:
    """A tester's scale: numbers up to ``full_scale`` in ``unit``, or ordered ``words``, worst first."""

    unit: str = ""
    full_scale: float | None = None
    words: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class PassLimits:
    """What a tester's own limits let pass: the least leakage resistance in MΩ, the most gas current.

    Gas is in ``gas_unit``: µA where it is empty, or the tester's own divisions. ``None`` is no limit.
    """

    leakage_least: float | None = None
    gas_most: float | None = None
    gas_unit: str = ""


NO_PASS_LIMITS = PassLimits()
"""A tester of which nobody said what leakage and gas may pass."""


@dataclass(frozen=True, slots=True)
class DefaultRule:
    """A tester's rule where a setting line has no limit of its own; it never leaves that tester's scale.

    ``good_from`` and ``reject_below`` are figures of the scale; ``good_share`` and ``reject_share`` are
    shares of the bogey (0.65 is 65 %), of use only where the tester reads the bogey's own quantity.
    """

    good_from: float | None = None
    reject_below: float | None = None
    good_share: float | None = None
    reject_share: float | None = None


@dataclass(frozen=True, slots=True)
class LineVerdict:
    """The judgement of one setting line: mean of n readings, its u, the zone and whether it is sure.

    ``u`` is a standard uncertainty in the unit of the reading; ``probability`` is that of being above
    the nearest limit; ``sure`` is ``None`` where the tester's repeatability is unknown.
    """

    zone: Zone
    mean: float
    n: int
    limit: Limit
    u: float | None = None
    sure: bool | None = None
    probability: float | None = None
    above: bool = False


@dataclass(frozen=True, slots=True)
class Observation:
    """A mark with what was measured, where, and whether the technician calls it a fault.

    ``pins`` are pins (``2-5``) or elements; of a life test it tells what the reading was compared with.
    """

    mark: Mark
    is_fault: bool
    value: float | None = None
    unit: str = ""
    pins: str = ""


@dataclass(frozen=True, slots=True)
class TubeVerdict:
    """What a tube as a whole is worth: ``word`` is good, weak, reject, unjudged, a fault's word, or
    ``not read``; with ``sure``, the line that decided and the balance of like sections in per cent.

    ``read_again`` asks for another repeat; a line still unsure after three is left to the technician,
    with ``sure`` false. ``lines_expected`` is ``None`` where the tester's chart is not known.
    """

    word: str
    sure: bool | None
    decided_by: str = ""
    balance_percent: float | None = None
    read_again: bool = False
    lines_read: int = 0
    lines_expected: int | None = None
