"""What a comeback asks of the record: what was said of it, and which job had a tube in hand last."""

from collections.abc import Collection, Sequence
from typing import Any

from sqlalchemy import Connection, Row, or_, select

from tubeshelf.store.queries.fetch import all_rows, one_row
from tubeshelf.store.tables import Cover, Found, Job, JobSocket, SameTube


def same_tubes(connection: Connection, socket_ids: Collection[int]) -> Sequence[Row[Any]]:
    """What was said of these sockets of a job."""
    query = select(SameTube.__table__).where(SameTube.job_socket_id.in_(socket_ids))
    return all_rows(connection, query.where(SameTube.ended_by.is_(None)))


def cover(connection: Connection, job_id: int) -> Row[Any] | None:
    """Whether a job is covered, if that was said."""
    query = select(Cover.__table__).where(Cover.job_id == job_id, Cover.ended_by.is_(None))
    return one_row(connection, query)


def last_stay(connection: Connection, item_id: int) -> Row[Any] | None:
    """The last job that put a tube in or found it, with its unit and the position it stood at."""
    query = (
        select(Job.id, Job.equipment_id, JobSocket.position)
        .join(JobSocket, JobSocket.job_id == Job.id)
        .join(Found, (Found.job_socket_id == JobSocket.id) & Found.ended_by.is_(None), isouter=True)
        .where(
            or_(JobSocket.fitted_item_id == item_id, Found.item_id == item_id),
            JobSocket.ended_by.is_(None),
            Job.ended_by.is_(None),
        )
        .order_by(Job.id.desc())
        .limit(1)
    )
    return one_row(connection, query)
