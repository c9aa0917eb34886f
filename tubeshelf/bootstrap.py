"""Opens the record that the program works on: where it is, whether it is sound, who may write."""

import os
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from tubeshelf.domain.errors import UserError

if TYPE_CHECKING:
    from tubeshelf.store.record import Clock, Record


def now() -> datetime:
    """The time of this computer as an aware UTC instant."""
    return datetime.now(UTC)


def place_of_record(where: str | None = None) -> str:
    """Where the record is: what the user named, else TUBESHELF_RECORD, else the platform's data folder."""
    import platformdirs

    named = where or os.environ.get("TUBESHELF_RECORD")
    return named or str(platformdirs.user_data_path("tubeshelf", appauthor=False) / "shop.tubeshelf")


def open_record(
    where: str | None = None,
    *,
    clock: "Clock" = now,
    bench: str = "bench 1",
    lasting: bool = True,
    make: bool = True,
) -> "Record":
    """Open the record, made (if ``make``) or brought up to date as needed.

    ``where`` is a file or a ``postgresql://`` address. While another program writes to the file, it opens for
    reading only, and says so in ``Record.read_only``. One that can be made again, as the demo, need not be
    ``lasting``: then its acts do not wait for the disk.
    Raises UserError for whatever else keeps it from being opened.
    """
    from tubeshelf.store.engine import is_server
    from tubeshelf.store.guard import path_of

    place = place_of_record(where)
    if is_server(place):
        return _open_server(place, clock=clock, bench=bench)
    path = path_of(place)
    if not make and not os.path.exists(path):  # false also where one may not look
        raise UserError(
            f"There is no record {path} yet: begin one in the window, with 'tubeshelf', or name another "
            "with --record."
        )
    return _open_file(path, clock=clock, bench=bench, lasting=lasting)


def _open_file(path: Path, *, clock: "Clock", bench: str, lasting: bool) -> "Record":
    from tubeshelf.store.engine import file_engine
    from tubeshelf.store.guard import check_place, make_folder
    from tubeshelf.store.locking import Holder, take_lock
    from tubeshelf.store.migrate import prepare_file
    from tubeshelf.store.record import Record

    make_folder(path.parent)
    check_place(path)
    lock = take_lock(path, now=clock())
    if isinstance(lock, Holder):
        prepare_file(path, may_write=False)
        return Record(
            file_engine(path, read_only=True), clock=clock, bench=bench, path=path, read_only=lock.words(path)
        )
    try:
        prepare_file(path, may_write=True)
    except BaseException:
        lock.release()
        raise
    return Record(file_engine(path, lasting=lasting), clock=clock, bench=bench, path=path, lock=lock)


def _open_server(where: str, *, clock: "Clock", bench: str) -> "Record":
    from sqlalchemy.exc import ArgumentError

    from tubeshelf.store.engine import server_engine
    from tubeshelf.store.migrate import prepare_server
    from tubeshelf.store.record import Record

    try:
        engine = server_engine(where)
    except (ArgumentError, ValueError) as error:  # not shown: there may be a password in it
        raise UserError(
            "The address of the record cannot be read: write it as postgresql://user@server/database."
        ) from error
    except ModuleNotFoundError as error:
        raise UserError(
            "A record on a PostgreSQL server needs one more package: pip install 'tubeshelf[postgres]'."
        ) from error
    try:
        prepare_server(engine)
    except BaseException:
        engine.dispose()
        raise
    return Record(engine, clock=clock, bench=bench)
