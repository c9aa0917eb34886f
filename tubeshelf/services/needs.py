"""What the open jobs still need: each socket to be replaced that has no tube and no promise yet."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from tubeshelf.domain.jobs import Action, Answer
from tubeshelf.services.jobs import open_jobs_with_sockets

if TYPE_CHECKING:
    from tubeshelf.services.shop import Shop


@dataclass(frozen=True, slots=True)
class Need:
    """One socket that wants a tube. ``promised`` says that a spare is kept for it already."""

    job_id: int
    number: int
    due: date | None
    type_id: int
    position: str
    match_group: str
    promised: bool


def open_needs(shop: Shop) -> tuple[Need, ...]:
    """The needs of all open jobs, by promised date and then by job number and socket order.

    Into a box of loose tubes nothing goes, so it needs nothing.
    """
    needs = [
        Need(
            job_id=head.id,
            number=head.number,
            due=head.promised_on,
            type_id=socket.intended_type_id,
            position=socket.position,
            match_group=socket.match_group,
            promised=socket.spare is not None and socket.spare.here,
        )
        for head, sockets in open_jobs_with_sockets(shop)
        for socket in sockets
        if not head.loose
        and socket.action is Action.REPLACE
        and socket.fitted is None
        and socket.disposition is None
        and socket.answer is not Answer.DECLINED
    ]
    return tuple(sorted(needs, key=lambda need: (need.due is None, need.due or date.max, need.number)))
