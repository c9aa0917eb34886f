"""A list of pairs to judge: a CSV file with the columns intended, found and, optionally, circuit."""

import csv
import io
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

from tubeshelf.domain.errors import UserError
from tubeshelf.domain.fitting import Circuit


@dataclass(frozen=True, slots=True)
class Pair:
    """One row: what the socket is meant for, what is in it, and how its heater is fed, if stated."""

    intended: str
    found: str
    circuit: Circuit | None = None


def read_pairs(path: Path) -> tuple[Pair, ...]:
    """The pairs of a file: columns in any order, between commas, semicolons or tabs; blank lines are no rows.

    Raises UserError, with file and line, for what cannot be used.
    """
    text = _text(path)
    header = text.lstrip().partition("\n")[0]
    delimiter = max(",;\t", key=header.count)
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)
    try:
        first: list[str] = next((cells for cells in reader if any(map(str.strip, cells))), [])
        columns = [name.strip().casefold() for name in first]
        for column in ("intended", "found"):
            if columns.count(column) != 1:
                raise UserError(f"{path.name} needs one column '{column}' in its first line.")
        rows = ((reader.line_num, cells) for cells in reader)
        return tuple(_pairs(path.name, columns, rows))
    except csv.Error as error:
        raise UserError(f"{path.name}, line {reader.line_num}: {error}.") from None


def _text(path: Path) -> str:
    try:
        raw = path.read_bytes()
    except OSError as error:
        raise UserError(f"{path} cannot be read: {error.strerror or error}.") from None
    encoding = "utf-16" if raw.startswith((b"\xff\xfe", b"\xfe\xff")) else "utf-8-sig"
    try:
        return raw.decode(encoding)
    except UnicodeDecodeError:
        raise UserError(f"{path.name} is no text in UTF-8: save it as CSV in UTF-8.") from None


def _pairs(file: str, columns: list[str], rows: Iterable[tuple[int, list[str]]]) -> Iterator[Pair]:
    for line, cells in rows:
        if not any(cell.strip() for cell in cells):
            continue
        where = f"{file}, line {line}"
        if any(cell.strip() for cell in cells[len(columns) :]):  # a spreadsheet ends rows with empty ones
            raise UserError(f"{where}: {len(cells)} cells where the first line has {len(columns)}.")
        row = {column: cell.strip() for column, cell in zip(columns, cells, strict=False)}
        for column in ("intended", "found"):
            if not row.get(column):
                raise UserError(f"{where}: '{column}' is empty.")
        yield Pair(row["intended"], row["found"], _circuit(where, row.get("circuit", "")))


def _circuit(where: str, text: str) -> Circuit | None:
    if not text:
        return None
    try:
        return Circuit(text.casefold())
    except ValueError:
        raise UserError(f"{where}: the circuit '{text}' is neither parallel nor series.") from None
