"""What tells where the tubes of a job are: per socket the tube found, and when something was entered last."""

from collections.abc import Sequence
from typing import Any

from sqlalchemy import Connection, Row, ScalarSelect, func, select

from tubeshelf.store.queries.fetch import all_rows, one_row
from tubeshelf.store.tables import Aside, Found, Item, JobSocket, Movement, Observation, Reading


def standing(connection: Connection, job_id: int) -> Sequence[Row[Any]]:
    """The sockets of a job in test order; ``read_by``, ``noted_by`` and ``moved_by`` are the last acts
    that read the tube of each, noted something of it, and moved the one that was found; or None."""
    query = (
        select(
            JobSocket.position,
            JobSocket.unit_socket_id,
            JobSocket.disposition,
            JobSocket.fitted_item_id,
            Found.state,
            Found.begun_by.label("found_by"),
            Found.item_id,
            Item.place,
            Item.place_ref,
            _last(Reading).label("read_by"),
            _last(Observation).label("noted_by"),
            _moved().label("moved_by"),
        )
        .join(Found, (Found.job_socket_id == JobSocket.id) & Found.ended_by.is_(None), isouter=True)
        .join(Item, Item.id == Found.item_id, isouter=True)
        .where(JobSocket.job_id == job_id, JobSocket.ended_by.is_(None))
        .order_by(JobSocket.seq, JobSocket.id)
    )
    return all_rows(connection, query)


def _last(table: type[Reading] | type[Observation]) -> ScalarSelect[Any]:
    of_socket = (table.job_socket_id == JobSocket.id) & table.ended_by.is_(None)
    return select(func.max(table.begun_by)).where(of_socket).correlate(JobSocket).scalar_subquery()


def _moved() -> ScalarSelect[Any]:
    of_tube = (Movement.item_id == Found.item_id) & Movement.ended_by.is_(None)
    return select(func.max(Movement.begun_by)).where(of_tube).correlate(Found).scalar_subquery()


def live_aside(connection: Connection, job_id: int) -> Row[Any] | None:
    """How a set was put aside last, while that holds."""
    query = select(Aside.__table__).where(Aside.job_id == job_id, Aside.ended_by.is_(None))
    return one_row(connection, query)
