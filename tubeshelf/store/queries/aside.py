"""What tells where the tubes of a job are: per socket the tube found, and when something was entered last.

It is asked for behind every step at the bench, so these queries are built once.
"""

from collections.abc import Sequence
from functools import cache
from typing import Any

from sqlalchemy import Connection, Row, ScalarSelect, Select, bindparam, func, select

from tubeshelf.store.tables import Aside, Found, Item, Job, JobSocket, Movement, Observation, Reading


def standing(connection: Connection, job_id: int) -> Sequence[Row[Any]]:
    """The sockets of a job in test order; ``read_by``, ``noted_by`` and ``moved_by`` are the last acts
    that read the tube of each, noted something of it, and moved the one that was found; or None."""
    return connection.execute(_standing(), {"job_id": job_id}).all()


@cache
def _standing() -> Select[*tuple[Any, ...]]:
    return (
        select(
            JobSocket.position,
            JobSocket.unit_socket_id,
            JobSocket.disposition,
            JobSocket.fitted_item_id,
            Found.state,
            Found.begun_by.label("found_by"),
            Item.place,
            Item.place_ref,
            _last(Reading).label("read_by"),
            _last(Observation).label("noted_by"),
            _moved().label("moved_by"),
        )
        .join(Found, (Found.job_socket_id == JobSocket.id) & Found.ended_by.is_(None), isouter=True)
        .join(Item, Item.id == Found.item_id, isouter=True)
        .where(JobSocket.job_id == bindparam("job_id"), JobSocket.ended_by.is_(None))
        .order_by(JobSocket.seq, JobSocket.id)
    )


def _last(table: type[Reading] | type[Observation]) -> ScalarSelect[Any]:
    of_socket = (table.job_socket_id == JobSocket.id) & table.ended_by.is_(None)
    return select(func.max(table.begun_by)).where(of_socket).correlate(JobSocket).scalar_subquery()


def _moved() -> ScalarSelect[Any]:
    of_tube = (Movement.item_id == Found.item_id) & Movement.ended_by.is_(None)
    return select(func.max(Movement.begun_by)).where(of_tube).correlate(Found).scalar_subquery()


def of_job(connection: Connection, job_id: int) -> Row[Any] | None:
    """What of a job tells whether it is asked about, with how its set was put aside last, while that holds.

    Without that ``aside_id`` is None.
    """
    return connection.execute(_of_job(), {"job_id": job_id}).one_or_none()


@cache
def _of_job() -> Select[*tuple[Any, ...]]:
    return (
        select(
            Job.id,
            Job.number,
            Job.equipment_id,
            Job.closed_on,
            Aside.id.label("aside_id"),
            Aside.positions,
            Aside.why,
            Aside.begun_by.label("aside_by"),
        )
        .join(Aside, (Aside.job_id == Job.id) & Aside.ended_by.is_(None), isouter=True)
        .where(Job.id == bindparam("job_id"), Job.ended_by.is_(None))
    )
