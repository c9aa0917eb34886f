"""Bringing a record's tables up to date by Alembic, which is imported only when there is something to do."""

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from itertools import chain, count
from pathlib import Path

from sqlalchemy import Engine, inspect, text

from tubeshelf.domain.errors import UserError
from tubeshelf.store.engine import APPLICATION_ID, WRITING, file_engine, server_name
from tubeshelf.store.files import copy_file, flush
from tubeshelf.store.guard import check_file, plain_errors, revision_of

REVISIONS = ("0001", "0002", "0003", "0004")
"""Every schema revision that this program knows, oldest first."""

SCRIPTS = Path(__file__).parent / "migrations"


@contextmanager
def closing_engine(engine: Engine) -> Iterator[Engine]:
    """The engine, whose connections are closed at the end, so that all changes are in the one file."""
    try:
        yield engine
    finally:
        engine.dispose()


def needs_upgrade(revision: str | None, where: str, *, revisions: Sequence[str] = REVISIONS) -> bool:
    """Whether a record at this revision has to be brought up to date.

    Raises UserError for a revision that only a newer program can know, and for a database without one.
    """
    if revision is None:
        raise UserError(f"{where} holds no record of tubeshelf. Name another one with --record.")
    if revision not in revisions:
        raise UserError(f"{where} was written by a newer tubeshelf. Update this program to open it.")
    return revision != revisions[-1]


def prepare_file(
    path: Path, *, may_write: bool, revisions: Sequence[str] = REVISIONS, scripts: Path = SCRIPTS
) -> None:
    """Make the record at ``path`` if there is none, check it, and bring it up to date after a backup.

    Raises UserError if it is damaged, no record, newer than this program, or would have to be written
    while only another program may.
    """
    if not path.exists():
        if not may_write:
            raise UserError(f"{path} is just being made by another program. Try again in a moment.")
        _make_file(path, scripts)
        return
    check_file(path)
    if not needs_upgrade(revision_of(path), str(path), revisions=revisions):
        return
    if not may_write:
        raise UserError(
            f"The record {path} was written by an older tubeshelf, and another program has it open. "
            "Close that one, so that the record can be brought up to date."
        )
    copy_file(path, _free_name(path, f"before-{revisions[-1]}"))
    with closing_engine(file_engine(path, foreign_keys=False)) as engine, plain_errors(str(path)):
        upgrade(engine, scripts=scripts)


def _make_file(path: Path, scripts: Path) -> None:
    """A new, empty record, which appears at ``path`` complete or not at all."""
    part = path.with_name(f"{path.name}.part")
    part.unlink(missing_ok=True)
    with closing_engine(file_engine(part, foreign_keys=False)) as engine, plain_errors(str(path)):
        upgrade(engine, scripts=scripts)
    flush(part)
    part.rename(path)


def _free_name(path: Path, word: str) -> Path:
    """A name beside the record that no file has yet, such as ``shop.before-0002.tubeshelf-backup``."""
    again = chain([""], (f"-{number}" for number in count(2)))
    names = (path.with_name(f"{path.stem}.{word}{ending}.tubeshelf-backup") for ending in again)
    return next(name for name in names if not name.exists())


def prepare_server(engine: Engine, *, revisions: Sequence[str] = REVISIONS, scripts: Path = SCRIPTS) -> None:
    """Make the tables of an empty database, or bring those of a record up to date.

    Raises UserError if the server does not answer, or the database is another program's or newer.
    """
    where = server_name(engine)
    with plain_errors(where):
        with engine.connect() as connection:
            tables = inspect(connection).get_table_names()
            named = "alembic_version" in tables
            revision = connection.scalar(text("SELECT version_num FROM alembic_version")) if named else None
        if not tables or needs_upgrade(revision, where, revisions=revisions):
            upgrade(engine, scripts=scripts)


def upgrade(engine: Engine, *, scripts: Path = SCRIPTS) -> None:
    """Run all migrations that are missing, in one transaction: all of them or none.

    On SQLite the engine must have foreign keys off: with them on, a rebuilt parent table deletes its
    children. They are checked before the commit.
    Raises RuntimeError if a migration would leave a row that refers to nothing.
    """
    from alembic import command
    from alembic.config import Config

    config = Config()
    config.set_main_option("script_location", str(scripts).replace("%", "%%"))
    config.set_main_option("path_separator", "os")
    with engine.execution_options(**{WRITING: True}).begin() as connection:
        config.attributes["connection"] = connection
        command.upgrade(config, "head")
        if connection.dialect.name == "sqlite":
            connection.exec_driver_sql(f"PRAGMA application_id = {APPLICATION_ID}")
            if astray := connection.exec_driver_sql("PRAGMA foreign_key_check").fetchmany(5):
                raise RuntimeError(f"rows that refer to nothing: {astray}")
