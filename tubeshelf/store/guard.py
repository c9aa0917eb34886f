"""What can be wrong with a record's file, told as one plain sentence that says what to do."""

import os
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager, suppress
from pathlib import Path

from sqlalchemy.exc import DataError, DBAPIError, OperationalError

from tubeshelf.domain.errors import UserError
from tubeshelf.store.engine import APPLICATION_ID
from tubeshelf.store.network import MOUNTS, network_kind

HEADER = b"SQLite format 3\0"
APPLICATION_ID_AT = 68


def path_of(place: str) -> Path:
    """The file that the user named, in full; UserError for what can be no file's name."""
    if "://" in place:
        kind = place.partition("://")[0]  # not the whole, where a password may be
        raise UserError(f"{kind}:// is no place of a record: name a file, or a postgresql:// address.")
    try:
        path = Path(place).expanduser().resolve()
        with suppress(PermissionError):  # told by check_place, with the folder
            path.exists()  # a name too long, a loop of links: known only by asking
    except (OSError, RuntimeError, ValueError) as error:
        why = getattr(error, "strerror", None) or error
        raise UserError(
            f"A record cannot be at {place} ({why}). Choose another place with --record."
        ) from error
    return path


def make_folder(folder: Path) -> None:
    """Make the folder that a record is to lie in, if it is not there yet."""
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise UserError(
            f"The folder {folder} cannot be made ({error.strerror}). Choose another place with --record."
        ) from error


def check_place(path: Path, *, mounts: Path = MOUNTS) -> None:
    """Refuse a place where no record can be written: a folder, a network drive, a read-only place.

    ``mounts`` is the system's list of mounted drives (Linux).
    """
    if kind := network_kind(path, mounts=mounts):
        raise UserError(
            f"{path} is on a network drive ({kind}), where two programs that write can damage a record. "
            "Keep it on a drive of this computer, or use a PostgreSQL server for several benches."
        )
    if not os.access(path.parent, os.W_OK | os.X_OK):
        raise UserError(
            f"The folder {path.parent} is read-only for you, so that nothing could be saved. "
            "Choose another place with --record, or have the folder made writable."
        )
    if path.is_dir():
        raise UserError(f"{path} is a folder: name a file in it.")
    if path.exists() and not path.is_file():
        raise UserError(f"{path} is no ordinary file. Name another one with --record.")
    if path.exists() and not os.access(path, os.R_OK | os.W_OK):
        raise UserError(
            f"The record {path} is read-only for you. Have the file made writable, or open a copy of it."
        )
    if not path.exists() and (orphan := companion(path)):
        raise UserError(
            f"The record {path} is missing, but a part of it is still there: {orphan}. Put the record back "
            "beside it; or, if you want a new record, move that file away first."
        )


def companion(path: Path) -> Path | None:
    """The file of changes that SQLite keeps beside a record in use, if there is one.

    It would be played into whatever file takes the record's place.
    """
    beside = (path.with_name(f"{path.name}{ending}") for ending in ("-wal", "-journal"))
    return next((file for file in beside if file.exists()), None)


def check_file(path: Path) -> None:
    """Refuse an existing file that is no record, or one that is damaged."""
    with path.open("rb") as file:
        header = file.read(100)
    if not header:
        raise UserError(
            f"{path} is empty. If it was your record, put a backup in its place; "
            "if you want a new record, delete the empty file first."
        )
    if header[: len(HEADER)] != HEADER:
        raise UserError(f"{path} is not a record of tubeshelf. Name another file with --record.")
    mark = header[APPLICATION_ID_AT : APPLICATION_ID_AT + 4]
    if len(mark) == 4 and int.from_bytes(mark) != APPLICATION_ID:
        raise UserError(f"{path} belongs to another program. Name another file with --record.")
    with plain_errors(str(path)), closing(sqlite3.connect(path, timeout=2)) as connection:
        faults = connection.execute("PRAGMA quick_check(1)").fetchone()[0]
    if faults != "ok":
        raise UserError(_damaged(str(path)))


def revision_of(path: Path) -> str | None:
    """The schema revision that a record's file says it has; None if it has none."""
    with plain_errors(str(path)), closing(sqlite3.connect(path, timeout=2)) as connection:
        named = connection.execute("SELECT 1 FROM sqlite_schema WHERE name = 'alembic_version'").fetchone()
        row = connection.execute("SELECT version_num FROM alembic_version").fetchone() if named else None
    return str(row[0]) if row else None


@contextmanager
def plain_errors(where: str) -> Iterator[None]:
    """Turn what a database says about disks, locks, damage, lost servers and values that it does not take
    into sentences; bugs stay bugs.

    ``where`` names the record. sqlite3's own errors and SQLAlchemy's wrapping of any are understood alike.
    """
    try:
        yield
    except (DBAPIError, sqlite3.Error) as error:
        cause = error.orig if isinstance(error, DBAPIError) else error
        code = getattr(cause, "sqlite_errorcode", None)
        sentence = _server_sentence(error, where) if code is None else _file_sentence(code & 0xFF, where)
        if sentence is None:
            raise
        raise UserError(sentence) from error
    except UnicodeEncodeError as error:  # half of a pair of surrogates, from a text pasted in parts
        raise UserError(_NO_TEXT) from error


_NO_TEXT = "The text holds a character that cannot be saved: type it again, without what was pasted."
_TOO_LONG = "A text is too long to be saved: shorten it, then repeat this."


def _damaged(where: str) -> str:
    return f"The record {where} is damaged. Leave it as it is, and put the newest backup in its place."


def _full(where: str) -> str:
    return (
        "The disk is full: this was not saved, everything before it was. "
        f"Make room on the disk of {where}, then repeat it."
    )


def _file_sentence(code: int, where: str) -> str | None:
    """The sentence for one of SQLite's primary error codes, where the user can do something about it."""
    match code:
        case sqlite3.SQLITE_FULL:
            return _full(where)
        case sqlite3.SQLITE_BUSY | sqlite3.SQLITE_LOCKED:
            return f"The record {where} is in use by another program. Close that, then repeat this."
        case sqlite3.SQLITE_READONLY | sqlite3.SQLITE_CANTOPEN | sqlite3.SQLITE_PERM:
            return (
                f"The record {where} cannot be opened for writing. "
                "See whether the file and its folder are still there and not read-only."
            )
        case sqlite3.SQLITE_IOERR:
            return (
                f"The disk failed at the record {where}: this was not saved. "
                "See whether the disk is connected and has room, then repeat it."
            )
        case sqlite3.SQLITE_TOOBIG:
            return _TOO_LONG
        case sqlite3.SQLITE_CORRUPT | sqlite3.SQLITE_NOTADB:
            return _damaged(where)
        case _:
            return None


def _server_sentence(error: Exception, where: str) -> str | None:
    """The sentence for one of PostgreSQL's SQLSTATE codes (appendix A of its manual)."""
    cause = error.orig if isinstance(error, DBAPIError) else error
    state = getattr(cause, "sqlstate", None)
    if state == "53100":
        return _full(where)
    if state in {"25006", "42501"}:
        return f"The server does not let you write the record {where}. Ask whoever runs it for that right."
    if isinstance(error, DataError) and state in {None, "22021"}:  # the driver itself refuses a NUL
        return _NO_TEXT
    if state == "22003":
        return "A number is too large to be saved: type a smaller one."
    if state == "54000":
        return _TOO_LONG
    lost = state is None or state[:2] in {"08", "28", "3D", "53", "57"}
    if isinstance(error, OperationalError) and lost:
        return (
            f"The server of the record {where} does not answer or does not let you in: nothing was saved. "
            "See whether it runs and the address is right, then repeat this."
        )
    return None
