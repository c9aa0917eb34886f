"""What stands on the pins of a tube, as the comparison of two tubes needs it."""

from collections.abc import Iterable, Mapping
from collections.abc import Set as AbstractSet
from dataclasses import dataclass

from tubeshelf.domain.fit_sections import Renaming
from tubeshelf.domain.types import Heating, TubeType

_HEATER = frozenset({"heater", "filament"})
_TAP = frozenset({"heater.tap", "filament.tap"})
_SHIELD = frozenset({"shield", "shell"})
_NO_ELECTRODE = _HEATER | _TAP | _SHIELD | {"nc", "ic"}
_HARMFUL_ELEMENTS = frozenset({"plate", "grid1", "grid2", "cathode", "target"})
_MANY_GRIDS = frozenset({"pentagrid", "heptode", "hexode", "octode"})
_SIGNAL_GRIDS = frozenset({"grid3", "grid4"})
_NOTHING: frozenset[str] = frozenset()

_LOUDEST = (
    *("plate", "ac", "b_plus", "grid2", "target", "grid1", "signal", "cathode", "diode", "grid3"),
    *("heater", "filament", "shield", "other"),
)
"""Of several things on one pin the one that decides what comes onto whatever lands there."""


@dataclass(frozen=True, slots=True)
class Pinning:
    """What stands on the pins of a tube, by pin; electrodes as ``section.element``, and where each is.

    ``heats`` is what its heating is called, ``heater`` or ``filament``.
    """

    heats: str
    electrodes: Mapping[str, frozenset[str]]
    heater: frozenset[str]
    tap: frozenset[str]
    shields: Mapping[str, str]
    internal: frozenset[str]
    places: Mapping[str, AbstractSet[str]]

    def at(self, pin: str) -> frozenset[str]:
        """The electrodes on a pin."""
        return self.electrodes.get(pin, _NOTHING)

    def home(self, electrode: str) -> AbstractSet[str]:
        """The pins of an electrode."""
        return self.places.get(electrode, _NOTHING)

    def used_at(self, pin: str) -> tuple[str, ...]:
        """What the pin carries, shields apart."""
        used = tuple(sorted(self.at(pin)))
        if pin in self.heater:
            return (*used, self.heats)
        return (*used, f"{self.heats}.tap") if pin in self.tap else used

    def leaves_free(self, pin: str) -> bool:
        """Whether nothing of the tube is on the pin, so that a set may tie other wires to it."""
        return not (self.used_at(pin) or pin in self.shields or pin in self.internal)


def pinning(tube: TubeType, naming: Renaming) -> Pinning:
    """The pins of a tube, its sections called as ``naming`` says."""
    electrodes: dict[str, frozenset[str]] = {}
    heater, tap, internal, shields = set(), set(), set(), {}
    places: dict[str, set[str]] = {}
    for pin, elements in tube.basing.pins:
        here = []
        for element in elements:
            if element not in _NO_ELECTRODE:
                section, _, name = element.partition(".")
                electrode = f"{naming.get(section, section)}.{name}"
                here.append(electrode)
                places.setdefault(electrode, set()).add(pin)
            elif element in _HEATER:
                heater.add(pin)
            elif element in _TAP:
                tap.add(pin)
            elif element == "ic":
                internal.add(pin)
            elif element == "shield" or (element == "shell" and tube.envelope != "glass"):
                shields[pin] = element  # a glass tube has no shell to ground
        electrodes[pin] = frozenset(here)
    heats = "filament" if tube.heating is Heating.FILAMENT else "heater"
    return Pinning(heats, electrodes, frozenset(heater), frozenset(tap), shields, frozenset(internal), places)


def elements_at(tube: TubeType, pin: str) -> str:
    """Codes of all that a tube has on a pin, as ``words`` says them; ``none`` where its base lacks it."""
    return Namer(tube, {}).everything(pinning(tube, {}), pin)


def _screens(tube: TubeType) -> frozenset[str]:
    """The grids that share a pin with another grid: the screen of a tube with many grids."""
    grids = [[e for e in elements if ".grid" in e] for _pin, elements in tube.basing.pins]
    return frozenset(grid for together in grids if len(together) > 1 for grid in together)


class Namer:
    """Knows a tube's electrodes by the common section names and calls them by the tube's own."""

    def __init__(self, tube: TubeType, own_names: Mapping[str, str]) -> None:
        self._own_names = own_names
        self._functions = {section.name: section.function for section in tube.sections}
        self._screens = _screens(tube)
        self._single = len(tube.sections) <= 1

    def _of(self, electrode: str) -> tuple[str, str, str]:
        """The tube's own name of the section, its function, and the element."""
        section, _, name = electrode.partition(".")
        own = self._own_names.get(section, section)
        return own, self._functions.get(own, ""), name

    def risky(self, electrode: str) -> bool:
        """Whether it does harm on another electrode's pin."""
        _own, function, name = self._of(electrode)
        return name in _HARMFUL_ELEMENTS or (name in _SIGNAL_GRIDS and function in _MANY_GRIDS)

    def name(self, electrode: str) -> str:
        """A code that ``words`` can say: without the section where there is but one; ``g3`` in converters."""
        own, function, name = self._of(electrode)
        if function in _MANY_GRIDS and name.startswith("grid"):
            name = f"g{name[4:]}"
        return name if self._single else f"{own}.{name}"

    def names(self, used: Iterable[str]) -> str:
        """Codes of what a pin carries, joined by ``+``; one code where sections share the element."""
        used = tuple(used)
        elements = {electrode.rpartition(".")[2] for electrode in used}
        if len(used) > 1 and len(elements) == 1:
            return elements.pop()
        return "+".join(one if one in _HEATER | _TAP else self.name(one) for one in used)

    def everything(self, pins: Pinning, pin: str) -> str:
        """Codes of all that the tube has on a pin: ``none`` where its base lacks the pin."""
        if used := pins.used_at(pin):
            return self.names(used)
        if pin in pins.shields:
            return pins.shields[pin]
        if pin in pins.internal:
            return "ic"
        return "nc" if pin in pins.electrodes else "none"

    def role(self, electrode: str) -> str:
        """What an electrode is for the wire on its pin: of a rectifier its plate is ``ac``, and so on."""
        if electrode in _HEATER | _TAP:
            b_plus = electrode.startswith("filament") and "rectifier" in self._functions.values()
            return "b_plus" if b_plus else electrode.partition(".")[0]
        own, function, name = self._of(electrode)
        if function == "rectifier":
            return {"plate": "ac", "cathode": "b_plus"}.get(name, "other")
        if function == "diode" and name == "plate":
            return "diode"
        if function in _MANY_GRIDS and name in _SIGNAL_GRIDS:
            return "grid2" if f"{own}.{name}" in self._screens else "signal"
        return name if name in _LOUDEST else "other"

    def takes_signal(self, electrode: str) -> bool:
        """Whether the signal of a stage comes to it: the signal grid of a converter, else a control grid."""
        _own, function, name = self._of(electrode)
        return self.role(electrode) == "signal" or (name == "grid1" and function not in _MANY_GRIDS)

    def loudest(self, used: Iterable[str]) -> str:
        """The role that decides what comes onto whatever lands on a pin with these electrodes."""
        return min(map(self.role, used), key=_LOUDEST.index)
