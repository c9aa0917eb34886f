"""A figure that a benchmark gives, and how two ways of doing a thing are compared in one run."""

import os
import statistics
import subprocess
import sys
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True, slots=True)
class Figure:
    """What was measured against what; ``figure`` above ``limit`` is too slow.

    ``p50_ms`` and ``p95_ms`` are median and 95th percentile of what was measured, where a user waits for it.
    """

    name: str
    figure: float
    unit: str
    limit: float
    baseline: str
    p50_ms: float | None = None
    p95_ms: float | None = None

    @property
    def holds(self) -> bool:
        """Whether the figure is within its limit."""
        return self.figure <= self.limit


def ratio(measured: Callable[[], float], baseline: Callable[[], float], *, rounds: int) -> float:
    """The lower quartile of ``measured`` over that of ``baseline``, both in seconds, taken turn by turn.

    By turns, because a computer that is busy for a while is then busy for both. The quicker ones, because a
    disk that others use makes both slow alike, which hides what is measured.
    """
    pairs = [(measured(), baseline()) for _ in range(rounds)]
    quicker = statistics.quantiles([pair[0] for pair in pairs])[0]
    return quicker / statistics.quantiles([pair[1] for pair in pairs])[0]


def of_pairs(name: str, pairs: Sequence[tuple[float, float]], *, limit: float, baseline: str) -> Figure:
    """The ratio as ``ratio`` makes it, of seconds taken turn by turn, with what a user waits."""
    ours, theirs = [pair[0] for pair in pairs], [pair[1] for pair in pairs]
    cuts = statistics.quantiles(ours, n=20)
    return Figure(
        name,
        statistics.quantiles(ours)[0] / statistics.quantiles(theirs)[0],
        "ratio",
        limit,
        baseline,
        p50_ms=1000 * statistics.median(ours),
        p95_ms=1000 * cuts[-1],
    )


def timed(work: Callable[[], object]) -> Callable[[], float]:
    """A way to do the work once and get the seconds it took."""

    def seconds() -> float:
        start = time.perf_counter()
        work()
        return time.perf_counter() - start

    return seconds


def until_said(program: str, word: str, compiled: Path) -> Callable[[], float]:
    """A way to start a Python program and get the seconds until it prints the line ``word``.

    It is ended then. Raises RuntimeError if it ends before. It was started once before, so that its modules
    are compiled, as a user's are; the folder ``compiled`` keeps them, whatever the environment says of that.
    """
    environment = {**os.environ, "PYTHONPYCACHEPREFIX": str(compiled), "PYTHONDONTWRITEBYTECODE": ""}
    command = [sys.executable, "-c", program]

    def seconds() -> float:
        start = time.perf_counter()
        with subprocess.Popen(command, stdout=subprocess.PIPE, text=True, env=environment) as running:
            assert running.stdout is not None
            said = any(line.strip() == word for line in running.stdout)
            took = time.perf_counter() - start
            running.kill()
        if not said:
            raise RuntimeError(f"the program ended without {word!r}: {program}")
        return took

    seconds()
    return seconds
