"""A retube list as text, for a terminal."""

import textwrap
from collections.abc import Iterable, Iterator, Sequence
from typing import TYPE_CHECKING

from tubeshelf.domain.dates import format_date
from tubeshelf.domain.verdict_words import AFTER_DO_NOT_POWER

if TYPE_CHECKING:
    from tubeshelf.services.views.papers import KeepLine, RetubeLine, RetubeList

WIDTH = 96
"""Columns of a terminal that a line may take; longer reasons are broken."""


def retube_text(retube: "RetubeList") -> str:
    """The list with its columns aligned; what stands behind a socket follows on the next line."""
    blocks = [
        _head(retube),
        *_titled("DO NOT POWER", _warning(retube)),
        *_titled("Set apart" if retube.loose else "Replace", _table(retube.replace, ticks=not retube.loose)),
        *_titled(_undecided(retube), _table(retube.undecided, ticks=False)),
        *_titled("Keep", _columns([_kept(line) for line in retube.keep], "  ")),
        *_titled("To order", _wrapped(retube.to_order, "  ")),
        *_titled("Check", _wrapped(retube.checks, "  ")),
        *_titled("Notes", _wrapped(retube.notes, "  ")),
    ]
    return "\n\n".join("\n".join(block) for block in blocks)


def _undecided(retube: "RetubeList") -> str:
    return "Undecided" if retube.loose else "Undecided: leave in until somebody decides"


def _head(retube: "RetubeList") -> list[str]:
    serial = f"serial {retube.serial}" if retube.serial else ""
    promised = "" if retube.promised_on is None else f"promised for {format_date(retube.promised_on)}"
    read = f"{retube.stage} on {retube.tester}" if retube.tester else ""
    title = f"RETUBE LIST  job {retube.number} · {', '.join(filter(None, (retube.title, serial)))}"
    facts = (retube.customer, promised, read)
    return [title, " · ".join(filter(None, facts)), "=" * len(title)]


def _warning(retube: "RetubeList") -> Iterator[str]:
    if retube.warnings:
        yield from _wrapped((*retube.warnings, AFTER_DO_NOT_POWER), "  ")


def _titled(title: str, lines: Iterable[str]) -> Iterator[list[str]]:
    """A block under its title; nothing where it has no lines."""
    found = list(lines)
    if found:
        yield [title, *found]


def _wrapped(texts: Iterable[str], indent: str) -> Iterator[str]:
    for text in texts:
        yield from textwrap.wrap(text, WIDTH, initial_indent=indent, subsequent_indent=f"{indent}  ")


def _table(lines: Sequence["RetubeLine"], *, ticks: bool) -> Iterator[str]:
    """A row a socket, with the reason and the conditions of a substitute below it."""
    rows = _columns([_cells(line) for line in lines], "  ")
    for line, row in zip(lines, rows, strict=True):
        yield f"{_tick(line) if ticks else '   '}{row}"
        why = f"declined, leave it in: {line.why}" if line.declined else line.why
        yield from _wrapped(filter(None, (why, line.note)), " " * 9)


def _tick(line: "RetubeLine") -> str:
    if line.declined:
        return " – "
    return "[x]" if line.done else "[ ]"


def _cells(line: "RetubeLine") -> tuple[str, ...]:
    if line.declined:
        return line.position, line.role, line.take_out
    if not line.put_in:
        return line.position, line.role, line.take_out, line.reads
    return line.position, line.role, line.take_out, "→", line.put_in, line.tag, line.bin, line.reads


def _kept(line: "KeepLine") -> tuple[str, ...]:
    return line.position, line.role, line.designation, line.reads, line.verdict


def _columns(rows: Sequence[Sequence[str]], indent: str) -> list[str]:
    """Rows with their cells below each other; a column that is empty throughout takes no room."""
    widths: dict[int, int] = {}
    for row in rows:
        for place, cell in enumerate(row):
            widths[place] = max(widths.get(place, 0), len(cell))
    shown = [place for place, width in widths.items() if width]
    return [_row(row, shown, widths, indent) for row in rows]


def _row(row: Sequence[str], shown: Sequence[int], widths: dict[int, int], indent: str) -> str:
    cells = (f"{row[place] if place < len(row) else '':{widths[place]}}" for place in shown)
    return f"{indent}{'  '.join(cells)}".rstrip()
