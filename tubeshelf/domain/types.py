"""What a tube type is: its base, pins, heater, sections and ratings, as frozen values."""

from dataclasses import dataclass, field
from enum import StrEnum


class Heating(StrEnum):
    """How the cathode gets hot."""

    HEATER = "heater"
    FILAMENT = "filament"
    COLD = "cold"


@dataclass(frozen=True, slots=True)
class HeaterArrangement:
    """One way to wire the heater: volts, amperes, and between which pins (``4+5-9``)."""

    volts: float
    amperes: float
    pins: str = ""


@dataclass(frozen=True, slots=True)
class Section:
    """One part of a tube with its bogey values and the conditions they hold at.

    Units: gm in µmho, rp in ohms, potentials in volts, currents in mA, dissipations in watts.
    ``None`` is "not known", never zero.
    """

    name: str
    function: str
    readable: bool = True
    gm_umho: float | None = None
    mu: float | None = None
    rp_ohm: float | None = None
    plate_v: float | None = None
    screen_v: float | None = None
    grid_v: float | None = None
    plate_ma: float | None = None
    screen_ma: float | None = None
    plate_w_max: float | None = None
    screen_w_max: float | None = None


@dataclass(frozen=True, slots=True)
class Basing:
    """Which elements are on which pin: ``("1", ("2.plate",))`` and so on, the top cap as ``cap``.

    An element is ``section.element``, or ``heater``, ``heater.tap``, ``filament``, ``shield``,
    ``shell``, ``nc`` (no connection) and ``ic`` (internal connection) without a section.
    """

    code: str
    base: str
    pins: tuple[tuple[str, tuple[str, ...]], ...]

    def at(self, pin: str) -> tuple[str, ...]:
        """The elements on a pin; empty if the base has no such pin."""
        return dict(self.pins).get(pin, ())


@dataclass(frozen=True, slots=True)
class Ratings:
    """What a type stands, in volts, mA and watts, and by which system the maker stated it."""

    system: str = ""
    plate_v_max: float | None = None
    screen_v_max: float | None = None
    cathode_ma_max: float | None = None
    heater_cathode_v_max: float | None = None
    piv_v: float | None = None
    dc_ma: float | None = None
    drop_v: float | None = None
    drop_ma: float | None = None
    operating_v: float | None = None


@dataclass(frozen=True, slots=True)
class TubeType:
    """An entry of the type table.

    ``warmup_s`` is the controlled heater warm-up in seconds, if it has one. A heater with a tap for a panel
    lamp has ``tap_v`` across the tapped part; with the usual lamp there (6–8 V, 0.15 A) the whole heater
    takes ``lamp_heater_v`` and the lamp ``lamp_tap_v``.
    """

    key: str
    designation: str
    function: str
    basing: Basing
    heating: Heating
    heaters: tuple[HeaterArrangement, ...]
    sections: tuple[Section, ...]
    ratings: Ratings = field(default_factory=Ratings)
    family: str = ""
    cutoff: str = ""
    envelope: str = ""
    equivalents: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    note: str = ""
    source: str = ""
    confidence: str = ""
    origin: str = "shipped"
    retired: bool = False
    warmup_s: float | None = None
    tap_v: float | None = None
    lamp_heater_v: float | None = None
    lamp_tap_v: float | None = None

    @property
    def base(self) -> str:
        """The mechanical base, such as ``octal``."""
        return self.basing.base


@dataclass(frozen=True, slots=True)
class Substitute:
    """``found`` may serve where ``intended`` belongs: one direction, graded, under conditions.

    ``grade`` is 1 (as good), 2 (serves with the conditions) or 3 (in a pinch).
    """

    intended: str
    found: str
    grade: int
    conditions: tuple[str, ...]
    source: str
    origin: str = "shipped"
