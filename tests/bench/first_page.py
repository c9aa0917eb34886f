"""From starting Python to the first page with its rows, against a bare window, the ORM and one query."""

import tempfile
from pathlib import Path

from tests.bench.figure import Figure, ratio, until_said
from tests.bench.windows import bare_with_query, ours, prepared

ROUNDS = 11


def run() -> Figure:
    """The ratio, over turns of whole programs."""
    with tempfile.TemporaryDirectory() as folder:
        record = prepared(Path(folder))
        compiled = Path(folder) / "compiled"
        figure = ratio(
            until_said(ours(record, until="filled"), "filled", compiled),
            until_said(bare_with_query(record), "filled", compiled),
            rounds=ROUNDS,
        )
    return Figure(
        "first_page", figure, "ratio", 1.3, "a bare PySide6 window, import of SQLAlchemy's ORM, first query"
    )
