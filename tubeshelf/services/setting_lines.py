"""Setting lines: what to dial in for a type on a tester, which section it reads, and its limit."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import zip_longest
from typing import TYPE_CHECKING, Any

from sqlalchemy import Connection, Row

from tubeshelf.domain.errors import UserError
from tubeshelf.domain.judging import Limit
from tubeshelf.services.changes import Changes, Kind
from tubeshelf.services.field_errors import FieldErrors
from tubeshelf.services.limit_form import check_limit
from tubeshelf.services.recording import limit_of, rule_of, scale_of
from tubeshelf.services.views.types import SettingLineView
from tubeshelf.store.queries import reading, types
from tubeshelf.store.tables import Limit as LimitRow
from tubeshelf.store.tables import SettingLine

if TYPE_CHECKING:
    from tubeshelf.services.shop import Shop
    from tubeshelf.services.typebook import TypeBook
    from tubeshelf.store.journal import Journal


def setting_lines(
    shop: Shop, *, tester_id: int | None = None, type_id: int | None = None
) -> tuple[SettingLineView, ...]:
    """The setting lines in use, of one tester or of one type, with the limit that holds now.

    Where none was entered, that is the one of the tester's default rule, marked as ``derived``.
    """
    with shop.record.reading() as connection:
        return read_lines(connection, shop.book, tester_id=tester_id, type_id=type_id)


def read_lines(
    connection: Connection, book: TypeBook, *, tester_id: int | None = None, type_id: int | None = None
) -> tuple[SettingLineView, ...]:
    """The same within a reading that is under way."""
    return tuple(_view(book, row) for row in types.lines(connection, tester_id=tester_id, type_id=type_id))


def _view(book: TypeBook, row: Row[Any]) -> SettingLineView:
    tube = book.type(row.type_id)
    values = row.fields[: len(row.field_names)]
    return SettingLineView(
        id=row.id,
        type_id=row.type_id,
        designation=book.designation(row.type_id),
        tester_id=row.tester_id,
        tester=row.tester,
        position=row.position,
        label=row.label,
        section=row.section,
        quantity=row.quantity,
        fields=tuple(zip_longest(row.field_names, values, fillvalue="")),
        limit=limit_of(row, scale_of(row), rule_of(row), row.method, row.tester, tube),
        version=row.version,
    )


def save_line(
    shop: Shop,
    *,
    line_id: int | None = None,
    tester_id: int | None = None,
    type_id: int | None = None,
    label: str = "",
    section: str = "",
    quantity: str = "",
    fields: Mapping[str, str] | None = None,
    limit: Limit | None = None,
    expected_version: int | None = None,
    origin: str = "",
) -> tuple[int, Changes]:
    """Keep a setting line, or (without ``line_id``) a new one of a type on a tester; its id.

    ``fields`` are the values to dial in by the tester's own field names; ``limit`` the one entered, or
    ``None`` for the tester's default rule. A changed limit ends the old one, which old verdicts refer to.
    """
    with shop.record.act("setting line") as journal:
        old = None if line_id is None else _line(journal.connection, line_id)
        tester_id, type_id = (tester_id, type_id) if old is None else (old.tester_id, old.type_id)
        tester = None if tester_id is None else types.tester(journal.connection, tester_id)
        tube = shop.book.type(type_id)
        if tester is None or tube is None or type_id is None or tester_id is None:
            raise UserError("Choose a tester and a type for the setting line.")
        names = {section.name for section in tube.sections}
        if section and names and section not in names:
            raise FieldErrors({"section": f"{tube.designation} has no section {section}: {_listed(names)}."})
        check_limit(limit, tester.words)
        values = {
            "label": " ".join(label.split()),
            "section": section.strip(),
            "quantity": quantity.strip(),
            "fields": _dialled(tester.field_names, fields or {}),
        }
        if line_id is None:
            position = reading.next_position(journal.connection, type_id=type_id, tester_id=tester_id)
            known = {"type_id": type_id, "tester_id": tester_id, "position": position, "retired": False}
            line_id = journal.insert(SettingLine, **known, **values)
        else:
            journal.update(SettingLine, line_id, expected_version=expected_version, **values)
        _set_limit(journal, line_id, old, None if limit is None or limit.derived else limit)
        return line_id, _done(
            journal, f"Saved setting of {tube.designation} on {tester.name}", old, type_id, tester_id, origin
        )


def _listed(names: set[str]) -> str:
    return f"choose {', '.join(sorted(names))}, or none"


def _dialled(field_names: tuple[str, ...], fields: Mapping[str, str]) -> tuple[str, ...]:
    unknown = [name for name in fields if name not in field_names]
    if unknown:
        raise UserError(f"This tester has no field {unknown[0]}: its fields are {', '.join(field_names)}.")
    return tuple(fields.get(name, "").strip() for name in field_names)


def _set_limit(journal: Journal, line_id: int, old: Row[Any] | None, limit: Limit | None) -> None:
    kept = None
    if old is not None and old.limit_id is not None:
        kept = (old.good_from, old.reject_below, old.bogey, old.above, old.source, old.dated)
    wanted = None
    if limit is not None:
        wanted = (limit.good_from, limit.reject_below, limit.bogey, limit.above, limit.source, limit.dated)
    if kept == wanted:
        return
    if old is not None and kept is not None:
        journal.end(LimitRow, old.limit_id)
    if limit is not None:
        journal.insert(
            LimitRow,
            setting_line_id=line_id,
            bogey=limit.bogey,
            good_from=limit.good_from,
            reject_below=limit.reject_below,
            above=limit.above,
            source=limit.source,
            dated=limit.dated,
        )


def retire_line(shop: Shop, *, line_id: int, origin: str = "") -> tuple[None, Changes]:
    """Take a setting line out of use; its readings keep referring to it."""
    with shop.record.act("setting line") as journal:
        old = _line(journal.connection, line_id)
        journal.update(SettingLine, line_id, retired=True)
        said = f"Retired a setting of {shop.book.designation(old.type_id)} on {old.tester}"
        return None, _done(journal, said, old, old.type_id, old.tester_id, origin)


def _line(connection: Connection, line_id: int) -> Row[Any]:
    rows = types.lines(connection, line_id=line_id)
    if not rows:
        raise UserError("That setting line is gone; reload the page.")
    return rows[0]


def _done(
    journal: Journal, said: str, old: Row[Any] | None, type_id: int, tester_id: int, origin: str
) -> Changes:
    journal.said = said
    things = frozenset({(Kind.TYPE, type_id), (Kind.TESTER, tester_id)})
    return Changes(journal.act_id, said, things, origin)
