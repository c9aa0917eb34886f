"""Taking in a job: whose, what, the complaint, and the complement of sockets."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, Any

from tubeshelf.domain.errors import UserError
from tubeshelf.domain.fitting import Circuit
from tubeshelf.domain.jobs import JobStatus
from tubeshelf.services.changes import Changes, Kind
from tubeshelf.services.complements import (
    complement_text,
    plan_sockets,
    planned_from,
    read_complement,
    string_circuit,
    with_known_facts,
    write_job_sockets,
    write_model_sockets,
    write_unit_sockets,
)
from tubeshelf.services.customers import job_key
from tubeshelf.services.folding import search_words, text_key
from tubeshelf.store.queries import intake
from tubeshelf.store.tables import Customer, Equipment, Job, Model, ModelSocket, UnitSocket

if TYPE_CHECKING:
    from tubeshelf.services.shop import Shop
    from tubeshelf.store.journal import Journal


@dataclass(frozen=True, slots=True)
class CustomerView:
    """A customer as a choice."""

    id: int
    name: str
    contact: str


@dataclass(frozen=True, slots=True)
class ModelView:
    """A model of equipment as a choice, with its complement as text."""

    id: int
    maker: str
    name: str
    line_v: float | None
    complement: str


@dataclass(frozen=True, slots=True)
class UnitView:
    """One customer's unit."""

    id: int
    maker: str
    model: str
    serial: str


def find_customers(shop: Shop, *, find: str = "") -> tuple[CustomerView, ...]:
    """Customers whose name has all the words typed."""
    with shop.record.reading() as connection:
        rows = intake.customers(connection, search_words(find))
    return tuple(CustomerView(row.id, row.name, row.contact) for row in rows)


def contact_of(shop: Shop, *, customer_id: int) -> str:
    """How a customer is reached."""
    with shop.record.reading() as connection:
        return intake.contact(connection, customer_id)


def find_models(shop: Shop, *, find: str = "") -> tuple[ModelView, ...]:
    """Models whose maker or name has all the words typed."""
    with shop.record.reading() as connection:
        rows = intake.models(connection, search_words(find))
        return tuple(_model_view(shop, connection, row) for row in rows)


def units_of(shop: Shop, *, customer_id: int) -> tuple[UnitView, ...]:
    """A customer's units."""
    with shop.record.reading() as connection:
        rows = intake.units(connection, customer_id=customer_id)
    return tuple(UnitView(row.id, row.maker, row.model, row.serial) for row in rows)


def _model_view(shop: Shop, connection: Any, row: Any) -> ModelView:
    sockets = list(intake.sockets_of(connection, ModelSocket, row.id))
    series = {c.id for c in intake.circuits_of(connection, row.id) if c.circuit == Circuit.SERIES}
    return ModelView(row.id, row.maker, row.name, row.line_v, complement_text(shop, sockets, series))


def new_job(
    shop: Shop,
    *,
    customer: str,
    contact: str = "",
    maker: str = "",
    model: str = "",
    serial: str = "",
    title: str = "",
    complement: str = "",
    complaint: str = "",
    scope: str = "",
    intake_notes: str = "",
    promised_on: date | None = None,
    comeback_of: int | None = None,
    origin: str = "",
) -> tuple[int, Changes]:
    """Take in a job and return its number: of a unit, or (without a model) of a box of loose tubes.

    The complement comes from the text, else from the unit's last job, else from the model; a new model
    remembers it. Raises UserError for a missing customer, an unknown type, a position given twice.
    """
    if not customer.strip():
        raise UserError("Type the customer's name: each job belongs to somebody.")
    if not model.strip() and not title.strip():
        raise UserError("Type the model of the equipment, or say what box of loose tubes this is.")
    lines = read_complement(shop, complement)
    with shop.record.act("new job") as journal:
        customer_id = _customer(journal, customer, contact)
        equipment_id, name = None, " ".join(title.split())
        unit: dict[str, Any] = {}
        if model.strip():
            model_id, name = _model(journal, maker, model)
            circuits = string_circuit(journal, model_id, lines)
            if lines and not intake.sockets_of(journal.connection, ModelSocket, model_id):
                write_model_sockets(journal, model_id, plan_sockets(shop, lines, circuits))
            equipment_id = _unit(journal, customer_id, model_id, " ".join(serial.split()), name)
            unit = _unit_sockets(journal, shop, equipment_id, model_id, lines)
        number = journal.next_number("job")
        job_id = journal.insert(
            Job,
            number=number,
            customer_id=customer_id,
            equipment_id=equipment_id,
            tester_id=None,
            title=name,
            complaint=complaint.strip(),
            scope=scope.strip(),
            intake=intake_notes.strip(),
            status=str(JobStatus.RECEIVED),
            received_on=shop.today,
            promised_on=promised_on,
            closed_on=None,
            labour=shop.settings.labour,
            comeback_of=comeback_of,
            comeback_note="",
            search_key=job_key(
                number=number, customer=customer, title=name, serial=serial, complaint=complaint
            ),
        )
        if unit:
            from_unit = [planned_from(row) for row in sorted(unit.values(), key=lambda row: row.seq)]
            write_job_sockets(journal, job_id, from_unit, unit)
        else:
            write_job_sockets(journal, job_id, plan_sockets(shop, lines, {}), {})
        journal.said = f"Job {number}, {name}, taken in"
        things = frozenset({(Kind.JOB, job_id), (Kind.CUSTOMER, customer_id), (Kind.MODEL, 0)})
        return number, Changes(journal.act_id, journal.said, things, origin)


def _customer(journal: Journal, name: str, contact: str) -> int:
    name = " ".join(name.split())
    known = intake.customer_named(journal.connection, text_key(name))
    if known is None:
        values = {"contact": contact.strip(), "note": "", "search_key": text_key(name)}
        return journal.insert(Customer, name=name, **values)
    if contact.strip() and contact.strip() != known.contact:
        journal.update(Customer, known.id, contact=contact.strip())
    return int(known.id)


def _model(journal: Journal, maker: str, model: str) -> tuple[int, str]:
    maker, model = " ".join(maker.split()), " ".join(model.split())
    name = f"{maker} {model}".strip()
    known = intake.model_named(journal.connection, text_key(name))
    if known is not None:
        return int(known.id), f"{known.maker} {known.name}".strip()
    key = text_key(name)
    return journal.insert(Model, maker=maker, name=model, note="", line_v=None, search_key=key), name


def _unit(journal: Journal, customer_id: int, model_id: int, serial: str, name: str) -> int:
    known = intake.unit(journal.connection, customer_id=customer_id, model_id=model_id, serial=serial)
    if known is not None:
        return int(known.id)
    return journal.insert(
        Equipment,
        model_id=model_id,
        customer_id=customer_id,
        serial=serial,
        note="",
        search_key=text_key(f"{name} {serial}"),
    )


def _unit_sockets(
    journal: Journal, shop: Shop, equipment_id: int, model_id: int, lines: Any
) -> dict[str, Any]:
    """The unit's sockets by position: as typed, else as they were, else as the model has them."""
    of_model = intake.sockets_of(journal.connection, ModelSocket, model_id)
    stands = intake.sockets_of(journal.connection, UnitSocket, equipment_id)
    if lines:
        known = {r.position: r.heater_circuit_id for r in of_model if r.heater_circuit_id is not None}
        planned = plan_sockets(shop, lines, {**known, **string_circuit(journal, model_id, lines)})
        return write_unit_sockets(journal, equipment_id, with_known_facts(planned, (*of_model, *stands)))
    if stands:
        return {row.position: row for row in stands}
    return write_unit_sockets(journal, equipment_id, [planned_from(row) for row in of_model])
