"""Heater arithmetic: the load of a winding, and the volts of each tube in a series string.

A first-order estimate: a hot heater or lamp is taken as the resistor V/I of its rating, though its resistance
rises with temperature. The same rules serve a set as designed, as found and as planned (``heater_set``).
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import fsum, isclose

ALLOWED_LOAD = 1.15
"""Share of its designed load that a winding of unknown rating is trusted with, for a whole set."""

IN_SERIES, ON_DROPPER = "series", "dropper"
"""Where a lamp of a string may be; else it names the heater across whose tap it is."""

USUAL_LAMP_A = 0.15
"""Amperes of the panel lamps for which tapped heaters are rated, 6–8 V (RCA Receiving Tube Manual RC-30)."""


@dataclass(frozen=True, slots=True)
class Heater:
    """A heater or a lamp with its rated volts and amperes, ``None`` where they are not known.

    A rectifier's heater may have a tap for the panel lamp: ``tap_v`` of its volts are across the tapped part
    without a lamp; with the usual lamp across it the heater takes ``lamp_heater_v``, of which ``lamp_tap_v``
    are at the lamp, where that is published.
    """

    label: str
    volts: float | None
    amperes: float | None
    tap_v: float | None = None
    lamp_heater_v: float | None = None
    lamp_tap_v: float | None = None


@dataclass(frozen=True, slots=True)
class Lamp:
    """A lamp of a string by its rating; ``at`` is ``series``, ``dropper`` or the label of a tapped heater.

    ``tap_ohm`` is the part of the dropper that a lamp on it shunts.
    """

    volts: float | None
    amperes: float | None
    at: str = IN_SERIES
    tap_ohm: float | None = None

    @property
    def ohms(self) -> float | None:
        """V/I of its rating."""
        return _ohms(Heater("lamp", self.volts, self.amperes))


@dataclass(frozen=True, slots=True)
class Ballast:
    """A ballast tube: holds its amperes while the volts across it are between two bounds."""

    amperes: float
    low_v: float
    high_v: float


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
class StringLamp:
    """The lamp of a string: where it is, its rated volts (if known), and the volts it gets."""

    at: str
    rated_v: float | None
    volts: float

    @property
    def percent_off(self) -> float | None:
        """How far from its rated volts, in per cent."""
        return None if self.rated_v is None else 100 * (self.volts / self.rated_v - 1)


@dataclass(frozen=True, slots=True)
class StringResult:
    """A series string at one supply: its current, its tubes, and volts and watts of the dropper.

    ``ballast_v`` are the volts left for the ballast tube, ``ballast_holds`` whether they are within its
    range: outside of it the current is worked out with the resistor that the ballast is at its bound.
    """

    supply_v: float
    amperes: float
    tubes: tuple[StringTube, ...]
    dropper_v: float = 0.0
    dropper_w: float = 0.0
    lamp: StringLamp | None = None
    ballast_v: float | None = None
    ballast_holds: bool | None = None


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
    lamp: Lamp | None = None,
    ballast: Ballast | None = None,
) -> StringResult | None:
    """A series string by Ohm's law: I = V/(ΣR + R_drop) with R = V/I of each rating, V_k = I·R_k.

    ``lamps`` are in series and told among the tubes; ``lamp`` is the one lamp of a set, wherever it is.
    ``None`` where a heater or the lamp is not known: then no voltage of the string is.
    """
    if unknown_in(heaters, lamps=lamps, lamp=lamp) or not (heaters or lamps):
        return None
    fed = [lit(heater, lamp) for heater in (*heaters, *lamps)]
    ohms = [_sure(_ohms(heater)) for heater in fed]
    drop = _dropper_with(dropper_ohm, lamp)
    series = _sure(lamp.ohms) if lamp is not None and lamp.at == IN_SERIES else 0.0
    rest = fsum((*ohms, drop, series))
    amperes = _current(supply_v, rest, ballast)
    left = None if ballast is None else supply_v - amperes * rest
    return StringResult(
        supply_v=supply_v,
        amperes=amperes,
        tubes=tuple(_in_string(h, amperes * r) for h, r in zip(fed, ohms, strict=True)),
        dropper_v=amperes * drop,
        dropper_w=amperes**2 * _heated(dropper_ohm, lamp),
        lamp=None if lamp is None else _lamp_in_string(lamp, heaters, amperes),
        ballast_v=left,
        ballast_holds=None if ballast is None or left is None else _holds(ballast, left),
    )


def unknown_in(
    heaters: Sequence[Heater], *, lamps: Sequence[Heater] = (), lamp: Lamp | None = None
) -> tuple[str, ...]:
    """The labels of what has to be known of a string and is not, the lamp as ``lamp``."""
    labels = [heater.label for heater in (*heaters, *lamps) if _ohms(heater) is None]
    tapped = None if lamp is None else _tapped(lamp, heaters)
    if lamp is not None and lamp.ohms is None:
        dark = lamp.at not in (IN_SERIES, ON_DROPPER) and tapped is None
        published = tapped is not None and _published(tapped, lamp)
        if not (dark or published):
            labels.append("lamp")
    if lamp is not None and lamp.at == ON_DROPPER and not lamp.tap_ohm:
        labels.append("the part of the dropper that the lamp shunts")
    return tuple(labels)


def lit(heater: Heater, lamp: Lamp | None) -> Heater:
    """The heater as a lamp across its tap leaves it: the published volts for the usual lamp, else the tapped
    part in parallel with the lamp. Any other heater, and one without a tap, stays as it is."""
    if lamp is None or heater.label != lamp.at or heater.tap_v is None:
        return heater
    if heater.volts is None or heater.amperes is None:
        return heater
    if _published(heater, lamp):
        return replace(heater, volts=heater.lamp_heater_v)
    return replace(heater, volts=heater.volts - heater.tap_v + _tap_volts(heater, lamp))


def dropper_for(heaters: Sequence[Heater], *, supply_v: float, lamp: Lamp | None = None) -> Dropper | None:
    """The dropper that brings a string of one rated current to its rating on a supply.

    ``None`` where a heater is unknown, the currents differ, or the heaters take the whole supply.
    """
    members = [lit(heater, lamp) for heater in heaters]
    if lamp is not None and lamp.at == IN_SERIES:
        members.append(Heater("lamp", lamp.volts, lamp.amperes))
    volts = [h.volts for h in members if h.volts is not None]
    amperes = [h.amperes for h in members if h.amperes is not None]
    if not members or len(volts) < len(members) or len(amperes) < len(members):
        return None
    current, left = amperes[0], supply_v - fsum(volts)
    if current <= 0 or left <= 0 or not all(isclose(current, a) for a in amperes):
        return None
    return Dropper(volts=left, ohms=left / current, watts=left * current)


def _ohms(heater: Heater) -> float | None:
    if heater.volts is None or heater.amperes is None or heater.volts <= 0 or heater.amperes <= 0:
        return None
    return heater.volts / heater.amperes


def _tapped(lamp: Lamp, heaters: Sequence[Heater]) -> Heater | None:
    """The heater across whose tap the lamp is; ``None`` where there is no such tap."""
    return next((h for h in heaters if h.label == lamp.at and h.tap_v is not None), None)


def _published(heater: Heater, lamp: Lamp) -> bool:
    """Whether the published volts hold for this lamp; one whose current nobody said is taken as the usual."""
    usual = lamp.amperes is None or isclose(lamp.amperes, USUAL_LAMP_A, rel_tol=0.05)
    return usual and heater.lamp_heater_v is not None and heater.lamp_tap_v is not None


def _tap_volts(heater: Heater, lamp: Lamp) -> float:
    """Volts across tap and lamp at the heater's rated current."""
    if _published(heater, lamp):
        return _sure(heater.lamp_tap_v)
    amperes = _sure(heater.amperes)
    return amperes * _parallel(_sure(heater.tap_v) / amperes, _sure(lamp.ohms))


def _parallel(one: float, other: float) -> float:
    return one * other / (one + other)


def _dropper_with(dropper_ohm: float, lamp: Lamp | None) -> float:
    """The dropper's ohms, a part of which the lamp may shunt."""
    if lamp is None or lamp.at != ON_DROPPER:
        return dropper_ohm
    tap = _sure(lamp.tap_ohm)
    return dropper_ohm - tap + _parallel(tap, _sure(lamp.ohms))


def _heated(dropper_ohm: float, lamp: Lamp | None) -> float:
    """The ohms by which the dropper itself gets warm, P = I²·R: of a shunted part (R_par)²/R_part."""
    if lamp is None or lamp.at != ON_DROPPER:
        return dropper_ohm
    tap = _sure(lamp.tap_ohm)
    return dropper_ohm - tap + _parallel(tap, _sure(lamp.ohms)) ** 2 / tap


def _sure(value: float | None) -> float:
    """A value that ``unknown_in`` found to be known."""
    assert value is not None
    return value


def _current(supply_v: float, ohms: float, ballast: Ballast | None) -> float:
    """The current of the string; outside its range a ballast is the resistor that it is at the bound."""
    if ballast is None:
        return supply_v / ohms
    left = supply_v - ballast.amperes * ohms
    if _holds(ballast, left):
        return ballast.amperes
    bound = ballast.low_v if left < ballast.low_v else ballast.high_v
    return supply_v / (ohms + bound / ballast.amperes)


def _holds(ballast: Ballast, volts: float) -> bool:
    return ballast.low_v - 1e-9 <= volts <= ballast.high_v + 1e-9


def _in_string(heater: Heater, volts: float) -> StringTube:
    rated = _sure(heater.volts)
    return StringTube(heater.label, rated, volts, 100 * (volts / rated - 1))


def _lamp_in_string(lamp: Lamp, heaters: Sequence[Heater], amperes: float) -> StringLamp:
    tapped = _tapped(lamp, heaters)
    if lamp.at == IN_SERIES:
        volts = amperes * _sure(lamp.ohms)
    elif lamp.at == ON_DROPPER:
        volts = amperes * _parallel(_sure(lamp.tap_ohm), _sure(lamp.ohms))
    elif tapped is None:
        volts = 0.0
    else:
        volts = _tap_volts(tapped, lamp) * amperes / _sure(tapped.amperes)
    return StringLamp(lamp.at, lamp.volts, volts)
