"""Keeps a small record of the newest revision for later programs to open: ``python -m tests.store.keep``.

Run once when a revision is new, and never again once it has been released: the file stands for the records
that are out there.
"""

import sqlite3
import tempfile
from contextlib import closing
from pathlib import Path

from tests.records import FixedClock
from tests.store.rows import add_customer, read, reading_place, rename
from tubeshelf.bootstrap import open_record
from tubeshelf.store.engine import APPLICATION_ID
from tubeshelf.store.migrate import REVISIONS

RECORDS = Path(__file__).parent / "records"


def keep(folder: Path) -> Path:
    """Write ``folder/<revision>.sql`` with two readings and a renamed customer."""
    with tempfile.TemporaryDirectory() as temporary:
        path = Path(temporary) / "kept.tubeshelf"
        with closing(open_record(str(path), clock=FixedClock())) as record:
            place = reading_place(record)
            with record.act("reading", "Read V1") as journal:
                read(journal, place, 6900.0)
                read(journal, place, 0.0)
            rename(record, add_customer(record, "Aims"), "Ames")
        with closing(sqlite3.connect(path)) as connection:
            lines = [f"PRAGMA application_id = {APPLICATION_ID};", *connection.iterdump()]
    kept = folder / f"{REVISIONS[-1]}.sql"
    kept.write_text("\n".join(lines) + "\n", encoding="utf-8")
    return kept


if __name__ == "__main__":
    print(keep(RECORDS))
