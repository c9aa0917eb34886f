"""The heaters of a job as JSON values; ``tubeshelf heaters --help`` says what the keys mean."""

from typing import Any

from tubeshelf.domain.heater_set import StringState, WindingState
from tubeshelf.domain.heaters import StringResult
from tubeshelf.services.views.heaters import CircuitHeaters, HeaterState, JobHeaters


def as_object(heaters: JobHeaters) -> dict[str, Any]:
    """The whole answer."""
    return {
        "job": heaters.number,
        "title": heaters.title,
        "circuits": [_circuit(circuit) for circuit in heaters.circuits],
        "loose": [
            {
                "volts": group.volts,
                "positions": list(group.positions),
                "designed_a": group.designed_a,
                "found_a": group.found_a,
                "planned_a": group.planned_a,
                "unknown": list(group.unknown),
            }
            for group in heaters.loose
        ],
        "warnings": [
            {"circuit": warning.circuit, "state": warning.state, "sentence": warning.sentence}
            for warning in heaters.warnings
        ],
    }


def _circuit(circuit: CircuitHeaters) -> dict[str, Any]:
    return {
        "name": circuit.name,
        "circuit": str(circuit.circuit),
        "supply_v": circuit.supply_v,
        "rating_a": circuit.rating_a,
        **{name: _state(state) for name, state in circuit.states},
    }


def _state(told: HeaterState) -> dict[str, Any]:
    state = told.state
    figures = _winding(state) if isinstance(state, WindingState) else _string(state)
    return {**figures, "sentences": list(told.sentences), "warnings": list(told.warnings)}


def _winding(state: WindingState) -> dict[str, Any]:
    return {
        "amperes": state.sum.amperes,
        "share": state.sum.share,
        "overloaded": state.sum.overloaded,
        "unknown": list(state.sum.unknown),
        "loads": [
            {
                "position": share.load.position,
                "type": share.load.type_name,
                "state": str(share.load.state),
                "amperes": share.amperes,
                "percent": share.percent,
            }
            for share in state.shares
        ],
    }


def _string(state: StringState) -> dict[str, Any]:
    types = {load.position: load.type_name for load in state.loads}
    right = state.dropper
    return {
        **_figures(state.nominal, types, is_open=bool(state.open_at)),
        "high_line": {
            "line_v": state.high_v,
            **_figures(state.high, types, is_open=bool(state.open_at)),
        },
        "dropper": None
        if right is None
        else {"volts": right.volts, "ohms": right.ohms, "watts": right.watts},
        "unknown": list(state.unknown),
        "open_at": list(state.open_at),
    }


def _figures(result: StringResult | None, types: dict[str, str], *, is_open: bool) -> dict[str, Any]:
    lamp = None if result is None else result.lamp
    return {
        "amperes": result.amperes if result is not None else 0.0 if is_open else None,
        "dropper_v": None if result is None else result.dropper_v,
        "dropper_w": None if result is None else result.dropper_w,
        "ballast_v": None if result is None else result.ballast_v,
        "ballast_holds": None if result is None else result.ballast_holds,
        "lamp": None if lamp is None else {"at": lamp.at, "rated_v": lamp.rated_v, "volts": lamp.volts},
        "tubes": [
            {
                "position": tube.label,
                "type": types[tube.label],
                "rated_v": tube.rated_v,
                "volts": tube.volts,
                "percent_off": tube.percent_off,
            }
            for tube in (() if result is None else result.tubes)
        ],
    }
