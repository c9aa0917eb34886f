"""Is the heater right for its circuit? Volts are worked out over the pins, for each possible wiring."""

from dataclasses import dataclass

from tubeshelf.domain.fit_pinning import elements_at
from tubeshelf.domain.fit_winding import check_winding
from tubeshelf.domain.fitting import Circuit, Fact, Outcome, Reason, SocketFacts
from tubeshelf.domain.types import HeaterArrangement, Heating, TubeType

OVER, UNDER = 1.10, 0.90
"""Bounds of the volts across a heater, as shares of its rating: a 7 V heater on 6.3 V is at the lower one."""
VOLTS_BAND = 0.03
"""Share of its rating by which the volts across a heater may be off without a word."""
SERIES_AMPERES, SERIES_VOLTS = 0.05, 0.10
"""How far a heater in a string may be from the designed one, as shares of it."""
_SLACK = 1e-9
_TAPS = frozenset({"heater.tap", "filament.tap"})
_HEATING = _TAPS | {"heater", "filament"}

Side = frozenset[str]


@dataclass(frozen=True, slots=True)
class Fed:
    """A heater as one wiring feeds it: the volts and amperes it then wants; none where it stays cold."""

    volts: float
    amperes: float
    half_cold: bool = False


def check_heater(intended: TubeType, found: TubeType, facts: SocketFacts) -> tuple[Reason, ...]:
    """What the socket's heater circuit does to the found tube and the found tube to it."""
    if found.heating is Heating.COLD:
        return ()
    for tube in (intended, found):
        if not tube.heaters and tube.heating is not Heating.COLD:
            return (Reason("heater_unknown", Outcome.UNKNOWN, (("name", tube.designation),)),)
    if not intended.heaters:
        return (Reason("heater_cold", Outcome.WRONG_TYPE),)
    wirings = _possible(intended, facts)
    if facts.circuit is Circuit.SERIES:
        kindest = min((_series(intended, w, found, facts) for w in wirings), key=_badness)
        return (*kindest, *_warm_up(intended, found))
    by_rule: dict[str, Reason] = {}
    for wiring in wirings:
        for reason in _parallel(intended, wiring, found, facts):
            by_rule.setdefault(reason.rule, reason)
    return tuple(by_rule.values())


def _possible(intended: TubeType, facts: SocketFacts) -> tuple[HeaterArrangement, ...]:
    """The wirings that the socket's known wiring and heater volts do not rule out."""
    wired = _groups(facts.heater_pins)
    known = tuple(w for w in intended.heaters if wired == frozenset(sides(w, intended)))
    if known or facts.heater_v is None:
        return known or intended.heaters
    fitting = (w for w in intended.heaters if abs(w.volts - facts.heater_v) <= 0.1 * facts.heater_v)
    return tuple(fitting) or intended.heaters


def _groups(pins: str) -> frozenset[Side]:
    """The two groups of pins of a wiring written as ``4+5-9``, in whichever order; else no groups."""
    both = pins.split("-")
    return frozenset(frozenset(map(str.strip, one.split("+"))) for one in both if len(both) == 2)


def _warm_up(intended: TubeType, found: TubeType) -> tuple[Reason, ...]:
    """In a string all heaters have to warm up alike: a slow one gets too little, a quick one too much."""
    ours, theirs = intended.warmup_s, found.warmup_s
    if ours is not None and theirs is None:
        return (Reason("warms_up_uncontrolled", Outcome.ACCEPTED_SUBSTITUTE, (("seconds", ours),)),)
    if ours is None and theirs is not None:
        return (Reason("warms_up_alone", Outcome.ACCEPTED_SUBSTITUTE, (("seconds", theirs),)),)
    return ()


def _badness(reasons: tuple[Reason, ...]) -> tuple[int, int]:
    return max((reason.outcome.severity for reason in reasons), default=0), len(reasons)


def sides(arrangement: HeaterArrangement, tube: TubeType) -> tuple[Side, Side]:
    """The pins on either side of an arrangement; from the basing where the arrangement names none."""
    if arrangement.pins:
        one, _, other = arrangement.pins.partition("-")
        return frozenset(one.split("+")), frozenset(other.split("+"))
    pins = [pin for pin, elements in tube.basing.pins if {"heater", "filament"} & set(elements)]
    return frozenset(pins[:1]), frozenset(pins[1:])


def fed(tube: TubeType, plus: Side, minus: Side) -> Fed | None:
    """The tube's heater between these two groups of tied pins; ``None`` where it stays cold.

    A heater with a tap in its middle is two halves, which the wiring puts side by side or in a row.
    """
    tapped = next((a for a in tube.heaters if "+" in a.pins), None)
    if tapped is None:
        arrangement = max(tube.heaters, key=lambda a: a.volts)
        one, other = sides(arrangement, tube)
        across = (one <= plus and other <= minus) or (one <= minus and other <= plus)
        return Fed(arrangement.volts, arrangement.amperes) if across else None
    one, other = sides(tapped, tube)
    ends, tap = (one, other) if len(one) > 1 else (other, one)
    volts, amperes = tapped.volts, tapped.amperes / len(ends)
    if tap <= plus or tap <= minus:
        opposite = minus if tap <= plus else plus
        hot = len(ends & opposite)
        return Fed(volts, amperes * hot, half_cold=hot < len(ends)) if hot else None
    in_a_row = bool(ends & plus) and bool(ends & minus)
    return Fed(volts * len(ends), amperes) if in_a_row else None


def _cold(intended: TubeType, wiring: HeaterArrangement, found: TubeType, string_v: float | None) -> Reason:
    """No current through the heater, by the first pin of the wiring where the found tube has none of it."""
    facts: list[tuple[str, Fact]] = []
    for pin in sorted(frozenset().union(*sides(wiring, intended)), reverse=True):
        if not _HEATING.intersection(found.basing.at(pin)):
            centre = "+" in wiring.pins and _TAPS.intersection(intended.basing.at(pin))
            expected = "heater.centre" if centre else elements_at(intended, pin)
            facts += [("pin", pin), ("expected", expected), ("here", elements_at(found, pin))]
            break
    if wiring.pins:
        facts += [("volts", wiring.volts), ("pins", wiring.pins)]
    if string_v is not None:
        facts.append(("string_v", string_v))
    return Reason("heater_cold", Outcome.WRONG_TYPE, tuple(facts))


def _parallel(
    intended: TubeType, wiring: HeaterArrangement, found: TubeType, facts: SocketFacts
) -> tuple[Reason, ...]:
    heater = fed(found, *sides(wiring, intended))
    if heater is None:
        return (_cold(intended, wiring, found, None),)
    ratio = wiring.volts / heater.volts
    volts: tuple[tuple[str, Fact], ...] = (
        ("volts", wiring.volts),
        ("rated", heater.volts),
        ("percent", 100 * ratio),
    )
    if len(intended.heaters) > 1:
        volts = (*volts, ("pins", wiring.pins))
    if ratio > OVER + _SLACK:
        return (Reason("heater_over", Outcome.HARMFUL, volts),)
    earthed = _earthed_tap(intended, wiring, found)
    current = check_winding(wiring.amperes, heater.amperes * min(ratio, 1.0), facts)
    if ratio < UNDER + _SLACK:
        harm = tuple(reason for reason in current if reason.outcome is Outcome.HARMFUL)
        return (
            Reason("heater_under", Outcome.WRONG_TYPE, (*volts, *_idle_tap(intended, found))),
            *earthed,
            *harm,
        )
    if heater.half_cold:
        return (Reason("heater_half_cold", Outcome.WRONG_TYPE, volts), *current)
    if abs(ratio - 1) > VOLTS_BAND + _SLACK:
        return (*earthed, Reason("heater_off", Outcome.ACCEPTED_SUBSTITUTE, volts), *current)
    return (*earthed, *current)


def _earthed_tap(intended: TubeType, wiring: HeaterArrangement, found: TubeType) -> tuple[Reason, ...]:
    """A centre tap on the shield's pin: with both the shield and one side of the winding earthed, as they
    mostly are, one half of the heater is shorted and the other gets all the volts."""
    for tapped in found.heaters:
        pin = tapped.pins.rpartition("-")[2]
        shielded = {"shield", "shell"}.intersection(intended.basing.at(pin))
        if "+" in tapped.pins and shielded and wiring.volts > OVER * tapped.volts + _SLACK:
            volts = (("volts", wiring.volts), ("rated", tapped.volts))
            percent = ("percent", 100 * wiring.volts / tapped.volts)
            facts = (("pin", pin), ("expected", elements_at(intended, pin)), *volts, percent)
            return (Reason("heater_tap_earthed", Outcome.HARMFUL, facts),)
    return ()


def _idle_tap(intended: TubeType, found: TubeType) -> tuple[tuple[str, Fact], ...]:
    """The found heater's centre tap where the socket has no heater wire for it."""
    for pin in (a.pins.rpartition("-")[2] for a in found.heaters if "+" in a.pins):
        if _TAPS.intersection(found.basing.at(pin)) and not _HEATING.intersection(intended.basing.at(pin)):
            return (("tap", pin), ("expected", elements_at(intended, pin)))
    return ()


def _series(
    intended: TubeType, wiring: HeaterArrangement, found: TubeType, facts: SocketFacts
) -> tuple[Reason, ...]:
    """First-order estimate of a string: each heater a resistance V/I, the rest of the string as designed."""
    heater = fed(found, *sides(wiring, intended))
    if heater is None:
        return (_cold(intended, wiring, found, facts.string_v),)
    amperes_off = abs(heater.amperes / wiring.amperes - 1)
    volts_off = abs(heater.volts / wiring.volts - 1)
    if max(amperes_off, volts_off) <= 0.01 and not heater.half_cold:
        return ()
    rest = max(facts.string_v / wiring.amperes - wiring.volts / wiring.amperes, 0.0)
    ohms = rest + heater.volts / heater.amperes
    nominal, high = facts.string_v / ohms, facts.string_high_v / ohms
    figures = (
        ("found_v", heater.volts),
        ("found_a", heater.amperes),
        ("designed_v", wiring.volts),
        ("designed_a", wiring.amperes),
        ("line", facts.string_v),
        ("high_line", facts.string_high_v),
        ("found_percent", 100 * nominal / heater.amperes),
        ("found_high_percent", 100 * high / heater.amperes),
        ("others_percent", 100 * nominal / wiring.amperes),
        ("others_high_percent", 100 * high / wiring.amperes),
    )
    if max(high / heater.amperes, high / wiring.amperes) > OVER + _SLACK:
        return (Reason("string_over", Outcome.HARMFUL, figures),)
    differs = amperes_off > SERIES_AMPERES + _SLACK or volts_off > SERIES_VOLTS + _SLACK
    if differs or heater.half_cold:
        return (Reason("string_differs", Outcome.WRONG_TYPE, figures),)
    return ()
