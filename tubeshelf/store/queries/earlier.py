"""Older readings that a new one is compared with: those of the tube itself, and those of its place.

They are asked for with every socket taken in hand, so the queries are built once. They are not ordered:
a server that looks for the newest few may walk through all readings of the shop.
"""

from collections.abc import Sequence
from functools import cache
from typing import Any

from sqlalchemy import Connection, Row, Select, bindparam, select

from tubeshelf.store.tables import Act, JobSocket, Reading


def readings_of_tube(connection: Connection, item_id: int) -> Sequence[Row[Any]]:
    """The live readings of a tube wherever they were taken, in no order."""
    return connection.execute(_of_tube(), {"item_id": item_id}).all()


def readings_of_place(connection: Connection, unit_socket_id: int) -> Sequence[Row[Any]]:
    """The live readings of all tubes that stood in one place of a unit, in no order."""
    return connection.execute(_of_place(), {"unit_socket_id": unit_socket_id}).all()


@cache
def _of_tube() -> Select[*tuple[Any, ...]]:
    return _readings().where(Reading.item_id == bindparam("item_id"))


@cache
def _of_place() -> Select[*tuple[Any, ...]]:
    query = _readings().join(JobSocket, JobSocket.id == Reading.job_socket_id)
    return query.where(JobSocket.unit_socket_id == bindparam("unit_socket_id"))


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
