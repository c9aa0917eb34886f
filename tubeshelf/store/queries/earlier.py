"""Older readings that a new one is compared with: those of the tube itself, and those of its place."""

from collections.abc import Sequence
from typing import Any

from sqlalchemy import Connection, Row, Select, select

from tubeshelf.store.queries.fetch import all_rows
from tubeshelf.store.tables import Act, JobSocket, Reading

_MOST = 60


def readings_of_tube(connection: Connection, item_id: int) -> Sequence[Row[Any]]:
    """The live readings of a tube wherever they were taken, newest first."""
    return all_rows(connection, _newest(_readings().where(Reading.item_id == item_id)))


def readings_of_place(connection: Connection, unit_socket_id: int) -> Sequence[Row[Any]]:
    """The live readings of all tubes that stood in one place of a unit, newest first."""
    query = _readings().join(JobSocket, JobSocket.id == Reading.job_socket_id)
    return all_rows(connection, _newest(query.where(JobSocket.unit_socket_id == unit_socket_id)))


def _readings() -> Select[*tuple[Any, ...]]:
    return (
        select(
            Reading.id,
            Reading.item_id,
            Reading.job_socket_id,
            Reading.setting_line_id,
            Reading.stage,
            Reading.value,
            Act.at,
        )
        .join(Act, Act.id == Reading.begun_by)
        .where(Reading.ended_by.is_(None))
    )


def _newest(query: Select[*tuple[Any, ...]]) -> Select[*tuple[Any, ...]]:
    return query.order_by(Reading.id.desc()).limit(_MOST)
