"""Writing a complement: the sockets of a model, of a unit and of a job, kept in step."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from sqlalchemy import Row

from tubeshelf.domain.complement import ComplementLine, format_complement, parse_complement
from tubeshelf.domain.errors import UserError
from tubeshelf.domain.fitting import Circuit
from tubeshelf.domain.written_facts import NOTHING_WRITTEN, WrittenFacts
from tubeshelf.services.socket_facts import socket_row, written_columns, written_of
from tubeshelf.store.queries import intake
from tubeshelf.store.tables import HeaterCircuit, JobSocket, ModelSocket, UnitSocket

if TYPE_CHECKING:
    from tubeshelf.services.shop import Shop
    from tubeshelf.store.journal import Journal


@dataclass(frozen=True, slots=True)
class PlannedSocket:
    """A socket as it is to be written: its type resolved, its heater circuit by id."""

    position: str
    seq: int
    role: str
    designed_type_id: int
    match_group: str
    heater_circuit_id: int | None = None
    facts: WrittenFacts = NOTHING_WRITTEN
    unused: str | None = None
    """The sections that the set does not use, as a row has them; ``None`` leaves what a row says."""

    def values(self) -> dict[str, Any]:
        """The columns that model, unit and job sockets share."""
        unused = {} if self.unused is None else {"unused_sections": self.unused}
        return {
            "position": self.position,
            "seq": self.seq,
            "role": self.role,
            "designed_type_id": self.designed_type_id,
            "match_group": self.match_group,
            "heater_circuit_id": self.heater_circuit_id,
            **written_columns(self.facts),
            **unused,
        }


def planned_from(row: Row[Any]) -> PlannedSocket:
    """A socket as it stands in a model or a unit."""
    return PlannedSocket(
        position=row.position,
        seq=row.seq,
        role=row.role,
        designed_type_id=row.designed_type_id,
        match_group=row.match_group,
        heater_circuit_id=row.heater_circuit_id,
        facts=written_of(row),
        unused=row.unused_sections,
    )


def read_complement(shop: Shop, text: str) -> tuple[ComplementLine, ...]:
    """The lines of a typed complement, all of whose types the table knows.

    Raises UserError with a sentence for each line that is wrong.
    """
    complement = parse_complement(text)
    errors = list(complement.errors)
    for line in complement.lines:
        if shop.book.id_of(line.type_name) is None:
            near = ", ".join(shop.book.catalog.near(line.type_name))
            hint = f" Near: {near}." if near else " Add it on the Types page first."
            errors.append(f"{line.position}: {line.type_name} is not in the type table.{hint}")
    if errors:
        raise UserError("\n".join(errors))
    return complement.lines


def plan_sockets(
    shop: Shop, lines: tuple[ComplementLine, ...], circuits: dict[str, int]
) -> list[PlannedSocket]:
    """The sockets of typed lines, in the order typed. ``circuits`` maps a position to its heater circuit."""
    planned = []
    for seq, line in enumerate(lines, start=1):
        type_id = shop.book.id_of(line.type_name)
        if type_id is None:
            raise UserError(f"{line.type_name} is not in the type table.")
        circuit = circuits.get(line.position)
        planned.append(
            PlannedSocket(line.position, seq, line.role, type_id, line.match_group, circuit, line.facts)
        )
    return planned


def with_known_facts(planned: list[PlannedSocket], known: Iterable[Row[Any]]) -> list[PlannedSocket]:
    """The planned sockets, where nothing was typed with what is written down of the same place and type.

    Of several ``known`` rows of one place the last that says something counts.
    """
    rows = [((row.position, row.designed_type_id), row) for row in known]
    written = {place: facts for place, row in rows if (facts := written_of(row))}
    unused = {place: row.unused_sections for place, row in rows if row.unused_sections}
    places = [(one.position, one.designed_type_id) for one in planned]
    return [
        replace(one, facts=one.facts or written.get(place, NOTHING_WRITTEN), unused=unused.get(place))
        for one, place in zip(planned, places, strict=True)
    ]


def string_circuit(journal: Journal, model_id: int, lines: tuple[ComplementLine, ...]) -> dict[str, int]:
    """Which heater circuit feeds each position that the text marks ``series``; made if the model has none."""
    series = [line.position for line in lines if line.circuit is Circuit.SERIES]
    if not series:
        return {}
    for row in intake.circuits_of(journal.connection, model_id):
        if row.circuit == Circuit.SERIES:
            return dict.fromkeys(series, int(row.id))
    made = journal.insert(
        HeaterCircuit,
        model_id=model_id,
        name="series string",
        circuit=str(Circuit.SERIES),
        volts=None,
        rated_a=None,
        drop_ohm=None,
        lamp_a=None,
    )
    return dict.fromkeys(series, made)


def write_model_sockets(journal: Journal, model_id: int, planned: list[PlannedSocket]) -> None:
    """Make the model's complement the planned one."""
    old = {row.position: row for row in intake.sockets_of(journal.connection, ModelSocket, model_id)}
    for socket in planned:
        row = old.pop(socket.position, None)
        if row is None:
            journal.insert(ModelSocket, model_id=model_id, **socket.values())
        else:
            journal.update(ModelSocket, row.id, **socket.values())
    for row in old.values():
        journal.end(ModelSocket, row.id)


def write_unit_sockets(
    journal: Journal, equipment_id: int, planned: list[PlannedSocket]
) -> dict[str, Row[Any]]:
    """Make the unit's sockets the planned ones, keeping those it has; its rows by position."""
    old = {row.position: row for row in intake.sockets_of(journal.connection, UnitSocket, equipment_id)}
    for socket in planned:
        row = old.pop(socket.position, None)
        if row is None:
            values = {**socket.values(), "modified_type_id": None, "modified_note": ""}
            journal.insert(UnitSocket, equipment_id=equipment_id, **values)
        else:
            journal.update(UnitSocket, row.id, **socket.values())
    for row in old.values():
        journal.end(UnitSocket, row.id)
    return {row.position: row for row in intake.sockets_of(journal.connection, UnitSocket, equipment_id)}


def write_job_sockets(
    journal: Journal, job_id: int, planned: list[PlannedSocket], unit: dict[str, Row[Any]]
) -> None:
    """Make the job's sockets the planned ones; one that something was said about cannot be dropped."""
    old = {row.position: row for row in intake.job_sockets_of(journal.connection, job_id)}
    for socket in planned:
        row = old.pop(socket.position, None)
        stands = unit.get(socket.position)
        if row is not None:
            journal.update(JobSocket, row.id, **socket.values())
            continue
        journal.insert(
            JobSocket,
            job_id=job_id,
            unit_socket_id=None if stands is None else stands.id,
            modified_type_id=None if stands is None else stands.modified_type_id,
            action="",
            action_note="",
            disposition="",
            fitted_item_id=None,
            **socket.values(),
        )
    for row in old.values():
        _drop(journal, row)


def _drop(journal: Journal, row: Row[Any]) -> None:
    if socket_row(journal.connection, row.id).found_id is not None or row.fitted_item_id is not None:
        raise UserError(f"{row.position} has findings in this job; take those back before you remove it.")
    journal.end(JobSocket, row.id)


def complement_text(shop: Shop, rows: list[Row[Any]], series_ids: set[int]) -> str:
    """The sockets as the text that can be typed again."""
    return format_complement(
        tuple(
            ComplementLine(
                row.position,
                row.role,
                shop.book.designation(row.designed_type_id),
                Circuit.SERIES if row.heater_circuit_id in series_ids else None,
                row.match_group,
                written_of(row),
            )
            for row in rows
        )
    )
