"""How heaters, pins and lists are written in a field of a type, and read back."""

import re

from tubeshelf.domain.errors import UserError
from tubeshelf.domain.numbers import parse_number, plain_number
from tubeshelf.domain.types import HeaterArrangement

_HEATER = re.compile(r"([0-9.,]+)\s*/\s*([0-9.,]+)(?:\s+([0-9a-z]+(?:[+-][0-9a-z]+)*))?")
_ELEMENT = re.compile(r"(?:[0-9a-z]+\.)?[a-z]+[0-9]?")

Pins = tuple[tuple[str, tuple[str, ...]], ...]


def parse_heaters(text: str) -> tuple[HeaterArrangement, ...]:
    """Arrangements joined by ``|``, each volts/amperes and pins: ``6.3/0.3 4+5-9 | 12.6/0.15 4-5``."""
    return tuple(_heater(part.strip()) for part in text.split("|"))


def _heater(text: str) -> HeaterArrangement:
    match = _HEATER.fullmatch(text)
    if match is None:
        raise UserError(f"“{text}” is no heater: type volts/amperes and pins, such as 6.3/0.3 4+5-9.")
    volts, amperes, pins = match.groups(default="")
    arrangement = HeaterArrangement(parse_number(volts), parse_number(amperes), pins)
    if not arrangement.volts or not arrangement.amperes:
        raise UserError(f"“{text}” is no heater: its volts and amperes are above zero.")
    return arrangement


def format_heaters(heaters: tuple[HeaterArrangement, ...]) -> str:
    """The text that ``parse_heaters`` reads."""
    return " | ".join(f"{plain_number(h.volts)}/{plain_number(h.amperes)} {h.pins}".rstrip() for h in heaters)


def parse_pins(text: str) -> Pins:
    """What is on each pin, ``1:2.plate 2:2.grid1 9:heater.tap cap:1.plate``, in the order given."""
    pins = tuple(_pin(part) for part in text.split())
    names = [name for name, _ in pins]
    for name in names:
        if names.count(name) > 1:
            raise UserError(
                f"Pin {name} is there twice: join its elements with +, such as 3:1.cathode+1.beam."
            )
    return pins


def _pin(text: str) -> tuple[str, tuple[str, ...]]:
    name, colon, elements = text.partition(":")
    found = tuple(elements.split("+"))
    if not colon or not (name.isdigit() or name == "cap"):
        raise UserError(f"“{text}” is no pin: type the pin, a colon and its element, such as 1:2.plate.")
    for element in found:
        if not _ELEMENT.fullmatch(element):
            raise UserError(f"“{element}” is no element: type section.element, such as 1.grid1, or heater.")
    return name, found


def format_pins(pins: Pins) -> str:
    """The text that ``parse_pins`` reads."""
    return " ".join(f"{name}:{'+'.join(elements)}" for name, elements in pins)


def parse_list(text: str) -> tuple[str, ...]:
    """Short texts with semicolons between them."""
    return tuple(part.strip() for part in text.split(";") if part.strip())
