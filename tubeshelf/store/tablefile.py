"""A shipped table as rows that can say where they stand when something is wrong with them."""

import csv
import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from operator import itemgetter
from pathlib import Path

from tubeshelf.domain.errors import UserError

Pick = Callable[[Sequence[str]], tuple[str, ...]]
"""Gives certain cells of a row."""


@dataclass(frozen=True, slots=True)
class Header:
    """The place of each column in the rows of a file, and ways to pick several cells at once."""

    file: str
    places: Mapping[str, int]
    _picks: dict[tuple[str, ...], Pick] = field(default_factory=dict)

    def place(self, column: str) -> int:
        """The place of a column; UserError if the table lacks it."""
        try:
            return self.places[column]
        except KeyError:
            raise UserError(
                f"{self.file}: the column '{column}' is missing; reinstall the program."
            ) from None

    def pick(self, columns: tuple[str, ...]) -> Pick:
        """What gives the cells of two or more columns; made once, since every row needs the same ones."""
        if columns not in self._picks:
            self._picks[columns] = itemgetter(*map(self.place, columns))
        return self._picks[columns]


@dataclass(slots=True, eq=False)  # not frozen: thousands are made at every start
class Row:
    """One row: its cells, and the line it is on in the file of its header."""

    header: Header
    line: int
    values: Sequence[str]

    @property
    def cells(self) -> dict[str, str]:
        """The cells by column."""
        return dict(zip(self.header.places, self.values, strict=True))

    def error(self, what: str) -> UserError:
        """An error about this row, to raise."""
        return UserError(
            f"{self.header.file}, line {self.line}: {what}; mend the row or reinstall the program."
        )

    def has(self, column: str) -> bool:
        """Whether the table has this column."""
        return column in self.header.places

    def text(self, column: str) -> str:
        """The cell without surrounding blanks; empty means not known."""
        return self.values[self.header.place(column)].strip()

    def need(self, column: str) -> str:
        """The cell, which has to be filled in."""
        text = self.text(column)
        if not text:
            raise self.error(f"'{column}' is empty")
        return text

    def texts(self, columns: tuple[str, ...]) -> list[str]:
        """Two or more cells as ``text`` gives each, in one go."""
        return list(map(str.strip, self.header.pick(columns)(self.values)))

    def needs(self, columns: tuple[str, ...]) -> list[str]:
        """Two or more cells as ``need`` gives each, in one go."""
        texts = self.texts(columns)
        return texts if all(texts) else [self.need(column) for column in columns]  # says which one is empty

    def cut(self, columns: tuple[str, ...]) -> tuple[str, ...]:
        """Two or more cells as they stand in the file: a key to what was made of the same ones before."""
        return self.header.pick(columns)(self.values)

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

    def numbers(self, columns: tuple[str, ...]) -> list[float | None]:
        """Two or more cells as ``number`` gives each, none below zero, in one go."""
        try:
            found = [float(text) if text else None for text in self.header.pick(columns)(self.values)]
        except ValueError:
            found = [math.nan]
        for number in found:
            if number is not None and not 0 <= number < math.inf:
                return [self.number(column) for column in columns]  # says which one is wrong
        return found

    def list(self, column: str) -> tuple[str, ...]:
        """The parts of a cell that semicolons separate."""
        text = self.text(column)
        return tuple(filter(None, map(str.strip, text.split(";")))) if text else ()


def read_table(path: Path) -> Iterator[Row]:
    """The rows of a UTF-8 CSV file with a header; blank lines are passed over.

    Raises UserError if the file is missing, is not UTF-8, or a row has more or fewer cells than the header.
    """
    name = path.name
    try:
        with path.open(encoding="utf-8-sig", newline="") as file:
            reader = csv.reader(file, strict=True)
            places = {column: place for place, column in enumerate(next(reader, []))}
            header, wide = Header(name, places), len(places)
            for cells in reader:
                if not cells:
                    continue
                row = Row(header, reader.line_num, cells)
                if len(cells) != wide:
                    raise row.error(f"{len(cells)} cells where the header has {wide}")
                yield row
    except FileNotFoundError:
        raise UserError(f"The table {name} is missing; reinstall the program.") from None
    except (UnicodeDecodeError, csv.Error) as error:
        raise UserError(f"The table {name} cannot be read ({error}); reinstall the program.") from None
