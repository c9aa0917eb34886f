"""A shipped table as rows that can say where they stand when something is wrong with them."""

import csv
import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from tubeshelf.domain.errors import UserError


@dataclass(frozen=True, slots=True)
class Row:
    """One row: its cells by column, and the file and line it stands on."""

    file: str
    line: int
    cells: Mapping[str, str]

    def error(self, what: str) -> UserError:
        """An error about this row, to raise."""
        return UserError(f"{self.file}, line {self.line}: {what}; mend the row or reinstall the program.")

    def text(self, column: str) -> str:
        """The cell without surrounding blanks; empty means not known."""
        try:
            return self.cells[column].strip()
        except KeyError:
            raise UserError(
                f"{self.file}: the column '{column}' is missing; reinstall the program."
            ) from None

    def need(self, column: str) -> str:
        """The cell, which has to be filled in."""
        text = self.text(column)
        if not text:
            raise self.error(f"'{column}' is empty")
        return text

    def number(self, column: str, *, negative: bool = False) -> float | None:
        """The cell as a finite number, not below zero unless allowed; ``None`` where it is empty."""
        text = self.text(column)
        if not text:
            return None
        try:
            value = float(text)
        except ValueError:
            value = math.nan
        if not math.isfinite(value):
            raise self.error(f"'{text}' in '{column}' is not a number")
        if value < 0 and not negative:
            raise self.error(f"{text} in '{column}' is below zero")
        return value

    def list(self, column: str) -> tuple[str, ...]:
        """The parts of a cell that semicolons separate."""
        return tuple(filter(None, (part.strip() for part in self.text(column).split(";"))))


def read_table(path: Path) -> Iterator[Row]:
    """The rows of a UTF-8 CSV file with a header; blank lines are passed over.

    Raises UserError if the file is missing, is not UTF-8, or a row has more or fewer cells than the header.
    """
    try:
        with path.open(encoding="utf-8-sig", newline="") as file:
            reader = csv.reader(file, strict=True)
            header = next(reader, [])
            for cells in reader:
                if not cells:
                    continue
                row = Row(path.name, reader.line_num, dict(zip(header, cells, strict=False)))
                if len(cells) != len(header):
                    raise row.error(f"{len(cells)} cells where the header has {len(header)}")
                yield row
    except FileNotFoundError:
        raise UserError(f"The table {path.name} is missing; reinstall the program.") from None
    except (UnicodeDecodeError, csv.Error) as error:
        raise UserError(f"The table {path.name} cannot be read ({error}); reinstall the program.") from None
