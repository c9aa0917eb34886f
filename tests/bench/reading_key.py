"""From the key that ends a reading to its verdict stored and painted, in a dealer's record.

Against bare sqlite3 inserting and committing the same rows in a copy of that record, and the same key through
a bare table that paints the same rows.
"""

import shutil
import tempfile
from contextlib import closing
from itertools import product
from pathlib import Path

from tests.bench.act_commit import BareActs, bare_connection
from tests.bench.benchscreen import REPEATS, ROWS, Bench, bare_table
from tests.bench.bigrecord import big_record, copy_of
from tests.bench.figure import Figure, of_pairs
from tubeshelf.bootstrap import open_record

JOBS = 6


def run() -> Figure:
    """The ratio, over turns in two copies of one record."""
    with tempfile.TemporaryDirectory() as folder:
        path = copy_of(big_record(), Path(folder))
        with closing(open_record(str(path))) as record:
            bench = Bench(record, Path(folder), jobs=JOBS)
            bench.say_found()
            place = bench.place()
            # The pages that are read again lie in the file itself from here on, as in its copy.
            bare_path = Path(shutil.copy(_settled(path), Path(folder) / "bare.tubeshelf"))
            with closing(bare_connection(bare_path)) as bare:
                pairs = _pairs(bench, BareActs(bare, place, repeats=REPEATS))
            bench.window.close()
    return of_pairs(
        "reading_key", pairs, limit=1.5, baseline="bare sqlite3 with the same rows, bare QTableView, same key"
    )


def _settled(path: Path) -> Path:
    """The file with everything in it that was written; the copy must not miss what is in the log."""
    with closing(bare_connection(path)) as connection:
        connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    return path


def _pairs(bench: Bench, write: BareActs) -> list[tuple[float, float]]:
    """Seconds of the page and of the bare way, turn by turn; each line is read three times."""
    table = bare_table()

    def bare() -> None:
        write()
        table.press()

    pairs = []
    for which, repeat in product(range(JOBS), range(REPEATS)):
        if repeat == 0:
            bench.open(which)
        for row in range(ROWS):
            bench.go(row)
            bench.type_reading()
            ours = bench.row_painted.seconds(bench.enter)
            bench.rest()
            assert bench.read(row) == repeat + 1, "the reading was not taken"
            pairs.append((ours, table.painted.seconds(bare)))
    table.close()
    return pairs
