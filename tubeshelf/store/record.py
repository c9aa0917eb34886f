"""The record: where all reading and all writing of the shop's data begins and ends."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path
from threading import Lock, get_ident

from sqlalchemy import Connection, Engine

from tubeshelf.domain.errors import UserError
from tubeshelf.store.engine import WRITING, server_name
from tubeshelf.store.guard import plain_errors
from tubeshelf.store.journal import Journal
from tubeshelf.store.locking import RecordLock
from tubeshelf.store.statements import Statements

Clock = Callable[[], datetime]
"""Tells the time as an aware UTC instant."""


class Record:
    """The shop's database, opened. ``read_only`` says in words why nothing may be written, else is empty."""

    def __init__(
        self,
        engine: Engine,
        *,
        clock: Clock,
        bench: str = "bench 1",
        read_only: str = "",
        path: Path | None = None,
        lock: RecordLock | None = None,
    ) -> None:
        """``path`` is the file of an SQLite record, ``lock`` what keeps other programs from writing to it."""
        self.engine = engine
        self.clock = clock
        self.bench = bench
        self.read_only = read_only
        self.path = path
        self.where = str(path) if path else server_name(engine)
        self._lock = lock
        self._statements = Statements(engine.dialect)
        self._writing = engine.execution_options(**{WRITING: True})
        # Connections that write and checkpoint at once are a rare risk to an SQLite file: one at a time.
        self._turn = Lock()
        self._writer: int | None = None

    @contextmanager
    def reading(self) -> Iterator[Connection]:
        """A connection that sees one moment of the record; whatever is done with it is rolled back."""
        with plain_errors(self.where), self.engine.connect() as connection:
            yield connection

    @contextmanager
    def act(self, kind: str, said: str = "") -> Iterator[Journal]:
        """One act: all of it is saved at the end, or, on any exception, nothing.

        Raises UserError where nothing may be written or the disk is full, RuntimeError for an act in an act.
        """
        if self.read_only:
            raise UserError(self.read_only)
        if self._writer == get_ident():
            raise RuntimeError("an act may not begin inside another act")
        with self._turn, plain_errors(self.where), self._writing.begin() as connection:
            self._writer = get_ident()
            try:
                journal = Journal.begin(
                    connection, self._statements, at=self.clock(), bench=self.bench, kind=kind, said=said
                )
                yield journal
                journal.finish()
            finally:
                self._writer = None

    def close(self) -> None:
        """Close every connection and let other programs write; once closed, do not use it again."""
        self.engine.dispose()
        if self._lock:
            self._lock.release()
            self._lock = None
