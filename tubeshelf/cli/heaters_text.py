"""The heaters of a job as text: a small table for each circuit, then what is to be said of it."""

from collections.abc import Iterator

from tubeshelf.domain.fitting import Circuit
from tubeshelf.domain.heater_set import LoadState, StringState, WindingState
from tubeshelf.domain.heater_words import figure
from tubeshelf.services.views.heaters import CircuitHeaters, HeaterState, JobHeaters, LooseHeaters

_WIDTH = 26
"""Of a column for one state."""


def as_text(heaters: JobHeaters) -> str:
    """The whole answer for a reader."""
    lines = [f"Job {heaters.number}: {heaters.title}"]
    lines += [f"WARNING, as {w.state}: {w.circuit}: {w.sentence}" for w in heaters.warnings]
    for circuit in heaters.circuits:
        lines += ["", *_circuit(circuit)]
    if heaters.loose:
        lines += ["", "circuit not written down", *(_loose(group) for group in heaters.loose)]
    return "\n".join(lines)


def _circuit(circuit: CircuitHeaters) -> Iterator[str]:
    fed = "series string" if circuit.circuit is Circuit.SERIES else "winding"
    volts = "" if circuit.supply_v is None else f", {figure(circuit.supply_v)} V"
    rated = "" if circuit.rating_a is None else f", rated {figure(circuit.rating_a)} A"
    yield f"{circuit.name}: {fed}{volts}{rated}"
    columns = [dict(_rows(state)) for _, state in circuit.states]
    yield _row("", [name for name, _ in circuit.states])
    for position in columns[0]:
        yield _row(position, [column.get(position, "") for column in columns])
    told: set[str] = set()
    for name, state in circuit.states:
        for sentence in state.sentences:
            if sentence not in told:
                mark = "!" if sentence in state.warnings else " "
                yield f"{mark} {name}: {sentence}"
        told |= set(state.sentences)


def _row(position: str, cells: list[str]) -> str:
    return f"  {position:6} {' '.join(f'{cell:{_WIDTH}}' for cell in cells)}".rstrip()


def _rows(told: HeaterState) -> Iterator[tuple[str, str]]:
    state = told.state
    yield from _winding(state) if isinstance(state, WindingState) else _string(state)


def _winding(state: WindingState) -> Iterator[tuple[str, str]]:
    for share in state.shares:
        load = share.load
        if load.state in (LoadState.FED, LoadState.COLD):
            takes = "?" if share.amperes is None else figure(share.amperes)
            yield load.position, f"{load.type_name:9} {takes} A"
        else:
            yield load.position, f"{load.type_name or '–':9} {load.state}"
    if state.feed.lamps_a is not None:
        yield "lamps", f"{'':9} {figure(state.feed.lamps_a)} A"
    share_of = "" if state.sum.share is None else f", {figure(100 * state.sum.share)} %"
    yield "sum", f"{'':9} {figure(state.sum.amperes)} A{share_of}"


def _string(state: StringState) -> Iterator[tuple[str, str]]:
    fed = {} if state.nominal is None else {tube.label: tube for tube in state.nominal.tubes}
    for load in state.loads:
        tube = fed.get(load.position)
        gets = str(load.state) if load.state is not LoadState.FED else "no current"
        if state.unknown and load.state is LoadState.FED:
            gets = "?"
        if tube is not None:
            gets = f"{figure(tube.volts)} V, {figure(100 + tube.percent_off)} %"
        yield load.position, f"{load.type_name or '–':9} {gets}"
    if state.nominal is not None:
        yield "flows", f"{'':9} {figure(state.nominal.amperes)} A"


def _loose(group: LooseHeaters) -> str:
    volts = "volts not known" if group.volts is None else f"{figure(group.volts)} V"
    unknown = f", {', '.join(group.unknown)} not known" if group.unknown else ""
    sums = f"designed {figure(group.designed_a)} A, found {figure(group.found_a)} A, planned "
    return f"  {volts}: {', '.join(group.positions)}: {sums}{figure(group.planned_a)} A{unknown}"
