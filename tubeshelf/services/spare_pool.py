"""The spares that may serve the sockets of a job, ranked, and handed out so that none is named twice."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from heapq import merge
from itertools import chain, islice
from typing import TYPE_CHECKING, Any

from sqlalchemy import Connection, Row

from tubeshelf.domain.fit import judge_fit
from tubeshelf.domain.fitting import FitJudgement, Outcome, SocketFacts
from tubeshelf.domain.jobs import Action, Answer
from tubeshelf.domain.spares import FITS, best_set, order
from tubeshelf.domain.tags import format_tag
from tubeshelf.domain.written_facts import WrittenFacts
from tubeshelf.services.socket_facts import facts_of, written_of
from tubeshelf.services.spare_stock import Stocked
from tubeshelf.services.spare_verdict import SpareVerdict
from tubeshelf.services.views.bench import SocketView, SpareView
from tubeshelf.store.queries import shelf

if TYPE_CHECKING:
    from tubeshelf.services.shop import Shop

Want = tuple[int, int | None, WrittenFacts]
"""What a socket wants: its intended type, the heater circuit that feeds it, and what is written of it."""


@dataclass(frozen=True, slots=True)
class _Serves:
    """A type that may serve for another: its row id, how it fits, the grade of the entry that says so."""

    type_id: int
    outcome: Outcome
    grade: int


class SparePool:
    """The free spares of one job's sockets; what is handed out is gone for the next socket."""

    def __init__(self, shop: Shop, connection: Connection, job_id: int, rows: Iterable[Row[Any]]) -> None:
        self._shop = shop
        self._rows = {row.id: row for row in rows}
        self._wants: dict[int, Want] = {}
        self._fits: dict[tuple[Want, int], FitJudgement] = {}
        self._facts: dict[Want, SocketFacts] = {}
        self._job_id = job_id
        for row in self._rows.values():
            intended = row.designed_type_id if row.modified_type_id is None else row.modified_type_id
            want = (int(intended), row.heater_circuit_id, written_of(row))
            self._wants[row.id] = want
            if want not in self._facts:
                self._facts[want] = facts_of(shop, connection, row)
        self._serve = {want: self._serving(want) for want in self._facts}
        self._read_spares(connection)

    def _serving(self, want: Want) -> tuple[_Serves, ...]:
        """The types of which spares may be offered for what a socket wants."""
        book = self._shop.book
        key = book.key_of(want[0])
        grades = {entry.found: entry.grade for entry in book.catalog.substitutes_for(key)}
        known = {book.id_of(name): grade for name, grade in (*grades.items(), (key, 0))}
        fits = [
            (type_id, self._fit(want, type_id).outcome, grade) for type_id, grade in known.items() if type_id
        ]
        return tuple(_Serves(*fit) for fit in fits if fit[1] in FITS)

    def _read_spares(self, connection: Connection) -> None:
        book = self._shop.book
        type_ids = {serves.type_id for serving in self._serve.values() for serves in serving}
        self._shelf = book.stock.of(connection, book, type_ids)
        self._taken: dict[int, int] = defaultdict(int)
        self._kept_for: dict[int, int] = {}
        for promise in shelf.promises(connection):
            if promise.job_id != self._job_id:
                self._taken[promise.item_id] += promise.quantity
            elif promise.job_socket_id is not None:
                self._kept_for[promise.job_socket_id] = promise.item_id

    def fitted(self, socket_id: int, row: Row[Any], said: SpareVerdict) -> SpareView:
        """The tube that the job put into a socket, with its fit there."""
        fit = None if row.type_id is None else self._fit(self._wants[socket_id], row.type_id)
        return tube_view(self._shop, row, said, fit)

    def ranked(self, socket_id: int, most: int | None = None) -> tuple[SpareView, ...]:
        """The spares (at most so many) that may serve a socket, best first; one promised to it before all."""
        return tuple(self._view(one, socket_id) for one in islice(self._best(socket_id), most))

    def count(self, socket_id: int) -> int:
        """How many spares, or lots of them, may serve a socket."""
        shelves = [self._shelf[serves.type_id] for serves in self._serve[self._wants[socket_id]]]
        elsewhere = {item for socket, item in self._kept_for.items() if socket != socket_id}
        asked = elsewhere | self._taken.keys()
        gone = [
            one
            for one in (chain(*shelves) if asked else ())
            if one.row.id in asked
            and (one.row.id in elsewhere or self._taken.get(one.row.id, 0) >= one.row.quantity)
        ]
        return sum(map(len, shelves)) - len(gone)

    def _best(self, socket_id: int) -> Iterator[Stocked]:
        """What may serve a socket, best first, as long as it is asked for."""
        kept = self._kept_for.get(socket_id)
        first = [one for one in self._free(socket_id) if one.row.id == kept] if kept is not None else []
        return chain(first, (one for one in self._free(socket_id) if one.row.id != kept))

    def _free(self, socket_id: int) -> Iterator[Stocked]:
        """The stock of every type that serves, merged in order, without what is promised or handed out."""
        elsewhere = {item for socket, item in self._kept_for.items() if socket != socket_id}
        shelves = [self._seen_as(serves) for serves in self._serve[self._wants[socket_id]]]
        for one in merge(*shelves, key=lambda stocked: stocked.order):
            left = one.row.quantity - self._taken.get(one.row.id, 0)
            if left > 0 and one.row.id not in elsewhere:
                yield one if left == one.row.quantity else _with(one, quantity=left)

    def _seen_as(self, serves: _Serves) -> Iterator[Stocked]:
        """The stock of a type as it serves: of the right type it is as it stands."""
        stocked = self._shelf[serves.type_id]
        if serves.outcome is Outcome.RIGHT_TYPE and serves.grade == 0:
            return iter(stocked)
        return (_with(one, outcome=serves.outcome, grade=serves.grade) for one in stocked)

    def _fit(self, want: Want, type_id: int) -> FitJudgement:
        if (want, type_id) not in self._fits:
            book = self._shop.book
            names = book.designation(want[0]), book.designation(type_id)
            self._fits[want, type_id] = judge_fit(book.catalog, *names, self._facts[want])
        return self._fits[want, type_id]

    def _view(self, stocked: Stocked, socket_id: int) -> SpareView:
        row, spare = stocked.row, stocked.spare
        fit = self._fit(self._wants[socket_id], row.type_id)
        return SpareView(
            item_id=spare.item_id,
            tag="" if spare.tag is None else format_tag(spare.tag),
            designation=self._shop.book.designation(row.type_id),
            bin=spare.bin,
            reads=spare.readings_text,
            verdict=spare.word,
            sure=spare.sure,
            condition=row.condition,
            price=row.price,
            quantity=spare.quantity,
            matched_set=spare.matched_set,
            premium=spare.premium,
            outcome=fit.outcome,
            conditions=fit.conditions,
            here=self._kept_for.get(socket_id) == spare.item_id,
        )

    def hand_out(self, sockets: Sequence[SocketView]) -> tuple[SocketView, ...]:
        """The sockets with the spare named that each should get: match groups first, whole where possible."""
        given: dict[int, SpareView] = {}
        waiting = [socket for socket in sockets if wants_spare(socket)]
        groups: dict[str, list[SocketView]] = defaultdict(list)
        for socket in waiting:
            if socket.match_group and socket.id not in self._kept_for:
                groups[socket.match_group].append(socket)
        for members in groups.values():
            if len(members) > 1:
                self._give_set(members, given)
        for socket in sorted(
            waiting, key=lambda s: (s.action is not Action.REPLACE, s.id not in self._kept_for)
        ):
            if socket.id not in given and (ranked := self.ranked(socket.id, most=1)):
                given[socket.id] = ranked[0]
                self._taken[ranked[0].item_id] += 1
        return tuple(replace(s, spare=given.get(s.id)) for s in sockets)

    def _give_set(self, members: list[SocketView], given: dict[int, SpareView]) -> None:
        free = {one.row.id: one for one in self._free(members[0].id) if one.spare.tested}
        chosen = best_set((one.spare for one in free.values()), len(members))
        if chosen is None:
            return
        for socket, spare in zip(members, chosen.spares, strict=True):
            given[socket.id] = self._view(free[spare.item_id], socket.id)
            self._taken[spare.item_id] += 1


def wants_spare(socket: SocketView) -> bool:
    """Whether a spare should be named: the tube goes or may go, nobody declined, nothing is put in yet."""
    open_question = socket.action in (Action.REPLACE, Action.UNDECIDED) and socket.fitted is None
    return open_question and socket.answer is not Answer.DECLINED and socket.disposition is None


def _with(stocked: Stocked, **facts: Any) -> Stocked:
    spare = replace(stocked.spare, **facts)
    return Stocked(stocked.row, spare, order(spare))


def tube_view(shop: Shop, row: Row[Any], said: SpareVerdict, fit: FitJudgement | None = None) -> SpareView:
    """A tube that stands or stood in a socket, as it read last, with its fit there where that is asked."""
    return SpareView(
        item_id=row.id,
        tag="" if row.tag is None else format_tag(row.tag),
        designation=shop.book.designation(row.type_id),
        bin="",
        reads=said.reads,
        verdict=said.verdict.word,
        sure=said.verdict.sure,
        condition=row.condition,
        price=row.price,
        quantity=1,
        matched_set=row.matched_set,
        premium=row.premium,
        outcome=Outcome.RIGHT_TYPE if fit is None else fit.outcome,
        conditions=() if fit is None else fit.conditions,
    )
