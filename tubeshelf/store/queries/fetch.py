"""Running a query whose rows are read by name: one place that says how they are typed."""

from collections.abc import Sequence
from typing import Any

from sqlalchemy import Connection, Executable, Row


def all_rows(connection: Connection, query: Executable) -> Sequence[Row[Any]]:
    """Every row of a query."""
    return connection.execute(query).all()


def one_row(connection: Connection, query: Executable) -> Row[Any] | None:
    """The only row of a query, ``None`` without any; more than one is a bug and raises."""
    return connection.execute(query).one_or_none()
