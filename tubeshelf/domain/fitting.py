"""Values of the question "may this type stand in this socket?". The rules are in ``fit``."""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from types import MappingProxyType


class Outcome(StrEnum):
    """The answer, from best to worst."""

    RIGHT_TYPE = "right_type"
    ACCEPTED_SUBSTITUTE = "accepted_substitute"
    UNKNOWN = "unknown"
    WRONG_TYPE = "wrong_type"
    CANNOT_SEAT = "cannot_seat"
    HARMFUL = "harmful"

    @property
    def severity(self) -> int:
        """Higher is worse; unknown is never all right."""
        return _SEVERITY[self]


_SEVERITY = MappingProxyType({outcome: place for place, outcome in enumerate(Outcome)})


class Circuit(StrEnum):
    """How the heater of a socket is fed."""

    PARALLEL = "parallel"
    SERIES = "series"


class Bias(StrEnum):
    """How the grid of an output tube gets its bias."""

    FIXED = "fixed"
    CATHODE = "cathode"


class Check(StrEnum):
    """The question that a reason answers, in the order in which the questions are asked."""

    KNOWN = "known"
    BASE = "base"
    PINS = "pins"
    HEATER = "heater"
    RATINGS = "ratings"
    FUNCTION = "function"
    LISTING = "listing"


_RULES = {
    Check.KNOWN: ("not_in_table", "same_tube"),
    Check.BASE: ("base_differs",),
    Check.PINS: (
        *("pins_unknown", "electrode_moved", "element_on_unused_pin", "element_missing", "tie_missing"),
        *("tied_inside", "heater_moved", "tap_missing", "on_tie_point", "check_tie_point", "check_tied_pin"),
        *("glass_for_metal", "shield_missing", "shield_added"),
    ),
    Check.HEATER: (
        *("heater_unknown", "heater_cold", "heater_half_cold", "heater_over", "heater_under"),
        *("heater_tap_earthed", "heater_off"),
        *("winding_overloaded", "winding_load_high", "heater_current_harm", "heater_current"),
        *("check_winding", "check_winding_rating", "takes_less"),
        *("string_over", "string_differs", "warms_up_alone", "warms_up_uncontrolled"),
    ),
    Check.RATINGS: (
        *("supply_over_rating", "supply_within", "screen_supply_over", "screen_supply_within"),
        *("rating_lower", "check_rating", "rectifier_current", "rectifier_drop", "check_capacitors"),
        *("expect_less_b_plus", "capacitor_over", "capacitor_within", "warms_up_sooner", "warms_up_later"),
        *("bias_over", "bias_within", "within_facts"),
    ),
    Check.FUNCTION: (
        *("function_differs", "plate_class", "cutoff_differs", "mu_differs", "gm_differs", "regulator_volts"),
        *("figures_missing", "rebias", "rebias_fixed", "rebias_cathode"),
    ),
    Check.LISTING: (
        *("listed_substitute", "one_way", "version_not_listed", "check_better", "output_not_listed"),
        *("no_difference", "not_listed", "not_listed_within"),
    ),
}
_CHECKS: Mapping[str, Check] = MappingProxyType({rule: c for c, rules in _RULES.items() for rule in rules})


def check_of(rule: str) -> Check:
    """The check that a rule belongs to; KeyError for a rule that there is not."""
    return _CHECKS[rule]


Fact = str | float | int


@dataclass(frozen=True, slots=True)
class Reason:
    """Why: a rule's code and its facts. ``words.say`` turns it into a sentence."""

    rule: str
    outcome: Outcome
    facts: tuple[tuple[str, Fact], ...] = ()


@dataclass(frozen=True, slots=True)
class SocketFacts:
    """What is known of a socket beyond its intended type, in volts and amperes; ``None`` and empty: unknown.

    ``winding_a`` is the rating of the winding that feeds it and ``winding_load_a`` what the set was
    designed to draw from that winding in all; ``string_v`` the designed supply of a series string,
    ``string_high_v`` the highest line the shop expects. ``heater_pins`` is the wiring as in the type table
    (``4+5-9``). ``plate_supply_v`` and ``screen_supply_v`` are the supplies of the electrodes, at a rectifier
    the B+ behind it; ``bias_v`` the grid bias (negative), ``capacitor_v`` what the first filter capacitor
    stands. ``ties`` are pins that the set uses as tie points for other wires.
    """

    circuit: Circuit = Circuit.PARALLEL
    heater_v: float | None = None
    winding_a: float | None = None
    winding_load_a: float | None = None
    string_v: float = 117.0
    string_high_v: float = 125.0
    plate_supply_v: float | None = None
    screen_supply_v: float | None = None
    heater_pins: str = ""
    bias: Bias | None = None
    bias_v: float | None = None
    capacitor_v: float | None = None
    ties: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class FitJudgement:
    """The outcome with every reason found, worst first, and the conditions it holds under."""

    intended: str
    found: str
    outcome: Outcome
    reasons: tuple[Reason, ...]
    conditions: tuple[str, ...] = ()

    @property
    def decided_by(self) -> Check:
        """The check whose answer decided the outcome: that of the first reason."""
        return check_of(self.reasons[0].rule)
