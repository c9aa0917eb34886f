"""What may go into a socket, and how many of each lie on the shelf."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from tubeshelf.domain.errors import UserError
from tubeshelf.domain.fitting import Circuit, Outcome, SocketFacts
from tubeshelf.domain.ranking import Candidate, Standing, what_may_go
from tubeshelf.domain.words import say
from tubeshelf.services.socket_facts import facts_of, intended_id, socket_row
from tubeshelf.store.queries import shelf

if TYPE_CHECKING:
    from tubeshelf.services.shop import Shop


@dataclass(frozen=True, slots=True)
class MayGoRow:
    """A type that may go there: how it stands, what to mind or to check, and how many are on the shelf."""

    type_id: int
    designation: str
    standing: Standing
    outcome: Outcome
    said: tuple[str, ...]
    on_hand: int
    free: int


@dataclass(frozen=True, slots=True)
class MayGo:
    """What may go into one socket, best first; ``where`` names the socket and what it is meant for."""

    where: str
    rows: tuple[MayGoRow, ...]


def may_go_here(shop: Shop, *, socket_id: int) -> MayGo:
    """What may go into a job's socket, by all that is known of it; UserError if the job has none such."""
    with shop.record.reading() as connection:
        socket = socket_row(connection, socket_id)
        facts = facts_of(shop, connection, socket)
    where = f"{socket.position}, meant for {shop.book.designation(intended_id(socket))}"
    return _may_go(shop, intended_id(socket), facts, where)


def may_go_for(shop: Shop, *, type_id: int, circuit: Circuit = Circuit.PARALLEL) -> MayGo:
    """What may go where a type belongs, nothing else being known of the socket."""
    where = f"a socket for {shop.book.designation(type_id)}"
    return _may_go(shop, type_id, SocketFacts(circuit=circuit), where)


def _may_go(shop: Shop, type_id: int, facts: SocketFacts, where: str) -> MayGo:
    intended = shop.book.type(type_id)
    if intended is None:
        raise UserError("That type is gone from the table; reload the page.")
    with shop.record.reading() as connection:
        on_hand, promised = shelf.on_hand(connection), shelf.promised(connection)
    rows = []
    for candidate in what_may_go(shop.book.catalog, intended, facts):
        found = shop.book.id_of(candidate.tube.key)
        if found is not None:
            here = on_hand.get(found, 0)
            rows.append(_row(found, candidate, here, here - promised.get(found, 0)))
    return MayGo(where, tuple(rows))


def _row(type_id: int, candidate: Candidate, on_hand: int, free: int) -> MayGoRow:
    judgement = candidate.judgement
    differs = judgement.outcome is Outcome.WRONG_TYPE
    reasons = [say(reason) for reason in judgement.reasons] if differs else []
    # The first condition of an unlisted type says in a sentence what the standing says in a word.
    conditions = judgement.conditions[1:] if candidate.standing is Standing.COMPARE else judgement.conditions
    return MayGoRow(
        type_id=type_id,
        designation=candidate.tube.designation,
        standing=candidate.standing,
        outcome=judgement.outcome,
        said=tuple(dict.fromkeys((*reasons, *conditions))),
        on_hand=on_hand,
        free=free,
    )
