"""Is the same element on every pin that either tube uses?"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from tubeshelf.domain.fit_pinning import Namer, Pinning, pinning
from tubeshelf.domain.fit_sections import Renaming, renamings
from tubeshelf.domain.fitting import Outcome, Reason
from tubeshelf.domain.types import Heating, TubeType

_AT_HIGH_VOLTAGE = frozenset({"plate", "grid2", "target"})


@dataclass(frozen=True, slots=True)
class _Pair:
    """Two tubes of one base with their pins, sections named alike, and the free pins that the set ties to."""

    intended: TubeType
    found: TubeType
    wanted: Pinning
    given: Pinning
    ours: Namer
    theirs: Namer
    ties: frozenset[str]

    def facts(self, electrode: str, pin: str, then: str = "") -> tuple[tuple[str, str], ...]:
        """A found electrode and its pin; ``then`` is what follows, as ``fit_words.consequence`` reads it."""
        facts = (("element", self.theirs.name(electrode)), ("pin", pin))
        return (*facts, ("then", f"{self.theirs.role(electrode)}>{then}")) if then else facts


def check_pins(intended: TubeType, found: TubeType, ties: Sequence[str] = ()) -> tuple[Reason, ...]:
    """The differences of two tubes of the same base, under the kindest naming of like sections.

    Harmful is a plate, screen, control grid, cathode or target on a pin that the socket uses for
    something else, and a heater across other circuits. Shields differ as a condition only. A cathode
    joined to a heater pin is where a directly heated tube has its filament: no difference. ``ties``
    are the pins that the set is known to use as tie points.
    """
    for tube in (intended, found):
        if not tube.basing.pins:
            return (Reason("pins_unknown", Outcome.UNKNOWN, (("name", tube.designation),)),)
    same = intended.basing.pins == found.basing.pins
    wanted, tied = pinning(intended, {}), frozenset(ties)
    versions = (
        _differences(_pair(intended, wanted, found, naming, tied))
        for naming in ([{}] if same else renamings(intended, found))
    )
    return min(versions, key=_cost)


def _cost(reasons: tuple[Reason, ...]) -> tuple[int, int]:
    return sum(reason.outcome is Outcome.HARMFUL for reason in reasons), len(reasons)


def _pair(
    intended: TubeType, wanted: Pinning, found: TubeType, naming: Renaming, ties: frozenset[str]
) -> _Pair:
    free = frozenset(pin for pin in ties if wanted.leaves_free(pin))
    ours, theirs = Namer(intended, {}), Namer(found, {new: old for old, new in naming.items()})
    return _Pair(intended, found, wanted, pinning(found, naming), ours, theirs, free)


def _differences(pair: _Pair) -> tuple[Reason, ...]:
    reasons: list[Reason] = []
    wanted, given = pair.wanted, pair.given
    filament = given.heater if pair.found.heating is Heating.FILAMENT else frozenset()
    stray = (given.heater | given.tap) - (wanted.heater | wanted.tap)
    for pin in sorted({*wanted.electrodes, *given.electrodes}, key=_pin_order):
        if pin in pair.ties:
            reasons += _on_a_tie_point(pin, pair)
            continue
        if wanted.at(pin) != given.at(pin):
            reasons += _landings(pin, pair)
            if pin not in filament:  # a filament is the cathode
                reasons += _gaps(pin, pair)
        if pin in stray:
            reasons += _stray_heater(pin, pair)
        if pin in wanted.tap:
            reasons += _tap(pin, pair)
    return (*reasons, *_shielding(pair))


def _landings(pin: str, pair: _Pair) -> Iterable[Reason]:
    """Found electrodes on a pin where the intended tube does not have them."""
    wanted, given, ours = pair.wanted, pair.given, pair.ours
    expected, here = wanted.used_at(pin), given.at(pin)
    joined_to_heater = pin in given.heater and pin in wanted.heater
    for electrode in sorted(here - wanted.at(pin)):
        if joined_to_heater and electrode.endswith(".cathode"):
            continue
        if electrode not in wanted.places and here & wanted.at(pin):
            continue  # tied inside to the element that belongs there, such as grids 2 and 4 of a converter
        if pair.theirs.role(electrode) == "signal" and any(map(ours.takes_signal, wanted.at(pin))):
            continue  # of a converter: the signal comes to its signal grid, as it should
        risky = pair.theirs.risky(electrode)
        if risky and (expected or pin in wanted.shields):
            there = ours.names(expected) if expected else wanted.shields[pin]
            role = ours.loudest(expected) if expected else "shield"
            facts = (*pair.facts(electrode, pin, role), ("expected", there))
            yield Reason("electrode_moved", Outcome.HARMFUL, facts)
        elif not expected and (risky or electrode.endswith(".grid3")):
            yield from _on_a_free_pin(electrode, pin, pair)


def _on_a_free_pin(electrode: str, pin: str, pair: _Pair) -> Iterable[Reason]:
    """An electrode on a pin that the socket leaves free, where sets like to tie other wires."""
    if not pair.wanted.home(electrode) & pair.given.home(electrode):
        yield Reason("element_on_unused_pin", Outcome.WRONG_TYPE, pair.facts(electrode, pin, "free"))
        return
    if electrode.rpartition(".")[2] in _AT_HIGH_VOLTAGE:
        yield Reason("tied_inside", Outcome.WRONG_TYPE, pair.facts(electrode, pin))
    yield Reason("check_tied_pin", Outcome.ACCEPTED_SUBSTITUTE, pair.facts(electrode, pin))


def _on_a_tie_point(pin: str, pair: _Pair) -> Iterable[Reason]:
    """Whatever the found tube has on a pin where the set is known to tie other wires together."""
    for used in pair.given.used_at(pin):
        heats = pin in pair.given.heater | pair.given.tap and used not in pair.given.places
        facts = (("element", used), ("pin", pin)) if heats else pair.facts(used, pin)
        if heats or pair.theirs.risky(used):
            yield Reason("on_tie_point", Outcome.HARMFUL, facts)
        else:
            yield Reason("check_tie_point", Outcome.ACCEPTED_SUBSTITUTE, facts)
    if not pair.given.used_at(pin) and not pair.given.leaves_free(pin):
        facts = (("element", pair.theirs.everything(pair.given, pin)), ("pin", pin))
        yield Reason("check_tie_point", Outcome.ACCEPTED_SUBSTITUTE, facts)


def _gaps(pin: str, pair: _Pair) -> Iterable[Reason]:
    """Electrodes of the intended tube that the found one does not have there."""
    for electrode in sorted(pair.wanted.at(pin) - pair.given.at(pin)):
        if not pair.ours.risky(electrode):
            continue
        here = pair.theirs.everything(pair.given, pin)
        facts = (("element", pair.ours.name(electrode)), ("pin", pin), ("here", here))
        if electrode not in pair.given.places:
            yield Reason("element_missing", Outcome.WRONG_TYPE, facts)
        elif pair.given.home(electrode) & pair.wanted.home(electrode):
            yield Reason("tie_missing", Outcome.WRONG_TYPE, facts)


def _stray_heater(pin: str, pair: _Pair) -> Iterable[Reason]:
    """A found heater on a pin where the intended tube has none: harm if it has an electrode there."""
    if electrodes := pair.wanted.at(pin):
        expected, heater = sorted(electrodes), pair.given.used_at(pin)[-1]
        then = f"heater>{pair.ours.loudest(expected)}"
        facts = (("pin", pin), ("element", heater), ("expected", pair.ours.names(expected)), ("then", then))
        yield Reason("heater_moved", Outcome.HARMFUL, facts)


def _tap(pin: str, pair: _Pair) -> Iterable[Reason]:
    """The tap of a rectifier's heater that the found one lacks: sets feed a lamp and the plate from it.

    Taps over which the heater itself is wired belong to the heater check.
    """
    wired = any(pin in h.pins.replace("+", "-").split("-") for h in pair.intended.heaters)
    if not wired and not pair.given.used_at(pin):
        here = pair.theirs.everything(pair.given, pin)
        yield Reason("tap_missing", Outcome.WRONG_TYPE, (("pin", pin), ("here", here)))


def _shielding(pair: _Pair) -> Iterable[Reason]:
    """What to mind about shields; the shell of a metal tube goes with its envelope."""
    wanted, given = pair.wanted.shields, pair.given.shields
    glass_for_metal = (pair.intended.envelope, pair.found.envelope) == ("metal", "glass")
    if glass_for_metal:
        yield Reason("glass_for_metal", Outcome.ACCEPTED_SUBSTITUTE)
    for pin in sorted(wanted.keys() - given.keys(), key=_pin_order):
        if not (glass_for_metal and wanted[pin] == "shell"):
            yield Reason("shield_missing", Outcome.ACCEPTED_SUBSTITUTE, (("pin", pin),))
    for pin in sorted(given.keys() - wanted.keys() - pair.ties, key=_pin_order):
        yield Reason("shield_added", Outcome.ACCEPTED_SUBSTITUTE, (("pin", pin), ("shield", given[pin])))


def _pin_order(pin: str) -> tuple[int, str]:
    return (int(pin), "") if pin.isdecimal() else (99, pin)
