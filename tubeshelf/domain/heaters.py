"""Heater arithmetic: the load of a winding, and the volts of each tube in a series string.

A first-order estimate: a hot heater is taken as the resistor V/I of its rating, though its resistance
rises with temperature. The same rules serve a set as designed, as found and as planned.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import fsum, isclose

ALLOWED_LOAD = 1.15
"""Share of its designed load that a winding of unknown rating is trusted with, for a whole set."""


@dataclass(frozen=True, slots=True)
class Heater:
    """A heater or a lamp with its rated volts and amperes, ``None`` where they are not known."""

    label: str
    volts: float | None
    amperes: float | None


@dataclass(frozen=True, slots=True)
class WindingLoad:
    """What a winding has to deliver, in amperes: the known loads, and which are not known."""

    amperes: float
    unknown: tuple[str, ...]
    rating_a: float | None = None
    designed_a: float | None = None

    @property
    def share(self) -> float | None:
        """The load as a share of the rating, or of the designed load where no rating is known."""
        base = self.designed_a if self.rating_a is None else self.rating_a
        return None if base is None or base <= 0 else self.amperes / base

    @property
    def overloaded(self) -> bool | None:
        """Whether it is too much; ``None`` where ratings or loads are missing that could decide it."""
        share = self.share
        if share is None:
            return None
        if share > (ALLOWED_LOAD if self.rating_a is None else 1.0) + 1e-9:
            return True
        return None if self.unknown else False


@dataclass(frozen=True, slots=True)
class StringTube:
    """One heater in a string: what it is rated for, what it gets, and how far off that is in per cent."""

    label: str
    rated_v: float
    volts: float
    percent_off: float


@dataclass(frozen=True, slots=True)
class StringResult:
    """A series string at one supply: its current, its tubes, and volts and watts of the dropper."""

    supply_v: float
    amperes: float
    tubes: tuple[StringTube, ...]
    dropper_v: float = 0.0
    dropper_w: float = 0.0


@dataclass(frozen=True, slots=True)
class Dropper:
    """The resistor a string needs: volts across it, ohms, and watts dissipated."""

    volts: float
    ohms: float
    watts: float


def winding_load(
    heaters: Sequence[Heater],
    *,
    lamps: Sequence[Heater] = (),
    rating_a: float | None = None,
    designed_a: float | None = None,
) -> WindingLoad:
    """The load of a parallel winding: the sum of its heaters' and lamps' currents, in amperes."""
    loads = (*heaters, *lamps)
    return WindingLoad(
        amperes=fsum(load.amperes for load in loads if load.amperes is not None),
        unknown=tuple(load.label for load in loads if load.amperes is None),
        rating_a=rating_a,
        designed_a=designed_a,
    )


def string(
    heaters: Sequence[Heater],
    *,
    supply_v: float,
    dropper_ohm: float = 0.0,
    lamps: Sequence[Heater] = (),
) -> StringResult | None:
    """A series string by Ohm's law: I = V/(ΣR + R_drop) with R = V/I of each rating, V_k = I·R_k.

    ``lamps`` are those in series with the string; one on a rectifier's heater tap is not, and lowers
    that heater by some 3 V. ``None`` where a heater is not known: then no voltage of the string is.
    """
    members = (*heaters, *lamps)
    ohms = [_ohms(member) for member in members]
    known = [r for r in ohms if r is not None]
    if not known or len(known) < len(members):
        return None
    amperes = supply_v / (fsum(known) + dropper_ohm)
    return StringResult(
        supply_v=supply_v,
        amperes=amperes,
        tubes=tuple(_in_string(m, amperes * r) for m, r in zip(members, known, strict=True)),
        dropper_v=amperes * dropper_ohm,
        dropper_w=amperes**2 * dropper_ohm,
    )


def _ohms(heater: Heater) -> float | None:
    if heater.volts is None or heater.amperes is None or heater.volts <= 0 or heater.amperes <= 0:
        return None
    return heater.volts / heater.amperes


def _in_string(heater: Heater, volts: float) -> StringTube:
    rated = heater.volts or 0.0  # known and above zero, or the string would have no result
    return StringTube(heater.label, rated, volts, 100 * (volts / rated - 1))


def dropper_for(heaters: Sequence[Heater], *, supply_v: float) -> Dropper | None:
    """The dropper that brings a string of one rated current to its rating on a supply.

    ``None`` where a heater is unknown, the currents differ, or the heaters take the whole supply.
    """
    volts = [h.volts for h in heaters if h.volts is not None]
    amperes = [h.amperes for h in heaters if h.amperes is not None]
    if not heaters or len(volts) < len(heaters) or len(amperes) < len(heaters):
        return None
    current, left = amperes[0], supply_v - fsum(volts)
    if current <= 0 or left <= 0 or not all(isclose(current, a) for a in amperes):
        return None
    return Dropper(volts=left, ohms=left / current, watts=left * current)
