"""Jobs in lists."""

from collections.abc import Sequence
from typing import Any

from sqlalchemy import Connection, Row, select

from tubeshelf.store.queries.fetch import all_rows
from tubeshelf.store.tables import Customer, Equipment, Job


def job_rows_of(connection: Connection, customer_id: int) -> Sequence[Row[Any]]:
    """All jobs of one customer, with what each is found by."""
    query = (
        select(Job.id, Job.number, Job.title, Job.complaint, Job.search_key, Equipment.serial)
        .join(Equipment, Equipment.id == Job.equipment_id, isouter=True)
        .where(Job.customer_id == customer_id, Job.ended_by.is_(None))
        .order_by(Job.id)
    )
    return all_rows(connection, query)


def job_rows(
    connection: Connection,
    *,
    words: Sequence[str] = (),
    closed: bool | None = False,
    equipment_id: int | None = None,
    limit: int = 500,
) -> Sequence[Row[Any]]:
    """Jobs that have all the words: open ones by promised date, then closed ones, newest first.

    ``closed`` None asks for both.
    """
    query = (
        select(
            *Job.__table__.columns,
            Customer.name.label("customer"),
            Equipment.serial,
        )
        .join(Customer, Customer.id == Job.customer_id)
        .join(Equipment, Equipment.id == Job.equipment_id, isouter=True)
        .where(Job.ended_by.is_(None))
        .order_by(
            Job.closed_on.is_not(None),
            Job.closed_on.desc(),
            Job.promised_on.is_(None),
            Job.promised_on,
            Job.number,
        )
        .limit(limit)
    )
    if closed is not None:
        query = query.where(Job.closed_on.is_not(None) if closed else Job.closed_on.is_(None))
    if equipment_id is not None:
        query = query.where(Job.equipment_id == equipment_id)
    for word in words:
        query = query.where(Job.search_key.contains(word, autoescape=True))
    return all_rows(connection, query)
