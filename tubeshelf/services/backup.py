"""A copy of the record, made from the window."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from tubeshelf.store.backup import backup

if TYPE_CHECKING:
    from tubeshelf.services.shop import Shop


def backup_record(shop: Shop, *, to: Path) -> str:
    """Copy the record as it is now into a new file; the words that say so.

    Raises UserError if there is a file already, it cannot be written, or the record is on a server.
    """
    backup(shop.record, to)
    return f"Backed up to {to}"


def backup_name(shop: Shop) -> str:
    """What today's copy is called unless the user says otherwise."""
    stem = shop.record.path.stem if shop.record.path is not None else "record"
    return f"{stem}-{shop.today.isoformat()}.tubeshelf"
