"""A table in a text file of somebody else's making: rows by line, whatever the encoding and the delimiter."""

import csv
import io
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from tubeshelf.domain.errors import UserError

LARGEST = 64 * 1024 * 1024
"""Bytes of a file that is still read; a list of tubes or types is a thousandth of that."""
WIDEST = 1_000
"""Columns that a header may have."""

_DELIMITERS = ",;\t"
_UTF16 = (b"\xff\xfe", b"\xfe\xff")


@dataclass(frozen=True, slots=True)
class TableRow:
    """One row: the line it ends on and its cells by column, without the spaces around them.

    ``extra`` counts filled cells behind the last column of the header.
    """

    line: int
    cells: Mapping[str, str]
    extra: int = 0


@dataclass(frozen=True, slots=True)
class Table:
    """A file as rows; ``columns`` are the names of its first line, in small letters."""

    file: str
    columns: tuple[str, ...]
    rows: tuple[TableRow, ...]


def read_table(path: Path) -> Table:
    """A CSV file with a header: UTF-8 with or without mark, UTF-16 with mark, else Windows-1252.

    Comma, semicolon or tab, whichever the header has most of. Rows without any filled cell are passed over.
    Raises UserError for a file that cannot be read as a table at all; what is wrong with single rows is
    for the caller to say.
    """
    text = _text(path)
    header = text.lstrip().partition("\n")[0]
    delimiter = max(_DELIMITERS, key=header.count)
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)
    try:
        lines = ((reader.line_num, cells) for cells in reader)
        columns = _columns(path.name, next((cells for _, cells in lines if any(map(str.strip, cells))), []))
        return Table(path.name, columns, tuple(_rows(lines, columns)))
    except csv.Error as error:
        raise UserError(f"{path.name}, line {reader.line_num}: {error}.") from None


def _text(path: Path) -> str:
    try:
        size = path.stat().st_size
        if size > LARGEST:
            raise UserError(f"{path.name} has {size / 1e6:,.0f} MB: split it, or is it another kind of file?")
        raw = path.read_bytes()
    except OSError as error:
        raise UserError(f"{path} cannot be read: {error.strerror or error}.") from None
    if raw.startswith((b"PK\x03\x04", b"\xd0\xcf\x11\xe0")):
        raise UserError(f"{path.name} is a spreadsheet or an archive: save it as CSV first.")
    if b"\0" in raw and not raw.startswith(_UTF16):
        raise UserError(f"{path.name} is no text: save the table as CSV in UTF-8.")
    if raw.startswith(_UTF16):
        return raw.decode("utf-16", errors="replace")
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError:
        return raw.decode("cp1252", errors="replace")


def _columns(file: str, header: list[str]) -> tuple[str, ...]:
    names = [name.strip().casefold() for name in header]
    while names and not names[-1]:  # a spreadsheet ends lines with empty cells
        names.pop()
    if not names:
        raise UserError(f"{file} is empty: its first line has to name the columns.")
    if len(names) > WIDEST:
        raise UserError(f"{file} has {len(names):,} columns in its first line: that is no table of types.")
    for name in filter(None, names):
        if names.count(name) > 1:
            raise UserError(f"{file} has the column '{name}' twice: keep one of them.")
    return tuple(names)


def _rows(cells_by_line: Iterator[tuple[int, list[str]]], columns: tuple[str, ...]) -> Iterator[TableRow]:
    for line, cells in cells_by_line:
        filled = [cell.strip() for cell in cells]
        if any(filled):
            named = {name: cell for name, cell in zip(columns, filled, strict=False) if name}
            yield TableRow(line, named, sum(map(bool, filled[len(columns) :])))
