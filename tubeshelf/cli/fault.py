"""Bugs on the command line: to the log with their trace, and one honest sentence."""

import sys
from contextlib import suppress
from datetime import UTC, datetime
from pathlib import Path
from traceback import format_exception
from types import TracebackType

from tubeshelf.paths import log_folder


def tell(kind: type[BaseException], error: BaseException, trace: TracebackType | None) -> None:
    """Stands in for ``sys.excepthook``: one sentence on stderr, the trace in the log."""
    details = "".join(format_exception(kind, error, trace))
    with suppress(OSError):
        where = _logged(details)
        details = f"The details are in {where}."
    print(
        f"tubeshelf: This is a fault of the program, not yours ({kind.__name__}): nothing was finished. "
        f"{details}",
        file=sys.stderr,
    )


def _logged(details: str) -> Path:
    """The log, with the trace added; OSError where it cannot be written."""
    file = log_folder() / "tubeshelf.log"
    file.parent.mkdir(parents=True, exist_ok=True)
    with file.open("a", encoding="utf-8", errors="backslashreplace") as log:
        log.write(f"{datetime.now(UTC):%Y-%m-%d %H:%M:%S} UTC ERROR {' '.join(sys.argv)}\n{details}\n")
    return file
