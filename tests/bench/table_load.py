"""Loading the shipped table of types, against ``csv.reader`` over the same five files."""

import csv

from tests.bench.figure import Figure, ratio, timed
from tubeshelf.paths import root
from tubeshelf.store.shipped import TABLES, load_catalog

ROUNDS = 60


def run() -> Figure:
    """The ratio, over turns in one process."""
    return Figure(
        "table_load", ratio(timed(load_catalog), timed(read_rows), rounds=ROUNDS), "ratio", 10.0, "csv.reader"
    )


def read_rows() -> int:
    """Every cell of the tables as text, and no more; gives the number of rows."""
    rows = 0
    for name in TABLES:
        with (root("data") / f"{name}.csv").open(encoding="utf-8", newline="") as file:
            rows += sum(1 for _ in csv.reader(file))
    return rows
