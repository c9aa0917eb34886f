"""The demo's decisions: what the technician says of a socket, what the customer answers, what is promised."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from tubeshelf.domain.jobs import Action, Answer
from tubeshelf.services.answers import set_answer
from tubeshelf.services.bench import set_action
from tubeshelf.services.jobs import open_job
from tubeshelf.services.spares import promise

if TYPE_CHECKING:
    from tubeshelf.services.shop import Shop
    from tubeshelf.store.tablefile import Row


def decide(shop: Shop, job_id: int, sockets: Mapping[str, int], findings: Sequence[Row], how: str) -> None:
    """Say what is to be done, take the answers that the customer gave that way, promise the spares named."""
    for row in findings:
        socket_id = sockets[row.need("position")]
        if row.text("action"):
            set_action(shop, socket_id=socket_id, action=Action(row.text("action")), why=row.text("why"))
        if row.text("answer"):
            set_answer(shop, socket_id=socket_id, answer=Answer(row.text("answer")), how=how)
    promised = [row.need("position") for row in findings if row.text("done") == "promise"]
    for position, item_id in named_spares(shop, job_id, promised).items():
        promise(shop, item_id=item_id, socket_id=sockets[position])


def named_spares(shop: Shop, job_id: int, positions: Sequence[str]) -> dict[str, int]:
    """The spare that the program names for each of these sockets; LookupError where it names none."""
    if not positions:
        return {}
    spares = {s.position: s.spare for s in open_job(shop, job_id=job_id).sockets}
    named = {position: spare.item_id for position in positions if (spare := spares[position]) is not None}
    if len(named) < len(positions):
        raise LookupError(f"nothing on the shelf for {', '.join(p for p in positions if p not in named)}")
    return named
