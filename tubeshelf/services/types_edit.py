"""Changing the type table: the shop's own fields over the shipped ones, new types, substitutes."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import TYPE_CHECKING

from tubeshelf.domain.designations import fold
from tubeshelf.domain.errors import UserError
from tubeshelf.services.changes import Changes, Kind
from tubeshelf.services.field_errors import FieldErrors
from tubeshelf.services.type_checks import check_type
from tubeshelf.services.type_codec import FIELDS, from_fields, to_fields
from tubeshelf.services.type_syntax import parse_list
from tubeshelf.store.queries import types
from tubeshelf.store.tables import ShopFact, ShopSubstitute, Type

if TYPE_CHECKING:
    from tubeshelf.domain.types import TubeType
    from tubeshelf.services.shop import Shop
    from tubeshelf.services.typebook import TypeBook
    from tubeshelf.store.journal import Journal


def save_type(
    shop: Shop, *, key: str | None, fields: Mapping[str, str], origin: str = ""
) -> tuple[int, Changes]:
    """Keep the fields of a type as the shop has them, or (without a key) a new type; its row id.

    Fields that are not named stay as they are; one that equals the shipped value is the shop's no longer.
    Raises ``FieldErrors`` with a sentence for each field that is wrong.
    """
    wanted = wanted_type(shop.book, key, fields)
    with shop.record.act("type") as journal:
        type_id = store_type(journal, wanted)
        changes = _done(journal, f"Saved type {wanted.designation}", {type_id}, origin)
    shop.forget_types()
    return type_id, changes


def wanted_type(book: TypeBook, key: str | None, fields: Mapping[str, str]) -> TubeType:
    """A type as it would be with these fields over what holds now; raises as ``save_type`` does."""
    now: dict[str, str] = {}
    new = key is None
    if key is None:
        key = _new_key(fields)
    else:
        tube = book.type(book.id_of(key))
        if tube is None:
            raise UserError("That type is gone from the table; reload the page.")
        now = to_fields(tube)
        if fold(fields.get("designation", tube.designation)) != fold(tube.designation):
            raise FieldErrors(
                {"designation": "The name of a type stays: copy it under the new name instead."}
            )
    wanted = from_fields(key, {**now, **{name: fields[name] for name in FIELDS if name in fields}})
    check_type(book, wanted, new=new)
    return wanted


def store_type(journal: Journal, wanted: TubeType) -> int:
    """Keep a checked type within an act; its row id."""
    type_id = _type_row(journal, wanted.key, wanted.designation)
    _store(journal, type_id, to_fields(wanted))
    return type_id


def _new_key(fields: Mapping[str, str]) -> str:
    key = fold(fields.get("designation", ""))
    if not key:
        raise FieldErrors({"designation": "Type the designation, such as 12AX7."})
    return key


def _type_row(journal: Journal, key: str, designation: str) -> int:
    """The row that everything refers to; one that was taken back before comes to life again."""
    known = types.type_of_key(journal.connection, key)
    if known is not None:
        return known
    return journal.insert(Type, key=key, designation=designation)


def _store(journal: Journal, type_id: int, wanted: Mapping[str, str]) -> None:
    """Bring the overlay to exactly those fields that differ from the shipped ones."""
    shipped = types.shipped_facts(journal.connection, type_id)
    own = types.shop_facts(journal.connection, type_id)
    for name in FIELDS:
        value = json.dumps(wanted[name], ensure_ascii=False)
        same = wanted[name] == shipped[name] if name in shipped else not wanted[name]
        row_id, kept = own.get(name, (None, None))
        if row_id is not None and (same or kept != value):
            journal.end(ShopFact, row_id)
        if not same and kept != value:
            journal.insert(ShopFact, type_id=type_id, field=name, value=value)


def copy_type(shop: Shop, *, type_id: int, designation: str, origin: str = "") -> tuple[int, Changes]:
    """A new type with the fields of another; the other names stay with the original."""
    tube = shop.book.type(type_id)
    if tube is None:
        raise UserError("That type is gone from the table; reload the page.")
    fields = {**to_fields(tube), "designation": designation.strip(), "equivalents": "", "retired": "no"}
    return save_type(shop, key=None, fields=fields, origin=origin)


def retire_type(shop: Shop, *, type_id: int, retired: bool, origin: str = "") -> tuple[None, Changes]:
    """Take a type out of the lists (or back into them); nothing that refers to it changes."""
    fields = {"retired": "yes" if retired else "no"}
    with shop.record.act("type retired" if retired else "type") as journal:
        _store_one(journal, type_id, fields)
        word = "Retired" if retired else "Back in use:"
        changes = _done(journal, f"{word} {shop.book.designation(type_id)}", {type_id}, origin)
    shop.forget_types()
    return None, changes


def _store_one(journal: Journal, type_id: int, fields: Mapping[str, str]) -> None:
    now = types.shipped_facts(journal.connection, type_id)
    for name, (_, value) in types.shop_facts(journal.connection, type_id).items():
        now[name] = json.loads(value)
    _store(journal, type_id, dict.fromkeys(FIELDS, "") | now | dict(fields))


def save_substitute(
    shop: Shop,
    *,
    intended_id: int,
    found_id: int,
    grade: int,
    conditions: str = "",
    note: str = "",
    origin: str = "",
) -> tuple[None, Changes]:
    """Say that this shop accepts one type where another belongs, under conditions (with semicolons between).

    It lies over a shipped entry for the same pair. It never silences harm: every fit is still checked.
    """
    if intended_id == found_id:
        raise UserError("A type needs no entry to stand in its own place: choose another type.")
    if grade not in (1, 2, 3):
        raise UserError("Choose a grade: 1 as good, 2 serves with its conditions, 3 in a pinch.")
    with shop.record.act("substitute") as journal:
        _end_substitutes(journal, intended_id, found_id)
        journal.insert(
            ShopSubstitute,
            intended_id=intended_id,
            found_id=found_id,
            grade=grade,
            conditions=parse_list(conditions),
            note=note.strip(),
        )
        said = f"{shop.book.designation(found_id)} may serve for {shop.book.designation(intended_id)}"
        changes = _done(journal, said, {intended_id, found_id}, origin)
    shop.forget_types()
    return None, changes


def drop_substitute(shop: Shop, *, intended_id: int, found_id: int, origin: str = "") -> tuple[None, Changes]:
    """Take the shop's own entry back; a shipped one for the same pair holds again."""
    with shop.record.act("substitute") as journal:
        if not _end_substitutes(journal, intended_id, found_id):
            raise UserError(
                "This substitute came with the program and stays: only the shop's own can be dropped."
            )
        names = shop.book.designation(found_id), shop.book.designation(intended_id)
        changes = _done(journal, f"{names[0]} dropped as a substitute for {names[1]}", set(), origin)
    shop.forget_types()
    return None, Changes(changes.act_id, changes.said, _things({intended_id, found_id}), origin)


def _end_substitutes(journal: Journal, intended_id: int, found_id: int) -> bool:
    old = types.substitutes(journal.connection, intended_id=intended_id, found_id=found_id)
    for row_id in old:
        journal.end(ShopSubstitute, row_id)
    return bool(old)


def _things(type_ids: set[int]) -> frozenset[tuple[Kind, int]]:
    return frozenset((Kind.TYPE, type_id) for type_id in type_ids)


def _done(journal: Journal, said: str, type_ids: set[int], origin: str) -> Changes:
    journal.said = said
    return Changes(journal.act_id, said, _things(type_ids), origin)
