"""Views of types and testers."""

from dataclasses import dataclass
from datetime import date

from tubeshelf.domain.judging import DefaultRule, Limit, PassLimits, Repeatability, Scale
from tubeshelf.domain.types import Substitute, TubeType


@dataclass(frozen=True, slots=True)
class TypeRow:
    """A type in the list, with how many are on hand and how many are free."""

    type_id: int
    designation: str
    function: str
    base: str
    heater: str
    equivalents: tuple[str, ...]
    on_hand: int
    free: int
    origin: str
    retired: bool


@dataclass(frozen=True, slots=True)
class SettingLineView:
    """A setting line of a type on a tester, with the limit that holds now."""

    id: int
    type_id: int
    designation: str
    tester_id: int
    tester: str
    position: int
    label: str
    section: str
    quantity: str
    fields: tuple[tuple[str, str], ...]
    limit: Limit | None
    version: int


@dataclass(frozen=True, slots=True)
class Distribution:
    """The latest readings of a type's tubes on one setting line, with the limit, for a picture."""

    tester: str
    line: str
    unit: str
    values: tuple[float, ...]
    limit: Limit | None


@dataclass(frozen=True, slots=True)
class TypeDetail:
    """A type as a data sheet of one screen, with what the shop knows about it."""

    type_id: int
    tube: TubeType
    substitutes: tuple[Substitute, ...]
    serves_for: tuple[Substitute, ...]
    shop_fields: tuple[str, ...]
    lines: tuple[SettingLineView, ...]
    distributions: tuple[Distribution, ...]
    on_hand: int
    free: int
    par: int | None


@dataclass(frozen=True, slots=True)
class TesterDetail:
    """A tester with its scale, repeatability, default rule, what leakage and gas may pass, and the names of
    its dial-in fields."""

    id: int
    name: str
    method: str
    scale: Scale
    repeatability: Repeatability
    default: DefaultRule
    passes: PassLimits
    field_names: tuple[str, ...]
    checked_on: date | None
    note: str
    retired: bool
    lines: int
    version: int
