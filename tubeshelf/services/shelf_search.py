"""Finding spares on the shelf as somebody types, and counting them by type."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from sqlalchemy import Connection, Row

from tubeshelf.domain.designations import fold
from tubeshelf.domain.judging import NOT_READ, Mark, Zone
from tubeshelf.domain.tags import format_tag, parse_tag
from tubeshelf.services.folding import typed_words
from tubeshelf.services.movements import squeeze
from tubeshelf.services.promises import jobs_text
from tubeshelf.services.spare_verdict import NEVER_READ, SpareVerdict, spare_verdicts
from tubeshelf.services.views.shelf import ItemView, ShelfView, TypeCount
from tubeshelf.store.queries import shelf

if TYPE_CHECKING:
    from tubeshelf.services.shop import Shop
    from tubeshelf.services.typebook import TypeBook

_AGAIN = "read again"
_SPOKEN = tuple(" ".join((*Zone, *Mark, NOT_READ, _AGAIN)).split())
_FREE, _PROMISED = "free", "promised"
_STATES = {_FREE: "not promised", _PROMISED: "promised"}

Promises = dict[int, list[Row[Any]]]
"""The live promises by item."""


@dataclass(frozen=True, slots=True)
class _Asked:
    """What somebody typed: words the record finds, states of promise, and words that a verdict may have."""

    words: tuple[shelf.Word, ...] = ()
    free: bool = False
    promised: bool = False
    verdicts: tuple[shelf.Word, ...] = ()


def search(shop: Shop, *, find: str = "", limit: int | None = None) -> ShelfView:
    """The spares that all words typed find, with the totals of the whole shelf.

    A tube whose tag was typed stands first; the others follow by designation and tag.

    A word is part of a tag, a name of the type, a mark, brand, claimed condition, bin, or of the verdict;
    ``free`` and ``promised`` ask for that. A whole tag finds its tube wherever it is. ``total`` counts the
    rows found, of which at most ``limit`` are returned.
    """
    asked = _understand(shop.book, find)
    with shop.record.reading() as connection:
        promises = promises_by_item(connection)
        rows = [row for row in shelf.find_items(connection, asked.words) if _state_fits(asked, row, promises)]
        verdicts: dict[int, SpareVerdict] = {}
        if asked.verdicts:
            verdicts = spare_verdicts(connection, shop.book, rows)
            rows = [row for row in rows if _verdict_fits(asked, row, verdicts.get(row.id, NEVER_READ))]
        tags = {word.tag for word in asked.words} - {None}
        rows.sort(key=lambda row: (row.tag not in tags, *_order(shop.book, row)))
        shown = rows[:limit]
        if not asked.verdicts:
            verdicts = spare_verdicts(connection, shop.book, shown)
        tubes, kinds = shelf.totals(connection)
        kept = sum(shelf.promised(connection).values())
    views = tuple(
        item_view(shop.book, row, verdicts.get(row.id, NEVER_READ), promises.get(row.id, ())) for row in shown
    )
    return ShelfView(rows=views, total=len(rows), tubes=tubes, types=kinds, promised=kept)


def _understand(book: TypeBook, find: str) -> _Asked:
    words: list[shelf.Word] = []
    verdicts: list[shelf.Word] = []
    typed = [word for word in typed_words(find) if squeeze(word)]
    for text in typed:
        key = squeeze(text)
        if key in (_FREE, _PROMISED):
            continue
        word = shelf.Word(key, _types_called(book, text), parse_tag(text))
        # Whether a verdict has the word is only known after judging, so the record is not asked for it.
        (verdicts if len(key) > 2 and _starts(key, _SPOKEN) else words).append(word)
    keys = {squeeze(text) for text in typed}
    return _Asked(tuple(words), _FREE in keys, _PROMISED in keys, tuple(verdicts))


def understood(shop: Shop, *, find: str) -> tuple[tuple[str, str], ...]:
    """Each word typed with what the search takes it for: ``(ecc83, type 12AX7)``."""
    return tuple((text, _taken_for(shop.book, text)) for text in typed_words(find) if squeeze(text))


def _taken_for(book: TypeBook, text: str) -> str:
    key, tag = squeeze(text), parse_tag(text)
    if key in _STATES:
        return _STATES[key]
    if (tube := book.catalog.find(text)) is not None:
        return f"type {tube.designation}"
    if len(key) > 2 and _starts(key, _SPOKEN):
        return f"verdict {next(word for word in _SPOKEN if word.startswith(key))}"
    return f"“{text}”" if tag is None else f"tag {format_tag(tag)} or “{text}”"


def _types_called(book: TypeBook, text: str) -> frozenset[int]:
    """The types of which a name (designation or equivalent) has the word in it."""
    word = fold(text)
    return frozenset(
        type_id
        for type_id in book.ids()
        if (tube := book.type(type_id)) is not None
        and any(word in fold(name) for name in (tube.designation, *tube.equivalents))
    )


def _state_fits(asked: _Asked, row: Row[Any], promises: Promises) -> bool:
    promised = sum(promise.quantity for promise in promises.get(row.id, ()))
    return not (asked.free and promised >= row.quantity) and not (asked.promised and promised == 0)


def _verdict_fits(asked: _Asked, row: Row[Any], verdict: SpareVerdict) -> bool:
    spoken = f"{verdict.verdict.word} {_AGAIN if verdict.verdict.sure is False else ''}".split()
    return all(
        _starts(word.key, spoken) or word.key in row.search_key or row.type_id in word.type_ids
        for word in asked.verdicts
    )


def _starts(key: str, words: Iterable[str]) -> bool:
    return any(word.startswith(key) for word in words)


def _order(book: TypeBook, row: Row[Any]) -> tuple[str, bool, int]:
    return book.designation(row.type_id) or row.marked, row.lot, row.tag or row.id


def promises_by_item(connection: Connection, item_ids: Collection[int] | None = None) -> Promises:
    """The live promises (of these items), each item's together."""
    found: Promises = {}
    for row in shelf.promises(connection, item_ids):
        found.setdefault(row.item_id, []).append(row)
    return found


def item_view(book: TypeBook, row: Row[Any], spoken: SpareVerdict, promises: Sequence[Row[Any]]) -> ItemView:
    """A tube or lot as a row of the shelf."""
    return ItemView(
        id=row.id,
        tag="" if row.tag is None else format_tag(row.tag),
        lot=row.lot,
        quantity=row.quantity,
        type_id=row.type_id,
        designation=book.designation(row.type_id) or row.marked,
        marked=row.marked,
        condition=row.condition,
        brand=row.brand,
        date_code=row.date_code,
        reads=spoken.reads,
        verdict=spoken.verdict.word,
        sure=spoken.verdict.sure,
        verdict_note=spoken.note,
        bin=row.place_ref if row.place in ("shelf", "reference") else "",
        place=row.place,
        promised=sum(promise.quantity for promise in promises),
        promised_to=_promised_to(promises),
        matched_set=row.matched_set,
        premium=row.premium,
        owner=row.owner or "",
        price=row.price,
        cost=row.cost,
        note=row.note,
        version=row.version,
        construction=row.construction,
        boxed=row.boxed,
        source=row.source,
    )


def _promised_to(promises: Sequence[Row[Any]]) -> str:
    if not promises:
        return ""
    if len(promises) == 1 and promises[0].position is not None:
        return f"job {promises[0].number}, {promises[0].position}"
    return jobs_text([promise.number for promise in promises])


def counts(shop: Shop) -> tuple[TypeCount, ...]:
    """What is on hand of each type that lies on the shelf or that the shop wants there, by designation."""
    with shop.record.reading() as connection:
        return read_counts(connection, shop.book)


def read_counts(connection: Connection, book: TypeBook) -> tuple[TypeCount, ...]:
    """The counts of every type on the shelf or with a par, by designation."""
    numbers = _Numbers(connection)
    known = (type_id for type_id in numbers.on_hand.keys() | numbers.pars.keys() if book.type(type_id))
    return tuple(numbers.count(book, type_id) for type_id in sorted(known, key=book.designation))


def type_count(shop: Shop, *, type_id: int) -> TypeCount:
    """What is on hand of one type."""
    with shop.record.reading() as connection:
        return read_type_count(connection, shop.book, type_id)


def read_type_count(connection: Connection, book: TypeBook, type_id: int) -> TypeCount:
    """What is on hand of one type, and free of those that may serve for it."""
    return _Numbers(connection).count(book, type_id)


class _Numbers:
    """On hand, promised and par of all types."""

    def __init__(self, connection: Connection) -> None:
        self.on_hand = shelf.on_hand(connection)
        self.promised = shelf.promised(connection)
        self.pars = shelf.pars(connection)

    def free(self, type_id: int) -> int:
        return self.on_hand.get(type_id, 0) - self.promised.get(type_id, 0)

    def count(self, book: TypeBook, type_id: int) -> TypeCount:
        entries = book.catalog.substitutes_for(book.key_of(type_id))
        others = [other for entry in entries if (other := book.id_of(entry.found)) is not None]
        free = [other for other in others if self.free(other) > 0]
        return TypeCount(
            type_id=type_id,
            designation=book.designation(type_id),
            on_hand=self.on_hand.get(type_id, 0),
            promised=self.promised.get(type_id, 0),
            free=self.free(type_id),
            par=self.pars.get(type_id),
            substitutes=sum(map(self.free, free)),
            substitute_names=tuple(map(book.designation, free)),
        )


def find_tag(shop: Shop, *, tag: str) -> int | None:
    """The tube with a tag as typed or scanned, wherever it is; ``None`` if there is none or it is no tag."""
    number = parse_tag(tag)
    if number is None:
        return None
    with shop.record.reading() as connection:
        return shelf.item_of_tag(connection, number)
