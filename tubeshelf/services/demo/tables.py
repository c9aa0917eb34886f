"""The demo's tables, and the small notations in their cells."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from tubeshelf.domain.money import parse_money
from tubeshelf.paths import root
from tubeshelf.store.tablefile import Row, read_table


@dataclass(frozen=True, slots=True)
class Entry:
    """One thing that the workshop did, so many days ago."""

    days_ago: int
    write: Callable[[], object]


def table(name: str) -> tuple[Row, ...]:
    """The rows of one of the demo's tables."""
    return tuple(read_table(root("data") / "demo" / f"{name}.csv"))


def days(row: Row, column: str) -> int | None:
    """A count of days before today (negative: after it); ``None`` where the cell is empty."""
    text = row.text(column)
    return int(text) if text else None


def money(row: Row, column: str) -> int | None:
    """An amount in minor units."""
    text = row.text(column)
    return parse_money(text) if text else None


def readings(cell: str, lines: Sequence[int]) -> Iterator[tuple[int, str]]:
    """Setting line and text of each reading in a cell: a slash between lines, a plus between repeats.

    Raises ValueError where the cell has not one part for each line.
    """
    for line_id, repeats in zip(lines, cell.split("/"), strict=True):
        for text in repeats.split("+"):
            yield line_id, text
