"""The shop's testers: their method, scale, repeatability, default limits and the names of their fields."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from sqlalchemy import Connection, Row

from tubeshelf.domain.errors import UserError
from tubeshelf.domain.judging import Repeatability
from tubeshelf.services.changes import Changes, Kind
from tubeshelf.services.field_errors import Form
from tubeshelf.services.recording import passes_of, rule_of, scale_of
from tubeshelf.services.tester_form import read_tester
from tubeshelf.services.views.types import TesterDetail
from tubeshelf.store.queries import types
from tubeshelf.store.tables import SettingLine, Tester

if TYPE_CHECKING:
    from tubeshelf.services.shop import Shop
    from tubeshelf.store.journal import Journal

NO_SCALE_CHANGE = "Readings were taken on this scale: add a tester of its own for another scale."


def list_testers(shop: Shop, *, retired: bool = True) -> tuple[TesterDetail, ...]:
    """The testers in the order they were added; retired ones unless not asked for."""
    with shop.record.reading() as connection:
        lines = types.line_counts(connection)
        rows = types.testers(connection)
    return tuple(_view(row, lines.get(row.id, 0)) for row in rows if retired or not row.retired)


def _view(row: Row[Any], lines: int) -> TesterDetail:
    return TesterDetail(
        id=row.id,
        name=row.name,
        method=row.method,
        scale=scale_of(row),
        repeatability=Repeatability(row.relative, row.absolute),
        default=rule_of(row),
        passes=passes_of(row),
        field_names=row.field_names,
        checked_on=row.checked_on,
        note=row.note,
        retired=row.retired,
        lines=lines,
        version=row.version,
    )


def save_tester(
    shop: Shop,
    *,
    fields: Mapping[str, str],
    tester_id: int | None = None,
    expected_version: int | None = None,
    origin: str = "",
) -> tuple[int, Changes]:
    """Keep a tester, or (without ``tester_id``) a new one; its id. ``fields`` are those of ``tester_fields``.

    The unit is that of its scale; ``words`` its merit words, worst first, with semicolons between. Raises
    ``FieldErrors`` with a sentence for each field that is wrong; a scale that was read on stays.
    """
    form = Form(fields)
    values = read_tester(form)
    with shop.record.act("tester") as journal:
        taken = {row.name.casefold() for row in types.testers(journal.connection) if row.id != tester_id}
        if values["name"].casefold() in taken:
            form.wrong.setdefault("name", f"There is a {values['name']} already: give this one another name.")
        if tester_id is not None:
            _keep_scale(journal.connection, form, _row(journal.connection, tester_id), values)
        form.check()
        if tester_id is None:
            tester_id = journal.insert(Tester, **values, retired=False)
        else:
            _follow_fields(journal, _row(journal.connection, tester_id), values["field_names"])
            journal.update(Tester, tester_id, expected_version=expected_version, **values)
        return tester_id, _done(journal, f"Saved tester {values['name']}", tester_id, origin)


def _keep_scale(connection: Connection, form: Form, row: Row[Any], values: Mapping[str, Any]) -> None:
    """What stored readings and limits mean hangs on the unit and the words, so these stay."""
    for name in ("unit", "words"):
        if values[name] != getattr(row, name) and types.has_readings(connection, row.id):
            form.wrong.setdefault(name, NO_SCALE_CHANGE)


def _follow_fields(journal: Journal, row: Row[Any], names: tuple[str, ...]) -> None:
    """Keep the values dialled in with their fields when fields are renamed, moved, added or dropped.

    A new name in the place of one that went is the same field under another name.
    """
    old = row.field_names
    if old == names:
        return
    source: list[int | None] = []
    for place, name in enumerate(names):
        renamed = place if place < len(old) and old[place] not in names else None
        source.append(old.index(name) if name in old else renamed)
    for line in types.lines(journal.connection, tester_id=row.id):
        held = dict(enumerate(line.fields))
        moved = tuple("" if place is None else held.get(place, "") for place in source)
        journal.update(SettingLine, line.id, fields=moved)


def retire_tester(
    shop: Shop, *, tester_id: int, retired: bool = True, origin: str = ""
) -> tuple[None, Changes]:
    """Take a tester out of the choices (or back); its readings stay."""
    with shop.record.act("tester") as journal:
        row = _row(journal.connection, tester_id)
        journal.update(Tester, tester_id, retired=retired)
        said = f"Retired tester {row.name}" if retired else f"Tester {row.name} back in use"
        return None, _done(journal, said, tester_id, origin)


def _row(connection: Connection, tester_id: int) -> Row[Any]:
    row = types.tester(connection, tester_id)
    if row is None:
        raise UserError("That tester is gone from the record; reload the page.")
    return row


def _done(journal: Journal, said: str, tester_id: int, origin: str) -> Changes:
    journal.said = said
    return Changes(journal.act_id, said, frozenset({(Kind.TESTER, tester_id)}), origin)
