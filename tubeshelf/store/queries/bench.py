"""What the bench asks of the record: a job's sockets and everything said about them, in bulk."""

from collections.abc import Collection, Sequence
from typing import Any

from sqlalchemy import Connection, Row, func, or_, select

from tubeshelf.store.queries.fetch import all_rows, one_row
from tubeshelf.store.queries.linecolumns import LIMIT, LIVE_LIMIT, TESTER
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


def job_row(
    connection: Connection, *, number: int | None = None, job_id: int | None = None
) -> Row[Any] | None:
    """A job with its customer, unit and model, by number or id."""
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
        )
        .join(Found, (Found.job_socket_id == JobSocket.id) & Found.ended_by.is_(None), isouter=True)
        .join(Fit, (Fit.job_socket_id == JobSocket.id) & Fit.ended_by.is_(None), isouter=True)
        .join(Answer, (Answer.job_socket_id == JobSocket.id) & Answer.ended_by.is_(None), isouter=True)
        .where(JobSocket.job_id.in_(job_ids), JobSocket.ended_by.is_(None))
        .order_by(JobSocket.job_id, JobSocket.seq, JobSocket.id)
    )
    return all_rows(connection, query)


def heater_circuits(connection: Connection, ids: Collection[int]) -> Rows:
    """Heater windings and strings by id."""
    return all_rows(connection, select(HeaterCircuit.__table__).where(HeaterCircuit.id.in_(ids)))


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


def socket_for_reading(connection: Connection, socket_id: int) -> Row[Any] | None:
    """What taking a reading in a socket needs to know of it, in one row."""
    query = (
        select(
            JobSocket.id,
            JobSocket.job_id,
            JobSocket.unit_socket_id,
            JobSocket.position,
            JobSocket.designed_type_id,
            JobSocket.modified_type_id,
            JobSocket.heater_circuit_id,
            JobSocket.fitted_item_id,
            JobSocket.match_group,
            JobSocket.version,
            Job.number,
            Job.customer_id,
            Job.equipment_id,
            Found.id.label("found_id"),
            Found.state,
            Found.type_id,
            Found.item_id,
            Found.marked,
        )
        .join(Job, Job.id == JobSocket.job_id)
        .join(Found, (Found.job_socket_id == JobSocket.id) & Found.ended_by.is_(None), isouter=True)
        .where(JobSocket.id == socket_id, JobSocket.ended_by.is_(None))
    )
    return one_row(connection, query)


def line_for_reading(connection: Connection, line_id: int) -> Row[Any] | None:
    """A setting line with its tester and live limit, in one row."""
    query = (
        select(
            SettingLine.id,
            SettingLine.type_id,
            SettingLine.tester_id,
            SettingLine.label,
            SettingLine.section,
            SettingLine.quantity,
            SettingLine.fields,
            *TESTER,
            *LIMIT,
        )
        .join(Tester, Tester.id == SettingLine.tester_id)
        .join(Limit, LIVE_LIMIT, isouter=True)
        .where(SettingLine.id == line_id, SettingLine.ended_by.is_(None))
    )
    return one_row(connection, query)


def readings_of_line(connection: Connection, *, item_id: int, line_id: int) -> Rows:
    """All live readings of one tube on one setting line, oldest first."""
    query = (
        select(Reading.id, Reading.value, Reading.stage, Reading.job_socket_id)
        .where(Reading.item_id == item_id, Reading.setting_line_id == line_id, Reading.ended_by.is_(None))
        .order_by(Reading.id)
    )
    return all_rows(connection, query)


def live_judgement(
    connection: Connection, *, item_id: int, line_id: int, stage: str, place: int
) -> int | None:
    """The id of the judgement that holds now for a line of a tube at a stage and place."""
    return connection.scalar(
        select(Judgement.id).where(
            Judgement.item_id == item_id,
            Judgement.setting_line_id == line_id,
            Judgement.stage == stage,
            Judgement.place == place,
            Judgement.ended_by.is_(None),
        )
    )


def line_of_section(connection: Connection, *, type_id: int, tester_id: int, section: str) -> int | None:
    """The first setting line that reads this section of a type on a tester."""
    query = select(SettingLine.id).where(
        SettingLine.type_id == type_id,
        SettingLine.tester_id == tester_id,
        SettingLine.section == section,
        SettingLine.retired.is_(False),
        SettingLine.ended_by.is_(None),
    )
    return connection.scalars(query.order_by(SettingLine.position, SettingLine.id)).first()


def next_position(connection: Connection, *, type_id: int, tester_id: int) -> int:
    """The place after the last setting line of a type on a tester."""
    last = connection.scalar(
        select(func.max(SettingLine.position)).where(
            SettingLine.type_id == type_id, SettingLine.tester_id == tester_id
        )
    )
    return 1 if last is None else last + 1


def last_bin(connection: Connection, item_id: int) -> str:
    """The bin that a tube was taken from last; empty if it never lay on the shelf."""
    query = (
        select(Movement.from_ref)
        .where(Movement.item_id == item_id, Movement.from_place == "shelf", Movement.ended_by.is_(None))
        .order_by(Movement.id.desc())
        .limit(1)
    )
    return connection.scalar(query) or ""
