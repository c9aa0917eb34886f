"""What the rules of fit need to know of a job's socket: its intended type and its heater circuit."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from sqlalchemy import Connection, Row, select

from tubeshelf.domain.errors import UserError
from tubeshelf.domain.fitting import Bias, Circuit, SocketFacts
from tubeshelf.domain.heater_set import USUAL_LINE_V
from tubeshelf.domain.types import TubeType
from tubeshelf.domain.written_facts import WrittenFacts
from tubeshelf.store.queries import bench, reading
from tubeshelf.store.queries.fetch import all_rows
from tubeshelf.store.tables import JobSocket

if TYPE_CHECKING:
    from tubeshelf.services.shop import Shop


def socket_row(connection: Connection, socket_id: int) -> Row[Any]:
    """A job's socket with what was found in it; UserError if it is no longer part of the job."""
    row = reading.socket_for_reading(connection, socket_id)
    if row is None:
        raise UserError("That socket is no longer part of the job; reload the page.")
    return row


def open_socket(connection: Connection, socket_id: int) -> Row[Any]:
    """The same to enter something; UserError where its job is closed, which keeps saying what it said."""
    row = socket_row(connection, socket_id)
    refuse_closed(row)
    return row


def refuse_closed(row: Row[Any]) -> None:
    """UserError where the job with this ``number`` and ``closed_on`` is closed, naming how to go on."""
    if row.closed_on is not None:
        raise UserError(
            f"Job {row.number} is closed: set its status on the Jobs page to an open one, then enter this."
        )


def intended_id(row: Row[Any]) -> int:
    """The type a socket is meant for: the modified type where somebody changed it, else the designed."""
    return int(row.designed_type_id if row.modified_type_id is None else row.modified_type_id)


def written_of(socket: Row[Any]) -> WrittenFacts:
    """What is written down of a socket of a model, a unit or a job."""
    return WrittenFacts(
        heater_pins=socket.heater_pins,
        plate_v=socket.plate_v,
        screen_v=socket.screen_v,
        bias=Bias(socket.bias) if socket.bias else None,
        bias_v=socket.bias_v,
        capacitor_v=socket.capacitor_v,
        ties=tuple(socket.ties.split()),
    )


def written_columns(facts: WrittenFacts) -> dict[str, Any]:
    """The columns that ``written_of`` reads."""
    return {
        "heater_pins": facts.heater_pins,
        "plate_v": facts.plate_v,
        "screen_v": facts.screen_v,
        "bias": str(facts.bias or ""),
        "bias_v": facts.bias_v,
        "capacitor_v": facts.capacitor_v,
        "ties": " ".join(facts.ties),
    }


def facts_of(shop: Shop, connection: Connection, socket: Row[Any]) -> SocketFacts:
    """What is known of a socket: what is written down of it, and of the circuit that feeds it."""
    written = written_of(socket)
    return replace(
        _heater_facts(shop, connection, socket),
        heater_pins=written.heater_pins,
        plate_supply_v=written.plate_v,
        screen_supply_v=written.screen_v,
        bias=written.bias,
        bias_v=written.bias_v,
        capacitor_v=written.capacitor_v,
        ties=written.ties,
    )


def _heater_facts(shop: Shop, connection: Connection, socket: Row[Any]) -> SocketFacts:
    """What is known of the circuit that feeds a socket; plain parallel wiring if nothing is."""
    if socket.heater_circuit_id is None:
        return SocketFacts()
    circuit = bench.heater_circuits(connection, [socket.heater_circuit_id])[0]
    if circuit.circuit == Circuit.SERIES:
        volts = string_supply(circuit)
        high = volts * shop.settings.high_line_v / USUAL_LINE_V
        return SocketFacts(circuit=Circuit.SERIES, string_v=volts, string_high_v=high)
    fed = select(JobSocket.designed_type_id, JobSocket.modified_type_id).where(
        JobSocket.job_id == socket.job_id,
        JobSocket.heater_circuit_id == circuit.id,
        JobSocket.ended_by.is_(None),
    )
    designed = [shop.book.type(intended_id(row)) for row in all_rows(connection, fed)]
    return SocketFacts(
        heater_v=circuit.volts,
        winding_a=circuit.rated_a,
        winding_load_a=designed_load(designed, circuit.volts, circuit.lamp_a),
    )


def string_supply(circuit: Row[Any]) -> float:
    """The supply of a string in volts: as written down, else the line of its model, else the usual one."""
    known = (circuit.volts, circuit.line_v)
    return next((volts for volts in known if volts is not None), USUAL_LINE_V)


def designed_load(
    tubes: Iterable[TubeType | None], volts: float | None, lamp_a: float | None
) -> float | None:
    """What a winding was designed to give, in amperes, lamps included; ``None`` if a part is not known."""
    total = 0.0 if lamp_a is None else lamp_a
    for tube in tubes:
        if tube is None or not tube.heaters:
            return None
        near = min(tube.heaters, key=lambda h: abs(h.volts - (h.volts if volts is None else volts)))
        total += near.amperes
    return total
