"""What is to be said of a winding or a string: codes with their facts; ``heater_words`` makes sentences."""

from collections.abc import Iterator
from dataclasses import dataclass

from tubeshelf.domain.fitting import Fact
from tubeshelf.domain.heater_set import (
    OVER,
    UNDER,
    CircuitState,
    Load,
    LoadState,
    StringState,
    WindingState,
)
from tubeshelf.domain.heaters import IN_SERIES, ON_DROPPER, StringResult

Facts = tuple[tuple[str, Fact], ...]
_SLACK = 1e-9
NEAR_DROPPER = 0.05
"""Share by which a dropper may differ from the right one, and a current from its rating, without a word."""


@dataclass(frozen=True, slots=True)
class Note:
    """One thing to say, by code; ``warns`` where the set should not be run like this."""

    code: str
    facts: Facts = ()
    warns: bool = False


def notes_of(state: CircuitState, *, as_designed: bool = False) -> tuple[Note, ...]:
    """Everything there is to say of a circuit, what warns first.

    Of a string ``as_designed`` it is said which dropper would be right: against a wrong tube the right tube
    helps.
    """
    notes = _of_winding(state) if isinstance(state, WindingState) else _of_string(state, as_designed)
    return tuple(sorted((*notes, *_of_loads(state)), key=lambda note: not note.warns))


def _of_loads(state: CircuitState) -> Iterator[Note]:
    loads = _loads(state)
    if isinstance(state, WindingState):
        for load in loads:
            if load.state is LoadState.EMPTY:
                yield Note("empty", (("position", load.position),))
            elif load.state is LoadState.COLD:
                yield Note("cold", _who(load), warns=True)
    if assumed := [load.position for load in loads if load.assumed]:
        yield Note("assumed", (("positions", _listed(assumed)), ("count", len(assumed))))


def _loads(state: CircuitState) -> tuple[Load, ...]:
    if isinstance(state, WindingState):
        return tuple(share.load for share in state.shares)
    return state.loads


def _of_winding(state: WindingState) -> Iterator[Note]:
    total, feed = state.sum, state.feed
    facts: list[tuple[str, Fact]] = [("amperes", total.amperes)]
    if total.share is not None:
        facts.append(("percent", 100 * total.share))
    if total.rating_a is not None:
        facts.append(("rating_a", total.rating_a))
    elif total.designed_a is not None:
        facts.append(("designed_a", total.designed_a))
    if total.unknown:
        facts.append(("unknown", _listed(total.unknown)))
    if feed.lamps_a is not None:
        facts.append(("lamps_a", feed.lamps_a))
    against = "" if total.share is None else "_rated" if total.rating_a is not None else "_designed"
    over = total.overloaded is True
    yield Note(f"winding_over{against}" if over else f"winding{against}", tuple(facts), warns=over)
    for share in state.shares:
        heater, percent = share.load.heater, share.percent
        if heater is None or heater.volts is None or percent is None or feed.volts is None:
            continue
        if not 100 * UNDER - _SLACK <= percent <= 100 * OVER + _SLACK:
            more = (("volts", feed.volts), ("rated", heater.volts), ("percent", percent))
            yield Note("winding_volts", (*_who(share.load), *more), warns=True)


def _of_string(state: StringState, as_designed: bool) -> Iterator[Note]:
    for position in state.open_at:
        load = next(load for load in state.loads if load.position == position)
        state_of = (("state", str(load.state)), ("count", len(state.open_at)))
        yield Note("string_open", (*_who(load), *state_of), warns=True)
    if state.unknown:
        yield Note("string_unknown", (("unknown", _listed(state.unknown)),))
    if state.nominal is None or state.high is None:
        return
    yield from _current(state, state.nominal)
    yield from _heaters_off(state.nominal, state.high)
    yield from _ballast(state, state.nominal, state.high)
    yield from _lamp(state, state.nominal)
    yield from _dropper(state, state.nominal)
    if as_designed:
        yield from _right_dropper(state, state.nominal)
    yield Note("estimate")


def _current(state: StringState, nominal: StringResult) -> Iterator[Note]:
    facts: list[tuple[str, Fact]] = [("amperes", nominal.amperes), ("line", nominal.supply_v)]
    if state.rated_a is not None:
        off = 100 * (nominal.amperes / state.rated_a - 1)
        facts += [("rated_a", state.rated_a), ("percent", abs(off)), ("way", "high" if off > 0 else "low")]
    yield Note("string_current", tuple(facts))


def _heaters_off(nominal: StringResult, high: StringResult) -> Iterator[Note]:
    """Too much is asked about at the highest line, too little at the nominal one."""
    over = [tube for tube in high.tubes if 100 + tube.percent_off > 100 * OVER + _SLACK]
    under = [tube for tube in nominal.tubes if 100 + tube.percent_off < 100 * UNDER - _SLACK]
    for code, tubes, line in (
        ("heaters_over", over, high.supply_v),
        ("heaters_under", under, nominal.supply_v),
    ):
        alike: dict[float, list[str]] = {}
        for tube in tubes:
            alike.setdefault(round(100 + tube.percent_off, 6), []).append(tube.label)
        for percent, labels in alike.items():
            which = (("positions", _listed(labels)), ("count", len(labels)))
            yield Note(code, (*which, ("percent", percent), ("line", line)), warns=True)


def _ballast(state: StringState, nominal: StringResult, high: StringResult) -> Iterator[Note]:
    ballast = state.feed.ballast
    if ballast is None or nominal.ballast_v is None or high.ballast_v is None:
        return
    bounds = (("amperes", ballast.amperes), ("low", ballast.low_v), ("high", ballast.high_v))
    if nominal.ballast_holds and high.ballast_holds:
        left = (("volts", nominal.ballast_v), ("high_volts", high.ballast_v), ("high_line", high.supply_v))
        yield Note("ballast_holds", (*bounds, *left))
        return
    out = high if nominal.ballast_holds else nominal
    facts = (("volts", out.ballast_v or 0.0), ("line", out.supply_v), ("flows", out.amperes))
    yield Note("ballast_out", (*bounds, *facts), warns=True)


def _lamp(state: StringState, nominal: StringResult) -> Iterator[Note]:
    lamp = nominal.lamp
    if lamp is None:
        return
    rated: Facts = () if lamp.rated_v is None else (("rated", lamp.rated_v),)
    facts: Facts = (("position", lamp.at), ("volts", lamp.volts), *rated)
    if lamp.at in (IN_SERIES, ON_DROPPER):
        yield Note(f"lamp_{lamp.at}", facts)
        return
    load = next(load for load in state.loads if load.position == lamp.at)
    if lamp.volts <= 0:
        yield Note("lamp_dark", _who(load))
        return
    lit = next(tube.rated_v for tube in nominal.tubes if tube.label == lamp.at)
    less = 0.0 if load.heater is None or load.heater.volts is None else load.heater.volts - lit
    yield Note("lamp_tap", (*facts, ("less", less)))
    yield Note("lamp_open", facts[:1])


def _dropper(state: StringState, nominal: StringResult) -> Iterator[Note]:
    if state.feed.drop_ohm:
        ohms = ("ohms", state.feed.drop_ohm)
        yield Note("dropper", (ohms, ("volts", nominal.dropper_v), ("watts", nominal.dropper_w)))


def _right_dropper(state: StringState, nominal: StringResult) -> Iterator[Note]:
    written, right = state.feed.drop_ohm, state.dropper
    if right is None or state.rated_a is None:
        return
    current_off = abs(nominal.amperes / state.rated_a - 1) > NEAR_DROPPER
    if current_off and (written is None or abs(written / right.ohms - 1) > NEAR_DROPPER):
        yield Note("dropper_right", (("ohms", right.ohms), ("volts", right.volts), ("watts", right.watts)))


def _who(load: Load) -> Facts:
    return (("position", load.position), ("type", load.type_name))


def _listed(names: list[str] | tuple[str, ...]) -> str:
    """``V1, V2 and V3``."""
    return " and ".join(filter(None, (", ".join(names[:-1]), *names[-1:])))
