"""The heaters of a whole set: what stands in each socket, and what that makes of a winding or a string."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import StrEnum

from tubeshelf.domain.fit_heater import fed, sides
from tubeshelf.domain.fitting import Circuit
from tubeshelf.domain.heaters import (
    Ballast,
    Dropper,
    Heater,
    Lamp,
    StringResult,
    WindingLoad,
    dropper_for,
    string,
    unknown_in,
    winding_load,
)
from tubeshelf.domain.types import HeaterArrangement, Heating, TubeType

USUAL_LINE_V = 117.0
"""The line that most American sets with a series string were made for, in volts."""
OVER, UNDER = 1.10, 0.90
"""Shares of its rated volts between which a heater is well fed."""


class LoadState(StrEnum):
    """How the heater of a socket counts."""

    FED = "fed"
    EMPTY = "empty"
    COLD = "stays cold"
    NO_HEATER = "no heater"
    UNKNOWN = "not known"


@dataclass(frozen=True, slots=True)
class Load:
    """What stands in one socket. Its ``heater``, labelled with the position, is there where it is ``fed``.

    ``assumed`` says that nobody looked, so that the intended type was taken.
    """

    position: str
    type_name: str
    state: LoadState
    heater: Heater | None = None
    assumed: bool = False


@dataclass(frozen=True, slots=True)
class Feed:
    """A winding or series string as it is written down; volts, amperes, ohms, ``None`` where not known.

    ``volts`` is a winding's voltage or a string's supply, ``lamps_a`` the current of all lamps on a winding;
    dropper, ``lamp`` and ballast are those of a string.
    """

    name: str
    circuit: Circuit
    volts: float | None = None
    rated_a: float | None = None
    drop_ohm: float | None = None
    lamps_a: float | None = None
    lamp: Lamp | None = None
    ballast: Ballast | None = None

    @property
    def supply_v(self) -> float:
        """The supply of a string; the usual line where none is written down."""
        return USUAL_LINE_V if self.volts is None else self.volts


@dataclass(frozen=True, slots=True)
class WindingShare:
    """One socket on a winding: what its heater takes, in amperes, and the per cent of rated volts it gets."""

    load: Load
    amperes: float | None
    percent: float | None = None


@dataclass(frozen=True, slots=True)
class WindingState:
    """A winding with what stands on it."""

    feed: Feed
    shares: tuple[WindingShare, ...]
    sum: WindingLoad


@dataclass(frozen=True, slots=True)
class StringState:
    """A series string with what stands in it, at its supply and at the highest line.

    ``nominal`` and ``high`` are missing where something is ``unknown`` or the string is open at a socket.
    ``dropper`` is what would bring it to its rating; none where the heaters take the supply or differ.
    """

    feed: Feed
    loads: tuple[Load, ...]
    high_v: float
    nominal: StringResult | None = None
    high: StringResult | None = None
    unknown: tuple[str, ...] = ()
    open_at: tuple[str, ...] = ()
    dropper: Dropper | None = None

    @property
    def rated_a(self) -> float | None:
        """The current that all its heaters are rated for; ``None`` where they differ or are not known."""
        rated = {load.heater.amperes for load in self.loads if load.heater is not None}
        return next(iter(rated)) if len(rated) == 1 else None


CircuitState = WindingState | StringState


def wiring_of(
    designed: TubeType | None, *, pins: str = "", volts: float | None = None, amperes: float | None = None
) -> HeaterArrangement | None:
    """How a socket is wired: by its written pins, else by the winding's volts or the string's amperes.

    ``None`` where nothing is known of the designed type's heater.
    """
    if designed is None or not designed.heaters:
        return None
    for arrangement in designed.heaters:
        if pins and _ends(pins) == _ends(arrangement.pins):
            return arrangement
    if volts is not None:
        return min(designed.heaters, key=lambda h: abs(h.volts - volts))
    if amperes is not None:
        return min(designed.heaters, key=lambda h: abs(h.amperes - amperes))
    return designed.heaters[0]


def _ends(pins: str) -> frozenset[frozenset[str]]:
    return frozenset(frozenset(end.split("+")) for end in pins.split("-"))


def string_amperes(designed: Iterable[TubeType | None]) -> float | None:
    """The current a string was made for: that of the heaters that can be wired in one way alone."""
    known = [tube.heaters[0].amperes for tube in designed if tube is not None and len(tube.heaters) == 1]
    return max(set(known), key=known.count) if known else None


def load_of(
    position: str,
    tube: TubeType | None,
    *,
    designed: TubeType | None,
    wiring: HeaterArrangement | None,
    name: str = "",
    assumed: bool = False,
) -> Load:
    """How a tube counts in a socket wired for ``designed``; ``tube`` is ``None`` where it is not known."""
    if tube is None:
        return Load(position, name, LoadState.UNKNOWN, Heater(position, None, None), assumed)
    called = tube.designation
    if tube.heating is Heating.COLD:
        return Load(position, called, LoadState.NO_HEATER, assumed=assumed)
    if not tube.heaters:
        return Load(position, called, LoadState.UNKNOWN, Heater(position, None, None), assumed)
    volts, amperes = tube.heaters[0].volts, tube.heaters[0].amperes
    if wiring is not None and designed is not None and designed.base == tube.base:
        heater = fed(tube, *sides(wiring, designed))
        if heater is None:
            return Load(position, called, LoadState.COLD, assumed=assumed)
        volts, amperes = heater.volts, heater.amperes
    elif wiring is not None:
        nearest = min(tube.heaters, key=lambda h: abs(h.volts - wiring.volts))
        volts, amperes = nearest.volts, nearest.amperes
    taps = (tube.tap_v, tube.lamp_heater_v, tube.lamp_tap_v)
    return Load(position, called, LoadState.FED, Heater(position, volts, amperes, *taps), assumed)


def empty(position: str) -> Load:
    """A socket without a tube."""
    return Load(position, "", LoadState.EMPTY)


def winding_state(feed: Feed, loads: Sequence[Load], *, designed_a: float | None = None) -> WindingState:
    """What stands on a winding; ``designed_a`` is what it was designed to give in all."""
    shares = tuple(_share(load, feed.volts) for load in loads)
    heaters = [Heater(s.load.position, feed.volts, s.amperes) for s in shares if s.load.heater is not None]
    lamps = [] if feed.lamps_a is None else [Heater("lamps", feed.volts, feed.lamps_a)]
    total = winding_load(heaters, lamps=lamps, rating_a=feed.rated_a, designed_a=designed_a)
    return WindingState(feed, shares, total)


def _share(load: Load, volts: float | None) -> WindingShare:
    """Its amperes: as rated where the volts are about right, else I = V/R with R = V/I of the rating."""
    heater = load.heater
    if heater is None:
        return WindingShare(load, 0.0)
    if volts is None or not heater.volts or heater.amperes is None:
        return WindingShare(load, heater.amperes)
    ratio = volts / heater.volts
    right = UNDER - 1e-9 <= ratio <= OVER + 1e-9
    return WindingShare(load, heater.amperes if right else heater.amperes * ratio, 100 * ratio)


def string_state(feed: Feed, loads: Sequence[Load], *, high_line_v: float = 125.0) -> StringState:
    """What stands in a string, at its supply and at the highest line, ``high_line_v`` for a 117 V supply."""
    high_v = feed.supply_v * high_line_v / USUAL_LINE_V
    heaters = [load.heater for load in loads if load.heater is not None]
    open_at = tuple(load.position for load in loads if load.heater is None)
    unknown = unknown_in(heaters, lamp=feed.lamp)
    nominal = high = None
    if not (open_at or unknown):
        nominal, high = (
            string(
                heaters,
                supply_v=supply,
                dropper_ohm=feed.drop_ohm or 0.0,
                lamp=feed.lamp,
                ballast=feed.ballast,
            )
            for supply in (feed.supply_v, high_v)
        )
    right = None if feed.ballast or open_at else dropper_for(heaters, supply_v=feed.supply_v, lamp=feed.lamp)
    return StringState(feed, tuple(loads), high_v, nominal, high, unknown, open_at, right)
