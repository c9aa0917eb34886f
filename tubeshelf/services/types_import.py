"""The shop's own types from a CSV file: first what it would do, line by line, then all of it or nothing."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, fields, replace
from pathlib import Path
from typing import TYPE_CHECKING

from tubeshelf.domain.designations import fold
from tubeshelf.domain.errors import UserError, shortened
from tubeshelf.domain.types import Section, TubeType
from tubeshelf.exchange.tables import Table, TableRow, read_table
from tubeshelf.services.changes import Changes, Kind
from tubeshelf.services.field_errors import FieldErrors
from tubeshelf.services.type_codec import FIELDS, parse_sections, to_fields
from tubeshelf.services.types_edit import store_type, wanted_type

if TYPE_CHECKING:
    from tubeshelf.services.shop import Shop
    from tubeshelf.services.typebook import TypeBook

_OF_TYPE = tuple(name for name in FIELDS if name not in ("sections", "retired"))
_FIGURES = tuple(f.name for f in fields(Section) if f.name not in ("name", "function", "readable"))
_OF_SECTION = ("section", "section_function", "readable", *_FIGURES)
COLUMNS = (*_OF_TYPE, *_OF_SECTION)
"""Every column that a file of types may have; ``designation`` is the one it needs."""
UNKNOWN = frozenset({"-", "–", "—"})
"""What a cell says to state that nothing is known; an empty one leaves what holds now."""


@dataclass(frozen=True, slots=True)
class Problem:
    """What is wrong in a file: the line, the column (empty for the whole row), and a sentence."""

    line: int
    column: str
    sentence: str


@dataclass(frozen=True, slots=True)
class TypesPlan:
    """What a file of types would do: the types as they would be, and everything that stands against it.

    ``new_bases`` are those that no type of the table has: a base of another kind, or a slip of the pen.
    """

    file: str
    new: tuple[TubeType, ...]
    changed: tuple[TubeType, ...]
    unchanged: int
    problems: tuple[Problem, ...]
    new_bases: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class _Entry:
    """The rows of one type: the first states the type, each may state one section."""

    name: str
    rows: tuple[TableRow, ...]


def plan_types(shop: Shop, *, path: Path) -> TypesPlan:
    """Read a file and say what it would do, with every problem by line; nothing is written.

    Columns in any order are those of ``COLUMNS``. Rows with one designation belong together: each may state
    another section. A cell with a dash says that nothing is known, an empty one leaves what holds.
    Raises UserError where the file is no such table at all.
    """
    table = read_table(path)
    if "designation" not in table.columns:
        raise UserError(f"{table.file} needs a column 'designation' in its first line.")
    problems = list(_stray(table))
    new: list[TubeType] = []
    changed: list[TubeType] = []
    names: dict[str, str] = {}
    entries = list(_entries(table, problems))
    for entry in entries:
        tube = _planned(shop.book, entry, problems)
        if tube is None or _names_clash(entry, tube, names, problems):
            continue
        known = shop.book.type(shop.book.id_of(tube.key))
        if known is None:
            new.append(tube)
        elif to_fields(known) != to_fields(tube):
            changed.append(tube)
    told = tuple(sorted(problems, key=lambda problem: problem.line))
    unchanged = 0 if told else len(entries) - len(new) - len(changed)
    bases = {tube.basing.base for tube in (*new, *changed)}
    known_bases = {tube.basing.base for tube in shop.book.catalog.types()}
    return TypesPlan(table.file, tuple(new), tuple(changed), unchanged, told, frozenset(bases - known_bases))


def import_types(shop: Shop, *, plan: TypesPlan, origin: str = "") -> tuple[tuple[int, ...], Changes]:
    """Do what a plan says, in one act that can be taken back; the ids of the types written.

    Raises UserError where the plan has problems or would change nothing.
    """
    if plan.problems:
        raise UserError(f"{plan.file} has {len(plan.problems):,} problems: mend them, then read it again.")
    tubes = (*plan.new, *plan.changed)
    if not tubes:
        raise UserError(f"{plan.file} says nothing that the table does not say already.")
    with shop.record.act("types imported") as journal:
        ids = tuple(store_type(journal, tube) for tube in tubes)
        journal.said = f"{len(ids):,} {'types' if len(ids) > 1 else 'type'} from {plan.file}"
        things = frozenset((Kind.TYPE, type_id) for type_id in ids)
        changes = Changes(journal.act_id, journal.said, things, origin)
    shop.forget_types()
    return ids, changes


def _stray(table: Table) -> Iterator[Problem]:
    """Columns that nobody knows, and cells behind the last column."""
    for column in filter(None, table.columns):
        if column not in COLUMNS:
            yield Problem(1, column, f"No column of a type is called '{column}': rename it or take it out.")
    for row in table.rows:
        if row.extra:
            yield Problem(row.line, "", f"{row.extra} more cells than the first line has columns.")


def _entries(table: Table, problems: list[Problem]) -> Iterator[_Entry]:
    """The rows by type, in the order in which the types are first named."""
    by_key: dict[str, list[TableRow]] = {}
    for row in table.rows:
        if key := fold(row.cells.get("designation", "")):
            by_key.setdefault(key, []).append(row)
        else:
            problems.append(Problem(row.line, "designation", "Type the designation, such as 12AX7."))
    for rows in by_key.values():
        yield _Entry(rows[0].cells["designation"], tuple(rows))


def _planned(book: TypeBook, entry: _Entry, problems: list[Problem]) -> TubeType | None:
    """The type as it would be, or ``None`` with its problems told."""
    found = book.catalog.find(entry.name)
    known = found if found is not None and found.key == fold(entry.name) else None
    wrong = list(_wrong_figures(entry))
    problems += wrong
    entry = _without(entry, {(problem.line, problem.column) for problem in wrong})
    try:
        now = to_fields(known) if known is not None else {}
        stated = {**_of_type(entry, now), "sections": _sections(entry, now)}
        if known is not None:
            stated["designation"] = known.designation
        return wanted_type(book, None if known is None else known.key, stated)
    except FieldErrors as errors:
        for field, sentence in errors.fields.items():
            problems.append(_problem(entry, field, sentence))
    except UserError as error:
        problems.append(Problem(entry.rows[0].line, "", error.sentence))
    return None


def _wrong_figures(entry: _Entry) -> Iterator[Problem]:
    """The figures of sections that cannot be read, each at its own cell."""
    for row in entry.rows:
        for name in _FIGURES:
            cell = row.cells.get(name, "")
            if cell in UNKNOWN:
                continue
            facts = {"name": row.cells.get("section") or "?", "function": "?", name: cell}
            try:
                parse_sections(json.dumps([facts]))
            except UserError as error:
                yield Problem(row.line, name, shortened(error.sentence))


def _without(entry: _Entry, cells: set[tuple[int, str]]) -> _Entry:
    """The rows with these cells, by line and column, left empty."""
    rows = (
        replace(
            row, cells={name: "" if (row.line, name) in cells else cell for name, cell in row.cells.items()}
        )
        for row in entry.rows
    )
    return _Entry(entry.name, tuple(rows)) if cells else entry


def _problem(entry: _Entry, field: str, sentence: str) -> Problem:
    """A mistake at the row that states the field; one in the sections at the first row with a section."""
    columns = _OF_SECTION if field == "sections" else (field,)
    row = next((r for r in entry.rows if any(r.cells.get(column) for column in columns)), entry.rows[0])
    return Problem(row.line, "section" if field == "sections" else field, shortened(sentence))


def _of_type(entry: _Entry, now: Mapping[str, str]) -> dict[str, str]:
    """The fields of the type: what the rows state, without contradiction, over what holds."""
    stated: dict[str, str] = {}
    for row in entry.rows:
        for name in _OF_TYPE:
            cell = row.cells.get(name, "")
            if cell and stated.setdefault(name, cell) != cell and name != "designation":
                raise FieldErrors({name: f"{entry.name} has '{stated[name]}' and '{cell}': keep one."})
    return {**now, **{name: "" if cell in UNKNOWN else cell for name, cell in stated.items()}}


def _sections(entry: _Entry, now: Mapping[str, str]) -> str:
    """The sections as the codec keeps them: those that hold, with the stated figures over them."""
    listed: list[dict[str, object]] = json.loads(now.get("sections") or "[]")
    by_name = {str(section["name"]): section for section in listed}
    for row in entry.rows:
        figures = {name: row.cells[name] for name in _OF_SECTION if row.cells.get(name)}
        name = figures.pop("section", "")
        if not figures and not name:
            continue
        if not name:
            raise FieldErrors({"sections": "Name the section of these figures, such as 1, t or p."})
        section = by_name.setdefault(name, {"name": name})
        for figure, cell in figures.items():
            _state(section, figure, cell)
    return json.dumps(list(by_name.values()), ensure_ascii=False) if by_name else ""


def _state(section: dict[str, object], figure: str, cell: str) -> None:
    if figure == "section_function":
        section["function"] = cell
    elif figure == "readable":
        section[figure] = cell.casefold() not in ("no", "n", "0", "false")
    elif cell in UNKNOWN:
        section.pop(figure, None)
    else:
        section[figure] = cell


def _names_clash(entry: _Entry, tube: TubeType, names: dict[str, str], problems: list[Problem]) -> bool:
    """Whether another type of the file has one of these names; told at this one."""
    for name in (tube.designation, *tube.equivalents):
        other = names.setdefault(fold(name), tube.designation)
        if other != tube.designation:
            column = "designation" if name == tube.designation else "equivalents"
            problems.append(_problem(entry, column, f"{name} is {other} in this file as well: keep one."))
            return True
    return False
