"""From starting Python to the painted window, against a bare PySide6 window."""

import tempfile
from pathlib import Path

from tests.bench.figure import Figure, ratio, until_said
from tests.bench.windows import BARE, ours, prepared

ROUNDS = 15


def run() -> Figure:
    """The ratio, over turns of whole programs."""
    with tempfile.TemporaryDirectory() as folder:
        record = prepared(Path(folder))
        compiled = Path(folder) / "compiled"
        figure = ratio(
            until_said(ours(record, until="painted"), "painted", compiled),
            until_said(BARE, "painted", compiled),
            rounds=ROUNDS,
        )
    return Figure("startup", figure, "ratio", 1.6, "a bare PySide6 window, painted")
