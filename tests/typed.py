"""Records with the shipped types in them, made once and copied: bringing types in outlasts a test."""

from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import psycopg
import pytest
from psycopg import sql

from tests.records import FixedClock, emptied
from tubeshelf.bootstrap import open_record
from tubeshelf.services.shop import open_shop
from tubeshelf.store.record import Record

KEPT = sql.Identifier("kept")
"""The schema of a server's database that keeps the rows of a record with types."""


@pytest.fixture(scope="session")
def empty_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A record with the shipped types alone, to copy."""
    path = tmp_path_factory.mktemp("record") / "types.tubeshelf"
    with closing(open_record(str(path), clock=FixedClock())) as record:
        open_shop(record)
    return path


@pytest.fixture(scope="session")
def typed_database(database: str) -> str:
    """The address of a database whose rows, the shipped types alone, are kept to be put back."""
    with closing(open_record(emptied(database), clock=FixedClock())) as record:
        open_shop(record)
    with closing(psycopg.connect(database, autocommit=True)) as connection:
        connection.execute(sql.SQL("CREATE SCHEMA {}").format(KEPT))
        for table in _tables(connection, "public"):
            connection.execute(sql.SQL("CREATE TABLE {}.{} AS TABLE public.{}").format(KEPT, table, table))
    return database


@pytest.fixture
def server_record(typed_database: str, clock: FixedClock) -> Iterator[Record]:
    """A record on a server with the shipped types alone."""
    emptied(typed_database)
    with closing(psycopg.connect(typed_database)) as connection:
        # The rows come back in any order, so what they refer to is not looked at meanwhile.
        connection.execute("SET session_replication_role = replica")
        for table in _tables(connection, "kept"):
            connection.execute(
                sql.SQL("INSERT INTO public.{} SELECT * FROM {}.{}").format(table, KEPT, table)
            )
        for table in ("type", "act"):
            connection.execute(
                sql.SQL("SELECT setval(pg_get_serial_sequence({}, 'id'), max(id)) FROM public.{}").format(
                    sql.Literal(table), sql.Identifier(table)
                )
            )
        connection.commit()
    with closing(open_record(typed_database, clock=clock)) as record:
        yield record


def _tables(connection: psycopg.Connection, schema: str) -> list[sql.Identifier]:
    found = connection.execute(
        "SELECT tablename FROM pg_tables WHERE schemaname = %s AND tablename <> 'alembic_version'", (schema,)
    )
    return [sql.Identifier(name) for (name,) in found]
