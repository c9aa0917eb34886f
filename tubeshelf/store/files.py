"""Whole copies of a record's file, which appear complete or not at all and never over another file."""

import os
import sqlite3
from contextlib import closing
from pathlib import Path

from tubeshelf.domain.errors import UserError
from tubeshelf.store.engine import connect_file
from tubeshelf.store.guard import check_file, companion, plain_errors


def copy_file(source: Path, to: Path) -> None:
    """Copy a record's file, also while it is being written to.

    Raises UserError if there is a file at ``to`` already, or the copy cannot be written or is not sound.
    """
    if to.exists() or companion(to):
        raise UserError(f"{to} exists already and is left as it is. Choose another name.")
    part = to.with_name(f"{to.name}.part")
    try:
        # A connection of its own: one with an open transaction would wait for itself for ever.
        with (
            plain_errors(str(to)),
            closing(connect_file(source)) as old,
            closing(sqlite3.connect(part)) as new,
        ):
            old.backup(new)
        check_file(part)
        flush(part)
        part.rename(to)
    finally:
        part.unlink(missing_ok=True)


def flush(path: Path) -> None:
    """Have the system write a file to the disk before anything relies on it."""
    with path.open("rb+") as file:
        os.fsync(file.fileno())
