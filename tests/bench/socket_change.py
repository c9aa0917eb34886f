"""From Enter to the next socket with its detail painted, against a bare table painting the same rows."""

import tempfile
from contextlib import closing
from pathlib import Path

from tests.bench.benchscreen import ROWS, Bench, bare_table
from tests.bench.bigrecord import big_record, copy_of
from tests.bench.figure import Figure, of_pairs
from tubeshelf.bootstrap import open_record

ROUNDS = 20


def run() -> Figure:
    """The ratio, over turns on one job of which half of the tubes are read."""
    with tempfile.TemporaryDirectory() as folder:
        path = copy_of(big_record(), Path(folder))
        with closing(open_record(str(path))) as record:
            bench = Bench(record, Path(folder), jobs=1)
            bench.say_found()
            for row in range(0, ROWS, 2):
                bench.go(row)
                bench.type_reading()
                bench.enter()
                bench.rest()
            pairs = _pairs(bench)
            bench.window.close()
    return of_pairs("socket_change", pairs, limit=3.0, baseline="the same key through a bare QTableView")


def _pairs(bench: Bench) -> list[tuple[float, float]]:
    table = bare_table()
    pairs = []
    for _ in range(ROUNDS):
        for row in range(ROWS - 1):
            bench.go(row, last=True)
            ours = bench.all_painted.seconds(bench.enter)
            assert bench.row == row + 1, "the entry did not go on"
            bench.rest()
            pairs.append((ours, table.painted.seconds(table.press)))
    table.close()
    return pairs
