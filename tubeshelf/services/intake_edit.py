"""Changing what was taken in: a job, its complement, a modified socket, the circuits of a model."""

from __future__ import annotations

from dataclasses import dataclass, fields
from datetime import date
from typing import TYPE_CHECKING, Any

from tubeshelf.domain.errors import UserError
from tubeshelf.domain.fitting import Circuit
from tubeshelf.domain.heaters import IN_SERIES, ON_DROPPER
from tubeshelf.services.changes import Changes, Kind
from tubeshelf.services.complements import (
    plan_sockets,
    read_complement,
    string_circuit,
    write_job_sockets,
    write_model_sockets,
    write_unit_sockets,
)
from tubeshelf.services.customers import Whose, correct, job_key
from tubeshelf.services.finding import judge_fit_again
from tubeshelf.services.socket_facts import open_socket
from tubeshelf.store.queries import bench, intake
from tubeshelf.store.tables import HeaterCircuit, Job, JobSocket, Model, ModelSocket, UnitSocket

if TYPE_CHECKING:
    from tubeshelf.services.shop import Shop


ON_WINDING = "winding"
"""Where the lamps of a winding are; a string's are at one of the places that ``domain.heaters`` names."""


@dataclass(frozen=True, slots=True)
class CircuitPlan:
    """A heater circuit of a model as it is entered, with the positions it feeds.

    ``volts`` is a winding's voltage or a string's supply, ``rated_a`` what the winding stands,
    ``drop_ohm`` a string's dropper. ``lamp_at`` says where the lamps are: empty if there are none or nobody
    said, on the ``winding`` (``lamp_a`` is their current in all), in ``series`` with a string, across
    ``lamp_tap_ohm`` of its ``dropper``, or the position across whose heater tap it is. A ballast tube holds
    ``ballast_a`` while the volts across it are between the two bounds.
    """

    name: str
    circuit: Circuit
    positions: tuple[str, ...]
    volts: float | None = None
    rated_a: float | None = None
    drop_ohm: float | None = None
    lamp_a: float | None = None
    lamp_v: float | None = None
    lamp_at: str = ""
    lamp_tap_ohm: float | None = None
    ballast_a: float | None = None
    ballast_low_v: float | None = None
    ballast_high_v: float | None = None

    def check(self) -> None:
        """UserError with a sentence for what cannot be."""
        if self.lamp_at not in ("", ON_WINDING, IN_SERIES, ON_DROPPER, *self.positions):
            raise UserError(f"{self.name} does not feed {self.lamp_at}, where its lamp is said to be.")
        dropper, part = self.drop_ohm, self.lamp_tap_ohm
        if self.lamp_at == ON_DROPPER and (dropper is None or part is None or part > dropper):
            raise UserError(
                f"{self.name}: type the ohms of the whole dropper and of the part that the lamp shunts."
            )
        ballast = [self.ballast_a, self.ballast_low_v, self.ballast_high_v]
        said = [figure for figure in ballast if figure is not None]
        if said and (len(said) < len(ballast) or said[1] >= said[2]):
            raise UserError(
                f"{self.name}: type the ballast's amperes, and its volts from the lower to the higher."
            )


CIRCUIT_FIGURES = tuple(f.name for f in fields(CircuitPlan) if f.name not in ("name", "circuit", "positions"))
"""The columns that a circuit and its plan have in common."""


def edit_job(
    shop: Shop,
    *,
    job_id: int,
    expected_version: int,
    complaint: str,
    scope: str,
    intake_notes: str,
    promised_on: date | None,
    comeback_of: int | None = None,
    comeback_note: str = "",
    whose: Whose | None = None,
    origin: str = "",
) -> tuple[None, Changes]:
    """Change what the intake sheet says; with ``whose``, also the customer's name, contact and the serial.

    All jobs of the customer and of the unit bear the new ones.
    """
    with shop.record.act("job edited") as journal:
        row = bench.job_row(journal.connection, job_id=job_id)
        if row is None:
            raise UserError("That job is gone; reload the page.")
        journal.update(
            Job,
            job_id,
            expected_version=expected_version,
            complaint=complaint.strip(),
            scope=scope.strip(),
            intake=intake_notes.strip(),
            promised_on=promised_on,
            comeback_of=comeback_of,
            comeback_note=comeback_note.strip(),
            search_key=job_key(
                number=row.number,
                customer=row.customer,
                title=row.title,
                serial=row.serial or "",
                complaint=complaint,
            ),
        )
        things = {(Kind.JOB, job_id)}
        if whose is not None:
            correct(journal, row, whose)
            things.add((Kind.CUSTOMER, row.customer_id))
        journal.said = f"Job {row.number} changed"
        return None, Changes(journal.act_id, journal.said, frozenset(things), origin)


def edit_complement(shop: Shop, *, job_id: int, text: str, origin: str = "") -> tuple[None, Changes]:
    """Make the job's sockets those of the text; unit and model remember them."""
    lines = read_complement(shop, text)
    with shop.record.act("complement") as journal:
        connection = journal.connection
        row = bench.job_row(connection, job_id=job_id)
        if row is None:
            raise UserError("That job is gone; reload the page.")
        circuits: dict[str, int] = {}
        unit: dict[str, Any] = {}
        if row.equipment_id is not None:
            known = intake.sockets_of(connection, ModelSocket, row.model_id)
            circuits = {s.position: s.heater_circuit_id for s in known if s.heater_circuit_id is not None}
            circuits |= string_circuit(journal, row.model_id, lines)
            planned = plan_sockets(shop, lines, circuits)
            write_model_sockets(journal, row.model_id, planned)
            unit = write_unit_sockets(journal, row.equipment_id, planned)
        write_job_sockets(journal, job_id, plan_sockets(shop, lines, circuits), unit)
        for socket in intake.job_sockets_of(connection, job_id):
            judge_fit_again(journal, shop, socket.id)
        journal.said = f"Complement of job {row.number} changed"
        things = frozenset({(Kind.JOB, job_id), (Kind.MODEL, row.model_id or 0)})
        return None, Changes(journal.act_id, journal.said, things, origin)


def set_modified(
    shop: Shop, *, socket_id: int, type_name: str, note: str = "", origin: str = ""
) -> tuple[None, Changes]:
    """Say that somebody changed a socket on purpose to another type; an empty name says as designed."""
    type_id = None
    if type_name.strip():
        type_id = shop.book.id_of(type_name)
        if type_id is None:
            raise UserError(f"{type_name.strip()} is not in the type table.")
    with shop.record.act("modified socket") as journal:
        socket = open_socket(journal.connection, socket_id)
        journal.update(JobSocket, socket_id, modified_type_id=type_id)
        if socket.unit_socket_id is not None:
            journal.update(
                UnitSocket,
                socket.unit_socket_id,
                modified_type_id=type_id,
                modified_note=note.strip(),
            )
        judge_fit_again(journal, shop, socket_id)
        words = f"modified for {shop.book.designation(type_id)}" if type_id else "as designed"
        journal.said = f"{socket.position} of job {socket.number}: {words}"
        things = frozenset({(Kind.JOB, socket.job_id)})
        return None, Changes(journal.act_id, journal.said, things, origin)


def set_circuits(
    shop: Shop,
    *,
    model_id: int,
    line_v: float | None,
    circuits: tuple[CircuitPlan, ...],
    origin: str = "",
) -> tuple[None, Changes]:
    """Say how the heaters of a model are fed: its units and open jobs follow, closed jobs stay as is."""
    with shop.record.act("heater circuits") as journal:
        connection = journal.connection
        journal.update(Model, model_id, line_v=line_v)
        sockets = {row.position: row for row in intake.sockets_of(connection, ModelSocket, model_id)}
        for old in intake.circuits_of(connection, model_id):
            journal.end(HeaterCircuit, old.id)
        fed: dict[str, int] = {}
        for plan in circuits:
            missing = [position for position in plan.positions if position not in sockets]
            if missing:
                raise UserError(
                    f"{plan.name} feeds {', '.join(missing)}, which the complement does not have."
                )
            plan.check()
            values = {column: getattr(plan, column) for column in CIRCUIT_FIGURES}
            circuit_id = journal.insert(
                HeaterCircuit, model_id=model_id, name=plan.name, circuit=str(plan.circuit), **values
            )
            fed |= dict.fromkeys(plan.positions, circuit_id)
        for position, row in sockets.items():
            journal.update(ModelSocket, row.id, heater_circuit_id=fed.get(position))
        for unit in intake.unit_sockets_of_model(connection, model_id):
            journal.update(UnitSocket, unit.id, heater_circuit_id=fed.get(unit.position))
        for socket in intake.open_job_sockets_of_model(connection, model_id):
            journal.update(JobSocket, socket.id, heater_circuit_id=fed.get(socket.position))
            judge_fit_again(journal, shop, socket.id)
        journal.said = "Heater circuits saved"
        things = frozenset({(Kind.MODEL, model_id), (Kind.JOB, 0)})
        return None, Changes(journal.act_id, journal.said, things, origin)
