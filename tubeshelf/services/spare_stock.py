"""What lies on the shelf of a type, best first: read once, then kept up with what acts changed.

A dealer's shelf holds tens of thousands of one type, and a job is read again after every reading. The journal
says which tubes were touched since; only those are looked at again.
"""

from __future__ import annotations

from bisect import insort
from collections import Counter
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass
from threading import Lock
from typing import TYPE_CHECKING, Any

from sqlalchemy import Connection, Row

from tubeshelf.domain.fitting import Outcome
from tubeshelf.domain.jobs import Condition
from tubeshelf.domain.spares import Order, Spare, offered, order
from tubeshelf.services.spare_verdict import NEVER_READ, SpareVerdict, spare_verdicts
from tubeshelf.store.queries import shelf, touched

if TYPE_CHECKING:
    from tubeshelf.services.typebook import TypeBook

_CONDITIONS = {str(condition): condition for condition in Condition}


@dataclass(frozen=True, slots=True)
class Stocked:
    """A tube or lot on the shelf that may be offered, as a spare of the right type."""

    row: Row[Any]
    spare: Spare
    order: Order


Shelf = Sequence[Stocked]


@dataclass(frozen=True, slots=True)
class _Bin:
    """What was read of a type: what may be offered, best first; which items these are; which are in sets."""

    stocked: list[Stocked]
    ids: frozenset[int]
    in_sets: frozenset[int]


class Stock:
    """The shelf by types. A connection that sees an older moment than another did reads for itself.

    What was given out is never changed: a type of which something changed gets another list.
    """

    def __init__(self) -> None:
        self._of: dict[int, _Bin] = {}
        self._seen = 0
        self._turn = Lock()

    def of(self, connection: Connection, book: TypeBook, type_ids: Collection[int]) -> dict[int, Shelf]:
        """What lies on the shelf of these types and may be offered, best first."""
        with self._turn:
            now = touched.last_act(connection)
            if now < self._seen:
                return {type_id: _read(connection, book, type_id).stocked for type_id in type_ids}
            self._keep_up(connection, book, now)
            for type_id in type_ids:
                if type_id not in self._of:
                    self._of[type_id] = _read(connection, book, type_id)
            return {type_id: self._of[type_id].stocked for type_id in type_ids}

    def _keep_up(self, connection: Connection, book: TypeBook, now: int) -> None:
        if self._of and now > self._seen:
            changes = touched.since(connection, self._seen)
            if changes is None:
                self._of.clear()
            else:
                self._drop(changes.type_ids)
                self._look_again(connection, book, changes.item_ids)
        self._seen = now

    def _look_again(self, connection: Connection, book: TypeBook, item_ids: frozenset[int]) -> None:
        """Put tubes where they belong now; where a matched set changed, its type is read anew."""
        rows = shelf.spares_by_id(connection, item_ids)
        self._drop({row.type_id for row in rows if row.matched_set is not None})
        self._drop([type_id for type_id, kept in self._of.items() if kept.in_sets & item_ids])
        rows = [row for row in rows if row.type_id in self._of]
        fresh = list(_stocked(book, rows, spare_verdicts(connection, book, rows) if rows else {}))
        for type_id, kept in list(self._of.items()):
            new = [one for one in fresh if one.row.type_id == type_id]
            if new or kept.ids & item_ids:
                stocked = [one for one in kept.stocked if one.row.id not in item_ids]
                for one in new:
                    insort(stocked, one, key=lambda stocked: stocked.order)
                self._of[type_id] = _Bin(stocked, frozenset(one.row.id for one in stocked), kept.in_sets)

    def _drop(self, type_ids: Collection[int]) -> None:
        for type_id in type_ids:
            self._of.pop(type_id, None)


def _read(connection: Connection, book: TypeBook, type_id: int) -> _Bin:
    rows = shelf.spares_of_types(connection, [type_id])
    verdicts = spare_verdicts(connection, book, rows) if rows else {}
    stocked = sorted(_stocked(book, rows, verdicts), key=lambda one: one.order)
    in_sets = frozenset(row.id for row in rows if row.matched_set is not None)
    return _Bin(stocked, frozenset(one.row.id for one in stocked), in_sets)


def _stocked(
    book: TypeBook, rows: Sequence[Row[Any]], verdicts: dict[int, SpareVerdict]
) -> Iterable[Stocked]:
    sets = Counter(row.matched_set for row in rows if row.matched_set is not None)
    keys = {type_id: book.key_of(type_id) for type_id in {row.type_id for row in rows}}
    for row in rows:
        said = verdicts.get(row.id, NEVER_READ)
        spare = Spare(
            item_id=row.id,
            tag=row.tag,
            type_key=keys[row.type_id],
            bin=row.place_ref,
            outcome=Outcome.RIGHT_TYPE,
            word=said.verdict.word,
            sure=said.verdict.sure,
            readings=tuple([line.verdict.mean for line in said.lines]),
            readings_text=said.reads,
            tester=said.tester,
            margin=_margin(said),
            premium=row.premium,
            condition=_CONDITIONS.get(row.condition),
            price_minor=row.price,
            matched_set=row.matched_set,
            set_size=sets.get(row.matched_set),
            quantity=row.quantity,
        )
        if offered(spare):
            yield Stocked(row, spare, order(spare))


def _margin(said: SpareVerdict) -> float | None:
    """(reading − good_from)/good_from of the worst line that has a limit."""
    margins = [
        (line.verdict.mean - line.verdict.limit.good_from) / line.verdict.limit.good_from
        for line in said.lines
        if line.verdict.limit.good_from
    ]
    return min(margins, default=None)
