"""A list of pairs to judge: a CSV file with the columns intended, found and, optionally, circuit."""

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from tubeshelf.domain.errors import UserError
from tubeshelf.domain.fitting import Circuit
from tubeshelf.exchange.tables import Table, read_table


@dataclass(frozen=True, slots=True)
class Pair:
    """One row: what the socket is meant for, what is in it, and how its heater is fed, if stated."""

    intended: str
    found: str
    circuit: Circuit | None = None


def read_pairs(path: Path) -> tuple[Pair, ...]:
    """The pairs of a file: columns in any order; others are passed over.

    Raises UserError, with file and line, for what cannot be used.
    """
    table = read_table(path)
    for column in ("intended", "found"):
        if column not in table.columns:
            raise UserError(f"{path.name} needs one column '{column}' in its first line.")
    return tuple(_pairs(table))


def _pairs(table: Table) -> Iterator[Pair]:
    for row in table.rows:
        where = f"{table.file}, line {row.line}"
        if row.extra:
            width = len(table.columns)
            raise UserError(f"{where}: {width + row.extra} cells where the first line has {width}.")
        for column in ("intended", "found"):
            if not row.cells.get(column):
                raise UserError(f"{where}: '{column}' is empty.")
        circuit = _circuit(where, row.cells.get("circuit", ""))
        yield Pair(row.cells["intended"], row.cells["found"], circuit)


def _circuit(where: str, text: str) -> Circuit | None:
    if not text:
        return None
    try:
        return Circuit(text.casefold())
    except ValueError:
        raise UserError(f"{where}: the circuit '{text}' is neither parallel nor series.") from None
