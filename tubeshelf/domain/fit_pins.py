"""Is the same element on every pin that either tube uses?"""

from collections.abc import Iterable, Mapping, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass

from tubeshelf.domain.fit_sections import Renaming, renamings
from tubeshelf.domain.fitting import Outcome, Reason
from tubeshelf.domain.types import Heating, TubeType

_HEATER = frozenset({"heater", "filament"})
_TAP = frozenset({"heater.tap", "filament.tap"})
_SHIELD = frozenset({"shield", "shell"})
_UNUSED = frozenset({"nc", "ic"})
_HARMFUL_ELEMENTS = frozenset({"plate", "grid1", "grid2", "cathode", "target"})
_AT_HIGH_VOLTAGE = frozenset({"plate", "grid2", "target"})
_MANY_GRIDS = frozenset({"pentagrid", "heptode", "hexode", "octode"})
_SIGNAL_GRIDS = frozenset({"grid3", "grid4"})

Places = Mapping[str, AbstractSet[str]]
"""The pins of each electrode."""


@dataclass(frozen=True, slots=True)
class _Pins:
    """What stands on the pins of a tube, by pin; electrodes as ``section.element``."""

    electrodes: Mapping[str, frozenset[str]]
    heater: frozenset[str]
    tap: frozenset[str]
    shields: Mapping[str, str]
    places: Places

    def used_at(self, pin: str) -> tuple[str, ...]:
        """What the pin carries, shields apart."""
        heater = ("heater",) if pin in self.heater else ("heater.tap",) if pin in self.tap else ()
        return (*sorted(self.electrodes.get(pin, ())), *heater)


def check_pins(intended: TubeType, found: TubeType) -> tuple[Reason, ...]:
    """The differences of two tubes of the same base, under the kindest naming of like sections.

    Harmful is a plate, screen, control grid, cathode or target on a pin that the socket uses for
    something else, and a heater across other circuits. Shields differ as a condition only. A cathode
    joined to a heater pin is where a directly heated tube has its filament: no difference.
    """
    for tube in (intended, found):
        if not tube.basing.pins:
            return (Reason("pins_unknown", Outcome.UNKNOWN, (("name", tube.designation),)),)
    wanted = _pins(intended, {})
    versions = (_differences(intended, wanted, found, naming) for naming in renamings(intended, found))
    return min(versions, key=_cost)


def _cost(reasons: tuple[Reason, ...]) -> tuple[int, int]:
    return sum(reason.outcome is Outcome.HARMFUL for reason in reasons), len(reasons)


def _pins(tube: TubeType, naming: Renaming) -> _Pins:
    electrodes: dict[str, frozenset[str]] = {}
    heater, tap, shields = set(), set(), {}
    for pin, elements in tube.basing.pins:
        electrodes[pin] = frozenset(
            _renamed(element, naming)
            for element in elements
            if element not in _HEATER | _TAP | _SHIELD | _UNUSED
        )
        if _HEATER.intersection(elements):
            heater.add(pin)
        if _TAP.intersection(elements):
            tap.add(pin)
        for shield in _SHIELD.intersection(elements):
            if shield != "shell" or tube.envelope != "glass":  # a glass tube has no shell to ground
                shields[pin] = shield
    places: dict[str, set[str]] = {}
    for pin, here in electrodes.items():
        for electrode in here:
            places.setdefault(electrode, set()).add(pin)
    return _Pins(electrodes, frozenset(heater), frozenset(tap), shields, places)


def _renamed(element: str, naming: Renaming) -> str:
    section, _, name = element.partition(".")
    return f"{naming.get(section, section)}.{name}"


def _differences(intended: TubeType, wanted: _Pins, found: TubeType, naming: Renaming) -> tuple[Reason, ...]:
    given = _pins(found, naming)
    ours = _Namer(intended, {section.name: section.name for section in intended.sections})
    theirs = _Namer(found, {new: old for old, new in naming.items()})
    reasons: list[Reason] = []
    for pin in sorted({*wanted.electrodes, *given.electrodes}, key=_pin_order):
        reasons += _landings(pin, wanted, given, ours, theirs)
        if found.heating is not Heating.FILAMENT or pin not in given.heater:  # a filament is the cathode
            reasons += _gaps(pin, wanted, given, ours)
        reasons += _stray_heater(pin, wanted, given, ours)
    return (*reasons, *_shielding(intended, wanted, found, given))


class _Namer:
    """Knows a tube's electrodes by the common section names and calls them by the tube's own."""

    def __init__(self, tube: TubeType, own_names: Mapping[str, str]) -> None:
        self._own_names = own_names
        self._many_grids = {s.name for s in tube.sections if s.function in _MANY_GRIDS}
        self._single = len(tube.sections) <= 1

    def risky(self, electrode: str) -> bool:
        """Whether it does harm on another electrode's pin."""
        section, _, name = electrode.partition(".")
        signal_grid = name in _SIGNAL_GRIDS and self._own_names.get(section) in self._many_grids
        return name in _HARMFUL_ELEMENTS or signal_grid

    def name(self, electrode: str) -> str:
        """A code that ``words`` can say: without the section where there is but one; ``g3`` in converters."""
        section, _, name = electrode.partition(".")
        own = self._own_names.get(section, section)
        if own in self._many_grids and name.startswith("grid"):
            name = f"g{name[4:]}"
        return name if self._single else f"{own}.{name}"

    def names(self, used: Sequence[str]) -> str:
        """Codes of what a pin carries, joined by ``+``; one code where sections share the element."""
        elements = {electrode.rpartition(".")[2] for electrode in used}
        if len(used) > 1 and len(elements) == 1:
            return elements.pop()
        return "+".join(one if one.startswith("heater") else self.name(one) for one in used)


def _landings(pin: str, wanted: _Pins, given: _Pins, ours: _Namer, theirs: _Namer) -> Iterable[Reason]:
    """Found electrodes on a pin where the intended tube does not have them."""
    expected, homes = wanted.used_at(pin), wanted.places
    joined_to_heater = pin in given.heater and pin in wanted.heater
    for electrode in sorted(given.electrodes.get(pin, frozenset()) - wanted.electrodes.get(pin, frozenset())):
        facts = (("element", theirs.name(electrode)), ("pin", pin))
        if joined_to_heater and electrode.endswith(".cathode"):
            continue
        if electrode not in homes and given.electrodes[pin] & wanted.electrodes.get(pin, frozenset()):
            continue  # tied inside to the element that belongs there, such as grids 2 and 4 of a converter
        if theirs.risky(electrode) and (expected or pin in wanted.shields):
            there = ours.names(expected) if expected else wanted.shields[pin]
            yield Reason("electrode_moved", Outcome.HARMFUL, (*facts, ("expected", there)))
        elif not expected and (theirs.risky(electrode) or electrode.endswith(".grid3")):
            yield from _on_a_free_pin(
                electrode, homes.get(electrode, frozenset()) & given.places[electrode], facts
            )


def _on_a_free_pin(
    electrode: str, at_home: AbstractSet[str], facts: tuple[tuple[str, str], ...]
) -> Iterable[Reason]:
    """An electrode on a pin that the socket leaves free, where sets like to tie other wires."""
    if not at_home:
        yield Reason("element_on_unused_pin", Outcome.WRONG_TYPE, facts)
        return
    if electrode.rpartition(".")[2] in _AT_HIGH_VOLTAGE:
        yield Reason("tied_inside", Outcome.WRONG_TYPE, facts)
    yield Reason("check_tied_pin", Outcome.ACCEPTED_SUBSTITUTE, facts)


def _gaps(pin: str, wanted: _Pins, given: _Pins, ours: _Namer) -> Iterable[Reason]:
    """Electrodes of the intended tube that the found one does not have there."""
    places, homes = given.places, wanted.places
    for electrode in sorted(wanted.electrodes.get(pin, frozenset()) - given.electrodes.get(pin, frozenset())):
        if not ours.risky(electrode):
            continue
        facts = (("element", ours.name(electrode)), ("pin", pin))
        if electrode not in places:
            yield Reason("element_missing", Outcome.WRONG_TYPE, facts)
        elif places[electrode] & homes[electrode]:
            yield Reason("tie_missing", Outcome.WRONG_TYPE, facts)


def _stray_heater(pin: str, wanted: _Pins, given: _Pins, ours: _Namer) -> Iterable[Reason]:
    """A found heater on a pin that the socket uses for an electrode."""
    electrodes = wanted.electrodes.get(pin)
    if electrodes and pin in given.heater | given.tap and pin not in wanted.heater | wanted.tap:
        facts = (("pin", pin), ("expected", ours.names(sorted(electrodes))))
        yield Reason("heater_moved", Outcome.HARMFUL, facts)


def _shielding(intended: TubeType, wanted: _Pins, found: TubeType, given: _Pins) -> Iterable[Reason]:
    """What to mind about shields; the shell of a metal tube goes with its envelope."""
    glass_for_metal = (intended.envelope, found.envelope) == ("metal", "glass")
    if glass_for_metal:
        yield Reason("glass_for_metal", Outcome.ACCEPTED_SUBSTITUTE)
    for pin in sorted(wanted.shields.keys() - given.shields.keys(), key=_pin_order):
        if not (glass_for_metal and wanted.shields[pin] == "shell"):
            yield Reason("shield_missing", Outcome.ACCEPTED_SUBSTITUTE, (("pin", pin),))
    for pin in sorted(given.shields.keys() - wanted.shields.keys(), key=_pin_order):
        facts = (("pin", pin), ("shield", given.shields[pin]))
        yield Reason("shield_added", Outcome.ACCEPTED_SUBSTITUTE, facts)


def _pin_order(pin: str) -> tuple[int, str]:
    return (int(pin), "") if pin.isdecimal() else (99, pin)
