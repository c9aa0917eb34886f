"""The spares that may serve the sockets of a job, ranked, and handed out so that none is named twice."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from sqlalchemy import Connection, Row

from tubeshelf.domain.fit import judge_fit
from tubeshelf.domain.fitting import FitJudgement, Outcome, SocketFacts
from tubeshelf.domain.jobs import Action, Answer, Condition
from tubeshelf.domain.spares import Spare, best_set, rank
from tubeshelf.domain.tags import format_tag
from tubeshelf.domain.written_facts import WrittenFacts
from tubeshelf.services.socket_facts import facts_of, written_of
from tubeshelf.services.spare_verdict import NEVER_READ, SpareVerdict, spare_verdicts
from tubeshelf.services.views.bench import SocketView, SpareView
from tubeshelf.store.queries import shelf

if TYPE_CHECKING:
    from tubeshelf.services.shop import Shop

Want = tuple[int, int | None, WrittenFacts]
"""What a socket wants: its intended type, the heater circuit that feeds it, and what is written of it."""


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
        self._read_spares(connection)

    def _read_spares(self, connection: Connection) -> None:
        book = self._shop.book
        type_ids: set[int] = set()
        for intended, *_ in self._facts:
            key = book.key_of(intended)
            names = [key, *(entry.found for entry in book.catalog.substitutes_for(key))]
            type_ids |= {found for name in names if (found := book.id_of(name)) is not None}
        items = shelf.spares_of_types(connection, type_ids)
        self._items = {row.id: row for row in items}
        self._verdicts = spare_verdicts(connection, book, items)
        self._left = {row.id: row.quantity for row in items}
        self._kept_for: dict[int, int] = {}
        for promise in shelf.promises(connection, list(self._items)) if items else ():
            if promise.job_id == self._job_id and promise.job_socket_id is not None:
                self._kept_for[promise.job_socket_id] = promise.item_id
            if promise.job_id != self._job_id:
                self._left[promise.item_id] -= promise.quantity
        self._sets: dict[int, int] = defaultdict(int)
        for row in items:
            if row.matched_set is not None:
                self._sets[row.matched_set] += 1

    def fitted(self, socket_id: int, row: Row[Any], said: SpareVerdict) -> SpareView:
        """The tube that the job put into a socket, with its fit there."""
        fit = None if row.type_id is None else self._fit(self._wants[socket_id], row.type_id)
        return tube_view(self._shop, row, said, fit)

    def ranked(self, socket_id: int) -> tuple[SpareView, ...]:
        """The spares that may serve a socket, best first; one promised to it before all."""
        kept = self._kept_for.get(socket_id)
        views = [self._view(spare, socket_id) for spare in rank(self._spares(socket_id))]
        return tuple(sorted(views, key=lambda view: view.item_id != kept))

    def _spares(self, socket_id: int) -> list[Spare]:
        spares = []
        kept_elsewhere = {item for socket, item in self._kept_for.items() if socket != socket_id}
        for row in self._items.values():
            if self._left[row.id] > 0 and row.id not in kept_elsewhere:
                spares.append(self._spare(row, socket_id))
        return spares

    def _fit(self, want: Want, type_id: int) -> FitJudgement:
        if (want, type_id) not in self._fits:
            book = self._shop.book
            names = book.designation(want[0]), book.designation(type_id)
            self._fits[want, type_id] = judge_fit(book.catalog, *names, self._facts[want])
        return self._fits[want, type_id]

    def _spare(self, row: Row[Any], socket_id: int) -> Spare:
        want = self._wants[socket_id]
        book = self._shop.book
        said = self._verdicts.get(row.id, NEVER_READ)
        key = book.key_of(row.type_id)
        entry = book.catalog.substitute(book.key_of(want[0]), key)
        return Spare(
            item_id=row.id,
            tag=row.tag,
            type_key=key,
            bin=row.place_ref,
            outcome=self._fit(want, row.type_id).outcome,
            word=said.verdict.word,
            sure=said.verdict.sure,
            readings=tuple(line.verdict.mean for line in said.lines),
            readings_text=said.reads,
            tester=said.tester,
            margin=_margin(said),
            premium=row.premium,
            condition=Condition(row.condition) if row.condition in set(Condition) else None,
            price_minor=row.price,
            matched_set=row.matched_set,
            set_size=self._sets.get(row.matched_set),
            quantity=self._left[row.id],
            grade=0 if entry is None else entry.grade,
        )

    def _view(self, spare: Spare, socket_id: int) -> SpareView:
        row = self._items[spare.item_id]
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
            if socket.id not in given and (ranked := self.ranked(socket.id)):
                given[socket.id] = ranked[0]
                self._left[ranked[0].item_id] -= 1
        return tuple(replace(s, spare=given.get(s.id)) for s in sockets)

    def _give_set(self, members: list[SocketView], given: dict[int, SpareView]) -> None:
        chosen = best_set(self._spares(members[0].id), len(members))
        if chosen is None:
            return
        for socket, spare in zip(members, chosen.spares, strict=True):
            given[socket.id] = self._view(spare, socket.id)
            self._left[spare.item_id] -= 1


def wants_spare(socket: SocketView) -> bool:
    """Whether a spare should be named: the tube goes or may go, nobody declined, nothing is put in yet."""
    open_question = socket.action in (Action.REPLACE, Action.UNDECIDED) and socket.fitted is None
    return open_question and socket.answer is not Answer.DECLINED and socket.disposition is None


def _margin(said: SpareVerdict) -> float | None:
    """(reading − good_from)/good_from of the worst line that has a limit."""
    margins = [
        (line.verdict.mean - line.verdict.limit.good_from) / line.verdict.limit.good_from
        for line in said.lines
        if line.verdict.limit.good_from
    ]
    return min(margins, default=None)


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
