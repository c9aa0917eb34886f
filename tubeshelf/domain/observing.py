"""Leakage, gas and life test against a limit: what is proposed, and why. The technician decides.

Period practice, as service manuals of the tube era have it: leakage between elements at least 5 MΩ, heater to
cathode at least 1 MΩ and in power types 0.5 MΩ, no quality test below 0.1 MΩ; grid current from gas at most
0.2 µA (data sheets of small triodes) to 2 µA (of power types); a life test with the heater about 10 % low may
drop by 10 to 15 %, which is general trade knowledge.
"""

import re
from collections.abc import Iterable
from dataclasses import dataclass

from tubeshelf.domain.errors import UserError
from tubeshelf.domain.judging import Mark, Observation, PassLimits
from tubeshelf.domain.numbers import format_number, parse_number, same_unit
from tubeshelf.domain.pins import PAIR
from tubeshelf.domain.types import Heating, TubeType
from tubeshelf.domain.verdict_words import merit_place, merit_word

BETWEEN_ELEMENTS, HEATER_CATHODE, HEATER_CATHODE_POWER = 5.0, 1.0, 0.5
"""The least leakage resistance that period practice passes, in MΩ."""

NO_QUALITY_TEST = 0.1
"""Below so many MΩ a quality test may harm the tester."""

GAS_SMALL_TRIODE, GAS_POWER = 0.2, 2.0
"""The most grid current from gas that data sheets state, in µA."""

DROP_LOW, DROP_HIGH = 10.0, 15.0
"""The drop of a life test, in per cent, from which period practice doubts a tube, and finds it at fault."""

PRACTICE = "period practice"
_SAYS_NOTHING = "With a thoriated filament that says nothing."
MEGOHM, MICROAMPERE = "MΩ", "µA"
MOST_NOISE = 3


@dataclass(frozen=True, slots=True)
class Proposal:
    """Whether a value speaks for a fault (``None``: the technician alone can say), and the sentence why."""

    is_fault: bool | None
    words: str


def unit_of(mark: Mark, passes: PassLimits, reading_unit: str = "") -> str | None:
    """The unit a mark's value is typed in, empty for a bare figure; ``None`` for a mark without a value."""
    if mark is Mark.GAS:
        return passes.gas_unit or MICROAMPERE
    units = {Mark.LEAKAGE: MEGOHM, Mark.NOISE: "", Mark.LIFE_TEST: reading_unit}
    return units.get(mark)


def observed_value(mark: Mark, text: str, unit: str, words: tuple[str, ...] = ()) -> float | None:
    """The value typed for a mark, ``None`` for nothing typed; UserError for one that cannot be.

    With the ``words`` of a merit scale a life test is typed as one of them, or its number.
    """
    if not text.strip():
        return None
    if mark is Mark.LIFE_TEST and words:
        return merit_place(text, words)
    value = parse_number(text, unit)
    if mark is Mark.NOISE and value not in range(MOST_NOISE + 1):
        raise UserError(f"Noise is told from 0 (none) to {MOST_NOISE} (unusable): type one of these figures.")
    if mark is Mark.LEAKAGE and value < 0:
        raise UserError("Leakage is a resistance: type 0 or more.")
    return value


def proposed(
    mark: Mark,
    value: float | None,
    *,
    passes: PassLimits,
    tube: TubeType | None,
    place: str = "",
    last: float | None = None,
    words: tuple[str, ...] = (),
) -> Proposal | None:
    """What a value speaks for, ``None`` where no limit has a say in it.

    ``passes`` are the limits of the tester, which go before period practice. ``place`` are the pins or
    elements of a leakage; ``last`` the reading that a life test is compared with, in its unit;
    with ``words`` both are places of words, worst first.
    """
    if value is None:
        return None
    if mark is Mark.LEAKAGE:
        return _leakage(value, passes.leakage_least, tube, place)
    if mark is Mark.GAS:
        return _gas(abs(value), passes, tube)
    if mark is Mark.LIFE_TEST and last is not None and last > 0:
        return _by_word(value, last, words, tube) if words else _life_test(drop_percent(value, last), tube)
    return None


def drop_percent(value: float, last: float) -> float:
    """How far a reading lies below the last one, in per cent of that; below zero for one above it."""
    return 100 * (last - value) / last


def compared_text(value: float, last: float, words: tuple[str, ...] = ()) -> str:
    """A life test against the reading before it: ``18 % below 6,340``, or ``doubtful after good``."""
    if words:
        return f"{merit_word(value, words)} after {merit_word(last, words)}"
    drop = drop_percent(value, last)
    side = "above" if drop < 0 else "below"
    return f"{format_number(abs(drop), 2)} % {side} {format_number(last)}"


def forbids_quality_test(observations: Iterable[Observation]) -> Observation | None:
    """The short, or the leakage under 0.1 MΩ, because of which a quality test should not be made."""
    for seen in observations:
        leaks = seen.mark is Mark.LEAKAGE and seen.value is not None and seen.value < NO_QUALITY_TEST
        if leaks or (seen.mark is Mark.SHORT and seen.is_fault):
            return seen
    return None


def _leakage(value: float, own: float | None, tube: TubeType | None, place: str) -> Proposal:
    shown = f"{format_number(value)} {MEGOHM}"
    if own is not None:
        return _at_least(shown, value, own, "the tester's limit")
    heater = HEATER_CATHODE_POWER if is_power(tube) else HEATER_CATHODE
    words = f"heater to cathode{' of a power type' if is_power(tube) else ''}, {PRACTICE}"
    where = between_heater_and_cathode(tube, place)
    if where:
        return _at_least(shown, value, heater, words)
    if where is None and heater <= value < BETWEEN_ELEMENTS:
        least = f"{format_number(BETWEEN_ELEMENTS)} {MEGOHM} between elements"
        return Proposal(None, f"{shown}: under {least}, enough from heater to cathode ({PRACTICE}).")
    return _at_least(shown, value, BETWEEN_ELEMENTS, f"between elements, {PRACTICE}")


def _at_least(shown: str, value: float, least: float, source: str) -> Proposal:
    passes = value >= least
    limit = f"{format_number(least)} {MEGOHM}"
    words = f"{shown} is {'not under' if passes else 'under'} {limit} ({source})"
    after = " No quality test below 0.1 MΩ." if value < NO_QUALITY_TEST else ""
    return Proposal(not passes, f"{words}: {'no fault' if passes else 'a fault'}.{after}")


def _gas(value: float, passes: PassLimits, tube: TubeType | None) -> Proposal | None:
    unit = passes.gas_unit or MICROAMPERE
    shown = f"{format_number(value)} {unit}"
    if passes.gas_most is not None:
        return _at_most(shown, value, passes.gas_most, unit, "the tester's limit")
    if not same_unit(unit, MICROAMPERE):
        return None  # nobody says what a division of this tester is worth
    if is_power(tube):
        return _at_most(shown, value, GAS_POWER, unit, f"power types, {PRACTICE}")
    if _is_small_triode(tube):
        return _at_most(shown, value, GAS_SMALL_TRIODE, unit, f"small triodes, {PRACTICE}")
    if GAS_SMALL_TRIODE < value <= GAS_POWER:
        span = f"{format_number(GAS_SMALL_TRIODE)} µA of small triodes and {format_number(GAS_POWER)} µA"
        return Proposal(None, f"{shown} lies between {span} of power types ({PRACTICE}).")
    most = GAS_POWER if value > GAS_POWER else GAS_SMALL_TRIODE
    return _at_most(shown, value, most, unit, PRACTICE)


def _at_most(shown: str, value: float, most: float, unit: str, source: str) -> Proposal:
    over = value > most
    limit = f"{format_number(most)} {unit}"
    words = f"{shown} is {'over' if over else 'not over'} {limit} ({source})"
    return Proposal(over, f"{words}: {'a fault' if over else 'no fault'}.")


def _life_test(drop: float, tube: TubeType | None) -> Proposal:
    direction = "above" if drop < 0 else "below"
    told = f"{format_number(abs(drop), 2)} % {direction} the last reading"
    if tube is not None and tube.heating is Heating.FILAMENT:
        return Proposal(None, f"{told}. {_SAYS_NOTHING}")
    if DROP_LOW < drop <= DROP_HIGH:
        return Proposal(None, f"{told}: between 10 and 15 %, where {PRACTICE} doubts a tube.")
    over = drop > DROP_HIGH
    limit = f"over {DROP_HIGH:g} %" if over else f"not over {DROP_LOW:g} %"
    return Proposal(over, f"{told}: {limit} ({PRACTICE}), {'a fault' if over else 'no fault'}.")


def _by_word(value: float, last: float, words: tuple[str, ...], tube: TubeType | None) -> Proposal:
    """Words have no per cent: one that stays speaks for the tube, a fall is the technician's to judge."""
    told = compared_text(value, last, words)
    if tube is not None and tube.heating is Heating.FILAMENT:
        return Proposal(None, f"{told}. {_SAYS_NOTHING}")
    if value >= last:
        return Proposal(False, f"{told}: no fall, no fault.")
    return Proposal(None, f"{told}: a strong tube hardly moves; words do not say by how much.")


def is_power(tube: TubeType | None) -> bool:
    """Whether a type is a power type: an output tube or a rectifier for power supplies."""
    functions = [] if tube is None else [section.function for section in tube.sections]
    return any("power" in function or function == "rectifier" for function in functions)


def _is_small_triode(tube: TubeType | None) -> bool:
    readable = [] if tube is None else [s.function for s in tube.sections if s.readable]
    return bool(readable) and all(function == "triode" for function in readable)


def between_heater_and_cathode(tube: TubeType | None, place: str) -> bool | None:
    """Whether a place is between heater and cathode; ``None`` where that is not said.

    Pins are looked up on the base of ``tube``; elements are read by their names.
    """
    said = place.strip().casefold()
    if not said:
        return None
    pair = PAIR.fullmatch(said)
    if pair is None:
        return bool(re.search("heater|filament", said)) and "cathode" in said
    if tube is None or not tube.basing.pins:
        return None
    on = [{element.rpartition(".")[2] for element in tube.basing.at(pin)} for pin in pair.groups()]
    heats = [bool(elements & {"heater", "filament", "tap"}) for elements in on]
    cathode = ["cathode" in elements for elements in on]
    return (heats[0] and cathode[1]) or (heats[1] and cathode[0])
