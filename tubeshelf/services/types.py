"""The type table as a list and as a data sheet of one screen."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from sqlalchemy import Connection

from tubeshelf.domain.designations import fold
from tubeshelf.domain.errors import UserError
from tubeshelf.domain.numbers import format_number
from tubeshelf.domain.types import Substitute, TubeType
from tubeshelf.services.folding import search_words, text_key
from tubeshelf.services.setting_lines import read_lines
from tubeshelf.services.views.types import Distribution, SettingLineView, TypeDetail, TypeRow
from tubeshelf.store.queries import shelf, types

if TYPE_CHECKING:
    from tubeshelf.services.shop import Shop
    from tubeshelf.services.typebook import TypeBook


@dataclass(frozen=True, slots=True)
class TypeUse:
    """How many rows of the record refer to a type, of each kind."""

    models: int
    units: int
    jobs: int
    found: int
    tubes: int
    lines: int


def list_types(shop: Shop, *, find: str = "", retired: bool = False) -> tuple[TypeRow, ...]:
    """The types whose names, function or base have all the words typed; retired ones only if asked for."""
    words = search_words(find)
    with shop.record.reading() as connection:
        on_hand, promised = shelf.on_hand(connection), shelf.promised(connection)
    book = shop.book
    rows = []
    for tube in book.catalog.types():
        type_id = book.id_of(tube.key)
        if type_id is None or (tube.retired and not retired) or not _has(tube, words):
            continue
        here = on_hand.get(type_id, 0)
        rows.append(
            TypeRow(
                type_id=type_id,
                designation=tube.designation,
                function=tube.function,
                base=tube.base,
                heater=heater_text(tube),
                equivalents=tube.equivalents,
                on_hand=here,
                free=here - promised.get(type_id, 0),
                origin=_origin(book, type_id, tube),
                retired=tube.retired,
            )
        )
    return tuple(sorted(rows, key=lambda row: row.designation))


def _has(tube: TubeType, words: list[str]) -> bool:
    names = [fold(name) for name in (tube.designation, *tube.equivalents)]
    told = text_key(f"{tube.function} {tube.base}")
    return all(word in told or any(fold(word) in name for name in names if fold(word)) for word in words)


def heater_text(tube: TubeType) -> str:
    """The rated heater, each arrangement: ``6.3 V 0.3 A or 12.6 V 0.15 A``."""
    if tube.heating == "cold":
        return "cold"
    return " or ".join(f"{format_number(h.volts)} V {format_number(h.amperes)} A" for h in tube.heaters)


def _origin(book: TypeBook, type_id: int, tube: TubeType) -> str:
    """``shipped``, ``changed here`` or ``this shop``."""
    if tube.origin == "shop":
        return "this shop"
    return "changed here" if book.shop_fields(type_id) else "shipped"


def type_detail(shop: Shop, *, type_id: int) -> TypeDetail:
    """A type with what may serve for it, its setting lines and readings; UserError if it is gone."""
    book = shop.book
    tube = book.type(type_id)
    if tube is None:
        raise UserError("That type is gone from the table; reload the page.")
    with shop.record.reading() as connection:
        lines = read_lines(connection, book, type_id=type_id)
        pictures = _distributions(connection, type_id, lines)
        on_hand = shelf.on_hand(connection).get(type_id, 0)
        promised = shelf.promised(connection).get(type_id, 0)
        par = shelf.pars(connection).get(type_id)
    return TypeDetail(
        type_id=type_id,
        tube=tube,
        substitutes=tuple(_named(book, entry) for entry in book.catalog.substitutes_for(tube.key)),
        serves_for=tuple(_named(book, entry) for entry in book.catalog.serves_for(tube.key)),
        shop_fields=book.shop_fields(type_id),
        lines=lines,
        distributions=pictures,
        on_hand=on_hand,
        free=on_hand - promised,
        par=par,
    )


def _named(book: TypeBook, entry: Substitute) -> Substitute:
    """A substitute entry by designations, as they are shown."""
    intended, found = book.id_of(entry.intended), book.id_of(entry.found)
    return replace(entry, intended=book.designation(intended), found=book.designation(found))


def _distributions(
    connection: Connection, type_id: int, lines: tuple[SettingLineView, ...]
) -> tuple[Distribution, ...]:
    """The latest reading of each tube of the type on each line, for those lines that have any."""
    units = {row.id: row.unit for row in types.testers(connection)}
    latest: defaultdict[int, dict[int, float]] = defaultdict(dict)
    for row in types.latest_means(connection, [type_id]):
        latest[row.setting_line_id][row.item_id] = row.mean
    return tuple(
        Distribution(
            tester=line.tester,
            line=line.label or (f"section {line.section}" if line.section else ""),
            unit=units[line.tester_id],
            values=tuple(latest[line.id].values()),
            limit=line.limit,
        )
        for line in lines
        if line.id in latest
    )


def used_by(shop: Shop, *, type_id: int) -> TypeUse:
    """What refers to a type: why it is retired and never deleted."""
    with shop.record.reading() as connection:
        return TypeUse(**types.uses(connection, type_id))
