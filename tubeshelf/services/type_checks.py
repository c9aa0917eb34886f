"""Whether the fields of a type agree with each other and with the other types, told beside the fields."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from tubeshelf.domain.designations import fold
from tubeshelf.domain.types import Heating, TubeType
from tubeshelf.services.field_errors import FieldErrors

if TYPE_CHECKING:
    from tubeshelf.services.typebook import TypeBook

_HEATING = frozenset({"heater", "heater.tap", "filament", "filament.tap"})
_NO_SECTION = _HEATING | {"shield", "shell", "nc", "ic"}


def check_type(book: TypeBook, tube: TubeType, *, new: bool) -> None:
    """Raise ``FieldErrors`` where a (new) type contradicts itself or takes a name that another type has."""
    wrong = {
        "heaters": _heaters(tube),
        "sections": _sections(tube),
        "designation": _designation(book, tube, new),
        "equivalents": _equivalents(book, tube),
    }
    found = {name: sentence for name, sentence in wrong.items() if sentence}
    if found:
        raise FieldErrors(found)


def _heaters(tube: TubeType) -> str:
    if tube.heating is Heating.COLD and tube.heaters:
        return "A cold cathode has no heater: leave this empty, or say how it is heated."
    if not tube.basing.pins:
        return ""
    for heater in tube.heaters:
        for pin in re.split(r"[+-]", heater.pins) if heater.pins else ():
            if not _HEATING.intersection(tube.basing.at(pin)):
                return f"Pin {pin} of this basing is no heater pin: mend the heater's pins or the basing's."
    return ""


def _sections(tube: TubeType) -> str:
    """Pins and sections have to speak of the same sections, or pins would be compared wrongly."""
    elements = {element for _, on_pin in tube.basing.pins for element in on_pin}
    on_pins = {element.partition(".")[0] for element in elements - _NO_SECTION}
    named = {section.name for section in tube.sections}
    if on_pins and named and on_pins != named:
        told, listed = ", ".join(sorted(on_pins)), ", ".join(sorted(named))
        return f"The pins speak of section {told}, the list has {listed}: give both the same names."
    return ""


def _designation(book: TypeBook, tube: TubeType, new: bool) -> str:
    other = book.catalog.find(tube.designation)
    if other is None or (other.key == tube.key and not new):
        return ""
    if fold(other.designation) == fold(tube.designation):
        return f"{other.designation} is in the table already: edit that one, or take another name."
    return f"{tube.designation} is another name of {other.designation}: edit that one."


def _equivalents(book: TypeBook, tube: TubeType) -> str:
    for name in tube.equivalents:
        if fold(name) == fold(tube.designation):
            return f"{name} is the designation itself: list only its other names."
        other = book.catalog.find(name)
        if other is not None and other.key != tube.key:
            return (
                f"{name} is {other.designation} already: an equivalent is the same tube under another name."
            )
    return ""
