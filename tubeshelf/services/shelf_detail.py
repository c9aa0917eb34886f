"""One tube or lot with its type's counts, its last readings and what happened to it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime, timedelta
from typing import TYPE_CHECKING, Any

from sqlalchemy import Connection, Row

from tubeshelf.domain.judging import Mark, Observation
from tubeshelf.domain.numbers import format_number
from tubeshelf.domain.places import Place
from tubeshelf.domain.tags import format_tag
from tubeshelf.domain.verdict_words import mark_text, merit_word
from tubeshelf.services.movements import item_row
from tubeshelf.services.shelf_search import item_view, promises_by_item, read_type_count
from tubeshelf.services.spare_verdict import NEVER_READ, spare_verdicts
from tubeshelf.services.views.shelf import EventView, ItemDetail
from tubeshelf.store.queries import timeline

if TYPE_CHECKING:
    from tubeshelf.services.shop import Shop

ONE_SITTING = timedelta(hours=1)
"""Readings on one tester that follow each other within this time are told as one event."""


def item_detail(shop: Shop, *, item_id: int) -> ItemDetail:
    """A tube or lot, wherever it is, with its time line, oldest first; UserError if it is gone."""
    with shop.record.reading() as connection:
        row = item_row(connection, item_id)
        spoken = spare_verdicts(connection, shop.book, [row]).get(item_id, NEVER_READ)
        promises = promises_by_item(connection, [item_id]).get(item_id, ())
        count = None
        if shop.book.type(row.type_id) is not None:
            count = read_type_count(connection, shop.book, row.type_id)
        events = sorted(_events(connection, row), key=lambda event: event.at)
    view = item_view(shop.book, row, spoken, promises)
    return ItemDetail(item=view, count=count, readings=spoken.lines, events=tuple(events))


def _events(connection: Connection, item: Row[Any]) -> Iterator[EventView]:
    moved = timeline.movements(connection, item.id)
    words = _Places(connection, moved)
    for row in moved:
        yield EventView(row.at, words.say(row, item.lot), taken_back=row.ended_by is not None)
    yield from _promises(connection, item.id, {row.begun_by for row in moved})
    yield from _readings(timeline.readings(connection, item.id))
    for row in timeline.observations(connection, item.id):
        seen = Observation(Mark(row.mark), row.is_fault, row.value, row.unit, row.pins)
        yield EventView(row.at, mark_text(seen), taken_back=row.ended_by is not None)


def _promises(connection: Connection, item_id: int, moving_acts: set[int]) -> Iterator[EventView]:
    """Promises given, and released without the tube going anywhere (a movement tells the rest)."""
    for row in timeline.promises(connection, item_id):
        many = f"{row.quantity} " if row.quantity > 1 else ""
        yield EventView(row.at, f"{many}promised to job {row.number}", taken_back=row.reverses is not None)
        if row.ended_by is not None and row.reverses is None and row.ended_by not in moving_acts:
            yield EventView(row.ended_at, f"{many}no longer kept for job {row.number}")


def _readings(rows: Sequence[Row[Any]]) -> Iterator[EventView]:
    """Readings of one sitting as one event; a struck one by itself."""
    sitting: list[Row[Any]] = []
    for row in rows:
        if row.ended_by is not None:
            yield _read([row], taken_back=True)
            continue
        if sitting and not _same_sitting(sitting[-1], row):
            yield _read(sitting)
            sitting = []
        sitting.append(row)
    if sitting:
        yield _read(sitting)


def _same_sitting(one: Row[Any], other: Row[Any]) -> bool:
    near = other.at - one.at <= ONE_SITTING
    return bool((one.tester_id, one.stage) == (other.tester_id, other.stage) and near)


def _read(rows: Sequence[Row[Any]], taken_back: bool = False) -> EventView:
    at: datetime = rows[0].at
    values = " · ".join(merit_word(r.value, r.words) if r.words else format_number(r.value) for r in rows)
    return EventView(at, f"read {values} on {rows[0].tester}, {rows[0].stage}", taken_back)


class _Places:
    """Places of movements in words."""

    def __init__(self, connection: Connection, movements: Sequence[Row[Any]]) -> None:
        ends = [(row.from_place, row.from_ref) for row in movements]
        ends += [(row.to_place, row.to_ref) for row in movements]
        sockets = [int(ref) for place, ref in ends if place == Place.SOCKET and ref.isdigit()]
        items = [int(ref) for place, ref in ends if place == Place.LOT and ref.isdigit()]
        self._sockets = {str(row.id): row for row in timeline.sockets(connection, sockets)}
        self._tags = {str(item_id): tag for item_id, tag in timeline.tags(connection, items).items()}

    def say(self, row: Row[Any], lot: bool) -> str:
        """A movement as an event: ``moved C3 → C2``."""
        text = self._moved(row)
        return f"{row.quantity} {text}" if lot else text

    def _moved(self, row: Row[Any]) -> str:
        start, end = Place(row.from_place), Place(row.to_place)
        because = f": {row.reason}" if row.reason else ""
        match start, end:
            case ((Place.SHELF | Place.REFERENCE), (Place.SHELF | Place.REFERENCE)):
                kept = ", kept as a reference" if end is Place.REFERENCE is not start else ""
                return f"moved {row.from_ref} → {row.to_ref}{kept}"
            case Place.LOT, _:
                return f"taken out of a lot, in {row.to_ref}"
            case _, Place.LOT:
                tag = self._tags.get(row.to_ref)
                return "taken out of the lot" + ("" if tag is None else f" as {format_tag(tag)}")
            case Place.OUTSIDE, (Place.SHELF | Place.REFERENCE):
                return f"{row.reason or 'received'} in {row.to_ref}"
            case _, Place.SOCKET:
                return f"{self._put_in(start)} {self._socket(row.to_ref)}"
            case _, (Place.SHELF | Place.REFERENCE):
                return f"back on the shelf in {row.to_ref}{because}"
            case _, Place.BAG:
                return f"in the bag of job {row.to_ref}{because}"
            case _, Place.SCRAP:
                return f"scrapped{because}"
            case _, Place.SOLD:
                return "sold" if row.reason in ("", "sold") else f"sold{because}"
            case _, Place.CUSTOMER:
                return "given back to its owner"
            case _:
                return row.reason or "gone"

    def _put_in(self, start: Place) -> str:
        return "found in" if start is Place.OUTSIDE else "installed in"

    def _socket(self, ref: str) -> str:
        row = self._sockets.get(ref)
        if row is None:
            return "a socket"
        unit = " ".join(filter(None, (row.maker, row.name)))
        return f"{row.position}, {unit}" + (f" ({row.serial})" if row.serial else "")
