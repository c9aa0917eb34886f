"""Engines whose transactions begin when we say so, for a file (SQLite) and for a server (PostgreSQL)."""

import sqlite3
import sys
from pathlib import Path

from sqlalchemy import URL, Connection, Engine, create_engine, event, make_url
from sqlalchemy.pool import ConnectionPoolEntry, QueuePool

APPLICATION_ID = int.from_bytes(b"TbSh")
"""Marks an SQLite file as a record, and numbers the write lock on a server."""

WRITING = "tubeshelf_writing"
BUSY_SECONDS = 5.0


def connect_file(path: Path) -> sqlite3.Connection:
    """A plain connection to a record's file that begins no transaction by itself."""
    return sqlite3.connect(path, timeout=BUSY_SECONDS, isolation_level=None, check_same_thread=False)


def file_engine(
    path: Path, *, foreign_keys: bool = True, read_only: bool = False, lasting: bool = True
) -> Engine:
    """An engine on one SQLite file.

    Transactions are plain BEGIN, or BEGIN IMMEDIATE with the execution option ``WRITING``: the driver's own
    way of beginning loses updates that read before they write. Migrations turn ``foreign_keys`` off,
    which only works before a transaction. A file that is not ``lasting`` can be made again: it does not wait
    for the disk.
    """
    engine = create_engine(
        "sqlite+pysqlite://", creator=lambda: connect_file(path), poolclass=QueuePool, pool_use_lifo=True
    )

    @event.listens_for(engine, "connect")
    def set_up(connection: sqlite3.Connection, _entry: ConnectionPoolEntry) -> None:
        pragmas = [f"foreign_keys = {'ON' if foreign_keys else 'OFF'}", "cache_size = -16000"]
        if read_only:
            pragmas.append("query_only = ON")
        else:
            pragmas += ["journal_mode = WAL", f"synchronous = {'FULL' if lasting else 'OFF'}"]
            if sys.platform == "darwin" and lasting:
                pragmas += ["fullfsync = ON", "checkpoint_fullfsync = ON"]
        for pragma in pragmas:
            connection.execute(f"PRAGMA {pragma}")

    @event.listens_for(engine, "begin")
    def begin(connection: Connection) -> None:
        writing = connection.get_execution_options().get(WRITING)
        connection.exec_driver_sql("BEGIN IMMEDIATE" if writing else "BEGIN")

    return engine


def is_server(where: str) -> bool:
    """Whether this place of a record is a PostgreSQL address and not a file."""
    return where.startswith(("postgresql://", "postgresql+psycopg://"))


def server_name(engine: Engine) -> str:
    """What to call a record on a server in a sentence, without its password."""
    return f"{engine.url.database} on {engine.url.host or 'this computer'}"


def server_engine(where: str | URL) -> Engine:
    """An engine on a PostgreSQL database that behaves like the file.

    One act at a time over all benches, by an advisory lock that ends with the transaction; readers see one
    moment of the record.
    """
    url = make_url(where).set(drivername="postgresql+psycopg")
    engine = create_engine(url, pool_pre_ping=True, pool_use_lifo=True)

    @event.listens_for(engine, "begin")
    def begin(connection: Connection) -> None:
        if connection.get_execution_options().get(WRITING):
            connection.exec_driver_sql(f"SELECT pg_advisory_xact_lock({APPLICATION_ID})")
        else:
            connection.exec_driver_sql("SET TRANSACTION ISOLATION LEVEL REPEATABLE READ READ ONLY")

    return engine
