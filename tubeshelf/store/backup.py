"""Copies of a record: made while it is in use, checked before they count, never over another file."""

from pathlib import Path

from tubeshelf.domain.errors import UserError
from tubeshelf.store.files import copy_file
from tubeshelf.store.guard import check_file, check_place, revision_of
from tubeshelf.store.migrate import needs_upgrade
from tubeshelf.store.record import Record


def backup(record: Record, to: Path) -> None:
    """Copy a record, as it is at this moment, into the new file ``to``.

    Raises UserError if ``to`` exists or cannot be written, or the record is on a server.
    """
    if record.path is None:
        raise UserError(f"The record {record.where} is on a server: have it backed up there, with pg_dump.")
    copy_file(record.path, to)


def restore(source: Path, to: Path) -> None:
    """Make the backup ``source`` the new record ``to``, after checking that it is sound and can be opened.

    Raises UserError if it is not, or if there is a record at ``to`` already: move that away first.
    """
    if not source.is_file():
        raise UserError(f"There is no backup {source}.")
    check_file(source)
    needs_upgrade(revision_of(source), str(source))
    check_place(to)
    copy_file(source, to)
