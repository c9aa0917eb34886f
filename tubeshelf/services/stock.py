"""The free spares of the whole shelf by type, to be handed out to the open jobs one after the other."""

from __future__ import annotations

from collections import Counter, defaultdict
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from sqlalchemy import Connection, Row

from tubeshelf.domain.fitting import Outcome
from tubeshelf.domain.jobs import Condition
from tubeshelf.domain.spares import Spare, best_set, rank
from tubeshelf.services.spare_verdict import NEVER_READ, SpareVerdict, spare_verdicts
from tubeshelf.store.queries import shelf

if TYPE_CHECKING:
    from tubeshelf.services.typebook import TypeBook


class Stock:
    """Spares that may serve: good, or unread and not claimed to be bad; best first, with how many are free.

    ``kept`` are those promised to a job but to none of its sockets, by job.
    """

    def __init__(self, free: dict[int, list[Spare]], kept: dict[tuple[int, int], int]) -> None:
        self._free = free
        self._kept = kept

    def free(self, type_id: int) -> int:
        """How many of a type may serve and are promised to nobody."""
        return sum(spare.quantity for spare in self._free.get(type_id, ()))

    def serve(self, book: TypeBook, type_id: int, quantity: int, job_id: int) -> bool:
        """Hand out so many of a type (or of one that is as good) for a job: all of them, or none."""
        kept = min(quantity, self._kept.get((job_id, type_id), 0))
        left = quantity - kept
        if left == 0 or self._take(type_id, left) or self._take_as_good(book, type_id, left):
            if kept:
                self._kept[job_id, type_id] -= kept
            return True
        return False

    def _take_as_good(self, book: TypeBook, type_id: int, quantity: int) -> bool:
        entries = book.catalog.substitutes_for(book.key_of(type_id))
        others = (book.id_of(entry.found) for entry in entries if entry.grade == 1)
        return any(other is not None and self._take(other, quantity) for other in others)

    def _take(self, type_id: int, quantity: int) -> bool:
        if self.free(type_id) < quantity:
            return False
        spares = self._free[type_id]
        chosen = best_set(spares, quantity) if quantity > 1 else None
        taken = (
            Counter({spare.item_id: 1 for spare in chosen.spares}) if chosen is not None else Counter[int]()
        )
        for spare in spares if chosen is None else ():
            taken[spare.item_id] = min(spare.quantity, quantity - taken.total())
        left = (replace(spare, quantity=spare.quantity - taken[spare.item_id]) for spare in spares)
        self._free[type_id] = [spare for spare in left if spare.quantity > 0]
        return True


def read_stock(connection: Connection, book: TypeBook) -> Stock:
    """Everything on the shelf that may serve, less what is promised."""
    items = shelf.find_items(connection, ())
    verdicts = spare_verdicts(connection, book, items)
    types = {row.id: row.type_id for row in items}
    promised: Counter[int] = Counter()
    kept: dict[tuple[int, int], int] = defaultdict(int)
    for row in shelf.promises(connection):
        promised[row.item_id] += row.quantity
        if row.job_socket_id is None and types.get(row.item_id) is not None:
            kept[row.job_id, types[row.item_id]] += row.quantity
    sets = Counter(row.matched_set for row in items if row.matched_set is not None)
    free: dict[int, list[Spare]] = {}
    for row in items:
        if row.type_id is not None and row.place == "shelf" and row.quantity > promised[row.id]:
            spare = _spare(book, row, verdicts.get(row.id, NEVER_READ), row.quantity - promised[row.id])
            size = None if row.matched_set is None else sets[row.matched_set]
            free.setdefault(row.type_id, []).append(replace(spare, set_size=size))
    return Stock({type_id: list(rank(spares)) for type_id, spares in free.items()}, kept)


def _spare(book: TypeBook, row: Row[Any], said: SpareVerdict, quantity: int) -> Spare:
    return Spare(
        item_id=row.id,
        tag=row.tag,
        type_key=book.key_of(row.type_id),
        bin=row.place_ref,
        outcome=Outcome.RIGHT_TYPE,
        word=said.verdict.word,
        sure=said.verdict.sure,
        readings=tuple(line.verdict.mean for line in said.lines),
        tester=said.tester,
        premium=row.premium,
        condition=Condition(row.condition) if row.condition in list(Condition) else None,
        price_minor=row.price,
        matched_set=row.matched_set,
        quantity=quantity,
    )
