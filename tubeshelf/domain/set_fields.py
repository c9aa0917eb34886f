"""What is measured in a set under power: free named fields, some of which the program reckons with."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from types import MappingProxyType

from tubeshelf.domain.errors import UserError
from tubeshelf.domain.fit_sections import is_output
from tubeshelf.domain.numbers import format_number, parse_number, same_unit
from tubeshelf.domain.types import TubeType


class Quantity(StrEnum):
    """What a field measures, as far as the program reckons with it."""

    ANY = ""
    LINE_V = "line_v"
    PLATE_V = "plate_v"
    SCREEN_V = "screen_v"
    BIAS_V = "bias_v"
    CATHODE_MA = "cathode_ma"
    PLATE_MA = "plate_ma"
    HOURS = "hours"


UNITS: Mapping[Quantity, str] = MappingProxyType(
    {
        Quantity.LINE_V: "V",
        Quantity.PLATE_V: "V",
        Quantity.SCREEN_V: "V",
        Quantity.BIAS_V: "V",
        Quantity.CATHODE_MA: "mA",
        Quantity.PLATE_MA: "mA",
        Quantity.HOURS: "h",
    }
)
"""The unit of each quantity that is reckoned with; nothing is converted."""

_NAMES: Mapping[Quantity, str] = MappingProxyType(
    {
        Quantity.ANY: "something else",
        Quantity.LINE_V: "line volts",
        Quantity.PLATE_V: "plate volts, B+",
        Quantity.SCREEN_V: "screen volts",
        Quantity.BIAS_V: "bias volts",
        Quantity.CATHODE_MA: "cathode current",
        Quantity.PLATE_MA: "plate current",
        Quantity.HOURS: "hours of burn-in",
    }
)

_NOT_OUTPUT = ("driver", "regulator", "oscillator", "inverter", "splitter", "rectifier")


def quantity_name(quantity: Quantity) -> str:
    """A quantity as it is offered."""
    return _NAMES[quantity]


@dataclass(frozen=True, slots=True)
class SetField:
    """Something to measure: its name, its unit, which quantity it is, at each output tube or once.

    ``id`` and ``version`` are those of the record, ``id`` is ``None`` before it was saved.
    """

    name: str
    unit: str
    quantity: Quantity = Quantity.ANY
    per_socket: bool = False
    id: int | None = None
    version: int = 1

    @property
    def label(self) -> str:
        """The name with the unit: ``Cathode current, mA``."""
        return f"{self.name}, {self.unit}" if self.unit else self.name


PROPOSED: Sequence[SetField] = (
    SetField("Line", "V", Quantity.LINE_V),
    SetField("B+", "V", Quantity.PLATE_V),
    SetField("Bias", "V", Quantity.BIAS_V),
    SetField("Cathode current", "mA", Quantity.CATHODE_MA, per_socket=True),
    SetField("Burn-in", "h", Quantity.HOURS),
)
"""What is offered for a model of which nobody has said anything yet."""


def check_fields(fields: Sequence[SetField]) -> None:
    """UserError for a field without a name, a name given twice, a quantity in a unit that is not its own."""
    names: set[str] = set()
    for field in fields:
        if not field.name.strip():
            raise UserError("Give each field a name, such as “B+”.")
        if field.name.casefold() in names:
            raise UserError(f"{field.name} stands there twice; keep one of the two.")
        names.add(field.name.casefold())
        unit = UNITS.get(field.quantity)
        if unit is not None and not same_unit(unit, field.unit):
            what = quantity_name(field.quantity)
            raise UserError(f"{field.name}: type {unit} as its unit, in which {what} can be reckoned with.")


def parse_set_value(text: str, field: SetField) -> float:
    """The value typed for a field, in its unit. Only a bias, and what is free, may be below zero."""
    number = parse_number(text, field.unit)
    if number < 0 and field.quantity not in (Quantity.BIAS_V, Quantity.ANY):
        raise UserError(f"{field.name} cannot be below zero: type it without a sign.")
    return number


def value_text(value: float, unit: str) -> str:
    """A value as it is shown, with its unit."""
    return f"{format_number(value)} {unit}".strip()


def is_output_socket(role: str, tube: TubeType | None) -> bool:
    """Whether the fields of each output tube are asked for here: by its role, else by its intended type.

    A power tube that the role calls something else, such as a driver or a regulator, is none.
    """
    said = role.casefold()
    if "output" in said:
        return True
    power = tube is not None and any(map(is_output, tube.sections))
    return power and not any(other in said for other in _NOT_OUTPUT)
