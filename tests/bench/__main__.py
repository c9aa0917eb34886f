"""Benchmarks, apart from the tests: ``python -m tests.bench [NAME …] [--json]``.

Each is a module here of its name, whose ``run()`` gives a figure against a baseline measured in the same run.
Ends with 1 if a figure is over its limit, 2 for a name there is none of.
"""

import argparse
import json
from collections.abc import Iterable
from dataclasses import asdict
from importlib import import_module

from tests.bench.figure import Figure

BENCHMARKS = (
    "startup",
    "first_page",
    "act_commit",
    "reading_commit",
    "table_load",
    "substitutes",
    "reading_key",
    "socket_change",
)


def main() -> int:
    """Run the benchmarks named, or all, and print their figures."""
    parser = argparse.ArgumentParser(
        prog="python -m tests.bench", description="Measure what must stay quick."
    )
    parser.add_argument("names", nargs="*", metavar="NAME", help=f"of {', '.join(BENCHMARKS)}; all if none")
    parser.add_argument("--json", action="store_true", help="one JSON object a line")
    asked = parser.parse_args()
    if unknown := [name for name in asked.names if name not in BENCHMARKS]:
        parser.error(f"there is no benchmark {', '.join(unknown)}")
    figures = (import_module(f"tests.bench.{name}").run() for name in asked.names or BENCHMARKS)
    return tell(figures, as_json=asked.json)


def tell(figures: Iterable[Figure], *, as_json: bool) -> int:
    """Print each figure as soon as it is there; 1 if one is over its limit, else 0."""
    status = 0
    for figure in figures:
        if as_json:
            print(json.dumps(asdict(figure), ensure_ascii=False), flush=True)
        else:
            verdict = "within" if figure.holds else "OVER"
            waits = (
                "" if figure.p50_ms is None else f"; {figure.p50_ms:.1f} ms, 95 % in {figure.p95_ms:.1f} ms"
            )
            print(
                f"{figure.name:<16}{figure.figure:8.2f} {figure.unit:<7}{verdict:>7} {figure.limit:.2f}"
                f"   against {figure.baseline}{waits}",
                flush=True,
            )
        status = status if figure.holds else 1
    return status


if __name__ == "__main__":
    raise SystemExit(main())
