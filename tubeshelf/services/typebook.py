"""The types as one record has them: shipped facts, the shop's own fields over them, its substitutions."""

from __future__ import annotations

import json
from collections.abc import Collection, Mapping, Sequence
from functools import cached_property
from typing import TYPE_CHECKING

from sqlalchemy import Connection, delete, select

from tubeshelf.domain.catalog import Catalog
from tubeshelf.domain.types import Substitute, TubeType
from tubeshelf.services.spare_stock import Stock
from tubeshelf.services.spare_verdict import Judged
from tubeshelf.services.type_codec import from_fields, to_fields
from tubeshelf.store.shipped import catalog_of, table_version
from tubeshelf.store.tables import Setting, ShippedFact, ShopFact, ShopSubstitute, Type

if TYPE_CHECKING:
    from tubeshelf.store.record import Record

VERSION = "types_version"


class TypeBook:
    """All types of a record, by key, name and row id. Read once; ask the shop for a fresh one.

    A job needs a handful of a thousand types: each is made of its facts when it is first asked for. The
    catalog needs them all, when a name is looked for or what may serve: those of which the record says what
    the program came with are then taken from its own table, which is read faster than as many facts.
    """

    def __init__(
        self,
        keys: Mapping[int, str],
        shipped: Mapping[int, str],
        own: Mapping[int, Mapping[str, str]],
        substitutes: Sequence[Substitute],
        as_shipped: Collection[int] = (),
    ) -> None:
        """``shipped`` has the facts of a type as a JSON object, ``own`` each field of the shop's as JSON.

        ``as_shipped`` are the types whose facts are those of the program's own table.
        """
        self._keys = {type_id: key for type_id, key in keys.items() if type_id in shipped or type_id in own}
        self._ids = {key: type_id for type_id, key in self._keys.items()}
        self._shipped = shipped
        self._own = own
        self._shop_substitutes = substitutes
        self._as_shipped = as_shipped
        self._types: dict[int, TubeType] = {}
        self.judged = Judged()
        self.stock = Stock()

    @cached_property
    def catalog(self) -> Catalog:
        """All types with what may serve for them."""
        shipped = catalog_of(table_version())
        came = {tube.key: tube for tube in shipped.types()}
        for type_id in self._as_shipped:
            if type_id not in self._own and (tube := came.get(self._keys[type_id])) is not None:
                self._types.setdefault(type_id, tube)
        types = [self._type(type_id) for type_id in self._keys]
        return Catalog(types, (*shipped.substitutes(), *self._shop_substitutes))

    def id_of(self, name: str) -> int | None:
        """The row id of a type by key, designation or equivalent; ``None`` if it is unknown."""
        if name in self._ids:
            return self._ids[name]
        tube = self.catalog.find(name)
        return None if tube is None else self._ids[tube.key]

    def key_of(self, type_id: int) -> str:
        """The key of a type by its row id; KeyError if there is none."""
        return self._keys[type_id]

    def type(self, type_id: int | None) -> TubeType | None:
        """The type with this row id; ``None`` for none, and for one whose making was taken back."""
        return self._type(type_id) if type_id in self._keys else None

    def _type(self, type_id: int) -> TubeType:
        if type_id not in self._types:
            shipped = self._shipped.get(type_id)
            facts: dict[str, str] = {"origin": "shop"} if shipped is None else json.loads(shipped)
            facts.update({field: json.loads(value) for field, value in self._own.get(type_id, {}).items()})
            self._types[type_id] = from_fields(self._keys[type_id], facts)
        return self._types[type_id]

    def designation(self, type_id: int | None) -> str:
        """How the type is called; empty for none."""
        tube = self.type(type_id)
        return "" if tube is None else tube.designation

    def shop_fields(self, type_id: int) -> tuple[str, ...]:
        """Which fields of a type are the shop's own."""
        return tuple(self._own.get(type_id, ()))

    def ids(self) -> tuple[int, ...]:
        """The row ids of all types."""
        return tuple(self._keys)


def load_book(connection: Connection) -> TypeBook:
    """The types as they are now."""
    keys = {row.id: row.key for row in connection.execute(select(Type.id, Type.key))}
    query = select(ShippedFact.type_id, ShippedFact.facts, ShippedFact.table_version)
    facts = connection.execute(query).all()
    shipped = {row.type_id: row.facts for row in facts}
    version = table_version()
    as_shipped = [row.type_id for row in facts if row.table_version == version]
    own: dict[int, dict[str, str]] = {}
    live = select(ShopFact.type_id, ShopFact.field, ShopFact.value).where(ShopFact.ended_by.is_(None))
    for fact in connection.execute(live):
        own.setdefault(fact.type_id, {})[fact.field] = fact.value
    return TypeBook(keys, shipped, own, _shop_substitutes(connection, keys), as_shipped)


def _shop_substitutes(connection: Connection, keys: Mapping[int, str]) -> list[Substitute]:
    live = select(ShopSubstitute).where(ShopSubstitute.ended_by.is_(None))
    return [
        Substitute(
            intended=keys[row.intended_id],
            found=keys[row.found_id],
            grade=row.grade,
            conditions=row.conditions,
            source=row.note or "this shop",
            origin="shop",
        )
        for row in connection.execute(live)
    ]


def sync_shipped(record: Record) -> None:
    """Bring the shipped facts in the record up to the program's; facts of types gone from it stay."""
    version = table_version()
    with record.reading() as connection:
        if connection.scalar(select(Setting.value).where(Setting.key == VERSION)) == version:
            return
    with record.act("shipped types", "Type table brought up to date") as journal:
        connection = journal.connection
        tubes = catalog_of(version).types()
        known = set(connection.scalars(select(Type.key)))
        journal.insert_many(
            Type,
            [{"key": t.key, "designation": t.designation} for t in tubes if t.key not in known],
        )
        ids = {row.key: row.id for row in connection.execute(select(Type.key, Type.id))}
        connection.execute(delete(ShippedFact).where(ShippedFact.type_id.in_([ids[t.key] for t in tubes])))
        journal.insert_many(
            ShippedFact,
            [{"type_id": ids[t.key], "facts": _json_facts(t), "table_version": version} for t in tubes],
        )
        connection.execute(delete(Setting).where(Setting.key == VERSION))
        journal.insert(Setting, key=VERSION, value=version)


def _json_facts(tube: TubeType) -> str:
    return json.dumps(to_fields(tube), ensure_ascii=False)
