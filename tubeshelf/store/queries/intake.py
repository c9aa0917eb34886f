"""What taking in a job asks of the record: customers, models, units and their sockets."""

from collections.abc import Sequence
from typing import Any

from sqlalchemy import Connection, Row, select

from tubeshelf.store.queries.fetch import all_rows, one_row
from tubeshelf.store.tables import (
    Customer,
    Equipment,
    HeaterCircuit,
    Job,
    JobSocket,
    Model,
    ModelSocket,
    UnitSocket,
)

Rows = Sequence[Row[Any]]


def customers(connection: Connection, words: Sequence[str], limit: int = 50) -> Rows:
    """Customers whose search key has all the words, by name."""
    query = select(Customer.__table__).where(Customer.ended_by.is_(None)).order_by(Customer.search_key)
    for word in words:
        query = query.where(Customer.search_key.contains(word, autoescape=True))
    return all_rows(connection, query.limit(limit))


def customer_named(connection: Connection, search_key: str) -> Row[Any] | None:
    """The customer whose folded name is exactly this, the oldest if several are."""
    query = select(Customer.__table__).where(Customer.search_key == search_key, Customer.ended_by.is_(None))
    return one_row(connection, query.order_by(Customer.id).limit(1))


def contact(connection: Connection, customer_id: int) -> str:
    """How a customer is reached; empty if nobody said."""
    return connection.scalar(select(Customer.contact).where(Customer.id == customer_id)) or ""


def models(connection: Connection, words: Sequence[str], limit: int = 50) -> Rows:
    """Models whose search key has all the words, by name."""
    query = select(Model.__table__).where(Model.ended_by.is_(None)).order_by(Model.search_key)
    for word in words:
        query = query.where(Model.search_key.contains(word, autoescape=True))
    return all_rows(connection, query.limit(limit))


def model_named(connection: Connection, search_key: str) -> Row[Any] | None:
    """The model whose folded maker and name are exactly this."""
    query = select(Model.__table__).where(Model.search_key == search_key, Model.ended_by.is_(None))
    return one_row(connection, query.order_by(Model.id).limit(1))


def model(connection: Connection, model_id: int) -> Row[Any] | None:
    """A model's own row."""
    return one_row(connection, select(Model.__table__).where(Model.id == model_id, Model.ended_by.is_(None)))


def sockets_of(connection: Connection, table: type[ModelSocket] | type[UnitSocket], owner_id: int) -> Rows:
    """The sockets of a model or of a unit, in test order."""
    owner = ModelSocket.model_id if table is ModelSocket else UnitSocket.equipment_id
    query = select(table.__table__).where(owner == owner_id, table.ended_by.is_(None))
    return all_rows(connection, query.order_by(table.seq, table.id))


def job_sockets_of(connection: Connection, job_id: int) -> Rows:
    """The sockets of a job, in test order."""
    query = select(JobSocket.__table__).where(JobSocket.job_id == job_id, JobSocket.ended_by.is_(None))
    return all_rows(connection, query.order_by(JobSocket.seq, JobSocket.id))


def unit_sockets_of_model(connection: Connection, model_id: int) -> Rows:
    """The sockets of every unit of a model."""
    query = (
        select(UnitSocket.__table__)
        .join(Equipment, Equipment.id == UnitSocket.equipment_id)
        .where(Equipment.model_id == model_id, UnitSocket.ended_by.is_(None))
    )
    return all_rows(connection, query)


def open_job_sockets_of_model(connection: Connection, model_id: int) -> Rows:
    """The sockets of every open job on a unit of a model."""
    query = (
        select(JobSocket.__table__)
        .join(Job, Job.id == JobSocket.job_id)
        .join(Equipment, Equipment.id == Job.equipment_id)
        .where(
            Equipment.model_id == model_id,
            Job.closed_on.is_(None),
            Job.ended_by.is_(None),
            JobSocket.ended_by.is_(None),
        )
    )
    return all_rows(connection, query)


def circuits_of(connection: Connection, model_id: int) -> Rows:
    """The heater windings and strings of a model."""
    query = select(HeaterCircuit.__table__).where(
        HeaterCircuit.model_id == model_id, HeaterCircuit.ended_by.is_(None)
    )
    return all_rows(connection, query.order_by(HeaterCircuit.id))


def units(connection: Connection, *, customer_id: int) -> Rows:
    """A customer's units with their models."""
    query = (
        select(*Equipment.__table__.columns, Model.maker, Model.name.label("model"))
        .join(Model, Model.id == Equipment.model_id)
        .where(Equipment.customer_id == customer_id, Equipment.ended_by.is_(None))
        .order_by(Equipment.id)
    )
    return all_rows(connection, query)


def unit(connection: Connection, *, customer_id: int, model_id: int, serial: str) -> Row[Any] | None:
    """The customer's unit of this model and serial number."""
    query = select(Equipment.__table__).where(
        Equipment.customer_id == customer_id,
        Equipment.model_id == model_id,
        Equipment.serial == serial,
        Equipment.ended_by.is_(None),
    )
    return one_row(connection, query.order_by(Equipment.id).limit(1))


def job(connection: Connection, job_id: int) -> Row[Any] | None:
    """A job's own row."""
    return one_row(connection, select(Job.__table__).where(Job.id == job_id, Job.ended_by.is_(None)))
