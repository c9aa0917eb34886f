"""What the bench asks of the record: a job's sockets and everything said about them, in bulk."""

from collections.abc import Collection, Sequence
from typing import Any

from sqlalchemy import Connection, Row, or_, select

from tubeshelf.store.queries.fetch import all_rows, one_row
from tubeshelf.store.queries.linecolumns import LIMIT, LIVE_LIMIT
from tubeshelf.store.tables import (
    Act,
    Answer,
    Customer,
    Equipment,
    Fit,
    Found,
    HeaterCircuit,
    Item,
    Job,
    JobSocket,
    Judgement,
    Limit,
    Model,
    Movement,
    Observation,
    Reading,
    SettingLine,
    Tester,
)

Rows = Sequence[Row[Any]]

MOST = 2**31 - 1
"""The largest integer of a column on a server; a driver fails at a question about more."""


def job_row(
    connection: Connection, *, number: int | None = None, job_id: int | None = None
) -> Row[Any] | None:
    """A job with its customer, unit and model, by number or id."""
    if not 0 < (number or job_id or 0) <= MOST:
        return None
    by = Job.number == number if job_id is None else Job.id == job_id
    query = (
        select(
            *Job.__table__.columns,
            Customer.name.label("customer"),
            Customer.contact,
            Equipment.serial,
            Equipment.model_id,
            Model.maker,
            Model.name.label("model"),
            Model.line_v,
        )
        .join(Customer, Customer.id == Job.customer_id)
        .join(Equipment, Equipment.id == Job.equipment_id, isouter=True)
        .join(Model, Model.id == Equipment.model_id, isouter=True)
        .where(by, Job.ended_by.is_(None))
    )
    return one_row(connection, query)


def job_sockets(connection: Connection, job_ids: Collection[int]) -> Rows:
    """The sockets of jobs in test order, with what was found and its stored fit, if anything."""
    query = (
        select(
            *JobSocket.__table__.columns,
            Found.state,
            Found.marked,
            Found.type_id.label("found_type_id"),
            Found.reason,
            Found.item_id.label("found_item_id"),
            Fit.outcome,
            Fit.reasons,
            Fit.conditions,
            Answer.answer,
            Answer.how.label("answer_how"),
            Answer.on.label("answer_on"),
        )
        .join(Found, (Found.job_socket_id == JobSocket.id) & Found.ended_by.is_(None), isouter=True)
        .join(Fit, (Fit.job_socket_id == JobSocket.id) & Fit.ended_by.is_(None), isouter=True)
        .join(Answer, (Answer.job_socket_id == JobSocket.id) & Answer.ended_by.is_(None), isouter=True)
        .where(JobSocket.job_id.in_(job_ids), JobSocket.ended_by.is_(None))
        .order_by(JobSocket.job_id, JobSocket.seq, JobSocket.id)
    )
    return all_rows(connection, query)


def heater_circuits(connection: Connection, ids: Collection[int]) -> Rows:
    """Heater windings and strings by id, with the line that their model was made for."""
    query = select(*HeaterCircuit.__table__.columns, Model.line_v).join(
        Model, Model.id == HeaterCircuit.model_id
    )
    return all_rows(connection, query.where(HeaterCircuit.id.in_(ids)))


def readings_of_sockets(connection: Connection, socket_ids: Collection[int]) -> Rows:
    """The live readings taken in these sockets, oldest first."""
    query = (
        select(
            *Reading.__table__.columns, Act.at, SettingLine.section, SettingLine.label, SettingLine.type_id
        )
        .join(Act, Act.id == Reading.begun_by)
        .join(SettingLine, SettingLine.id == Reading.setting_line_id)
        .where(Reading.job_socket_id.in_(socket_ids), Reading.ended_by.is_(None))
        .order_by(Reading.id)
    )
    return all_rows(connection, query)


def judgements_of_sockets(connection: Connection, socket_ids: Collection[int]) -> Rows:
    """The live judgements made in these sockets."""
    query = (
        select(*Judgement.__table__.columns, SettingLine.tester_id)
        .join(SettingLine, SettingLine.id == Judgement.setting_line_id)
        .where(Judgement.job_socket_id.in_(socket_ids), Judgement.ended_by.is_(None))
        .order_by(Judgement.id)
    )
    return all_rows(connection, query)


def observations_of_sockets(connection: Connection, socket_ids: Collection[int]) -> Rows:
    """The live observations made in these sockets, oldest first."""
    query = (
        select(Observation.__table__)
        .where(Observation.job_socket_id.in_(socket_ids), Observation.ended_by.is_(None))
        .order_by(Observation.id)
    )
    return all_rows(connection, query)


def testers(connection: Connection, *, retired: bool = False) -> Rows:
    """The shop's testers, in the order they were added."""
    query = select(Tester.__table__).where(Tester.ended_by.is_(None)).order_by(Tester.id)
    if not retired:
        query = query.where(Tester.retired.is_(False))
    return all_rows(connection, query)


def setting_lines(
    connection: Connection,
    *,
    type_ids: Collection[int],
    tester_id: int | None = None,
    ids: Collection[int] = (),
) -> Rows:
    """Setting lines of types (on one tester, or on all) and those with these ids, with their live limits."""
    of_types = SettingLine.type_id.in_(type_ids) & SettingLine.retired.is_(False)
    if tester_id is not None:
        of_types &= SettingLine.tester_id == tester_id
    query = (
        select(
            *SettingLine.__table__.columns,
            *LIMIT,
        )
        .join(Limit, LIVE_LIMIT, isouter=True)
        .where(or_(of_types, SettingLine.id.in_(ids)), SettingLine.ended_by.is_(None))
        .order_by(SettingLine.tester_id, SettingLine.position, SettingLine.id)
    )
    return all_rows(connection, query)


def items(connection: Connection, ids: Collection[int]) -> Rows:
    """Items by id."""
    return all_rows(connection, select(Item.__table__).where(Item.id.in_(ids)))


def past_sockets(connection: Connection, *, unit_socket_id: int, before_job_id: int) -> Rows:
    """What one place of a unit held at earlier jobs, newest first."""
    query = (
        select(
            Job.number,
            Job.received_on,
            Job.closed_on,
            JobSocket.id,
            JobSocket.fitted_item_id,
            Found.state,
            Found.marked,
            Found.type_id,
            Found.item_id,
        )
        .join(Job, Job.id == JobSocket.job_id)
        .join(Found, (Found.job_socket_id == JobSocket.id) & Found.ended_by.is_(None), isouter=True)
        .where(
            JobSocket.unit_socket_id == unit_socket_id,
            JobSocket.job_id != before_job_id,
            JobSocket.ended_by.is_(None),
            Job.ended_by.is_(None),
        )
        .order_by(Job.received_on.desc(), Job.id.desc())
        .limit(8)
    )
    return all_rows(connection, query)


def last_bin(connection: Connection, item_id: int) -> str:
    """The bin that a tube was taken from last; empty if it never lay on the shelf."""
    query = (
        select(Movement.from_ref)
        .where(Movement.item_id == item_id, Movement.from_place == "shelf", Movement.ended_by.is_(None))
        .order_by(Movement.id.desc())
        .limit(1)
    )
    return connection.scalar(query) or ""
