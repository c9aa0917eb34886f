"""What the customer said of each socket: agreed, declined or ask again, when and how."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import TYPE_CHECKING

from sqlalchemy import Connection, select

from tubeshelf.domain.errors import UserError
from tubeshelf.domain.jobs import Answer
from tubeshelf.services.changes import Changes, Kind
from tubeshelf.services.socket_facts import open_socket
from tubeshelf.store.tables import Answer as AnswerRow
from tubeshelf.store.tables import JobSocket

if TYPE_CHECKING:
    from tubeshelf.services.shop import Shop


def set_answer(
    shop: Shop,
    *,
    socket_id: int,
    answer: Answer | None,
    how: str | None = None,
    on: date | None = None,
    origin: str = "",
) -> tuple[None, Changes]:
    """The customer's answer for one socket, as ``set_answers`` takes it."""
    return set_answers(shop, socket_ids=(socket_id,), answer=answer, how=how, on=on, origin=origin)


def set_answers(
    shop: Shop,
    *,
    socket_ids: Sequence[int],
    answer: Answer | None,
    how: str | None = None,
    on: date | None = None,
    origin: str = "",
) -> tuple[None, Changes]:
    """One answer for several sockets of a job, such as a match group; ``None`` takes the answers away.

    Without ``how`` it was given the way that this job's last answer was, without ``on`` today.
    """
    if not socket_ids:
        raise UserError("No socket of this job waits for an answer.")
    with shop.record.act("answer") as journal:
        connection = journal.connection
        sockets = [open_socket(connection, socket_id) for socket_id in socket_ids]
        way = _last_way(connection, sockets[0].job_id) if how is None else " ".join(how.split())
        live = select(AnswerRow.id).where(
            AnswerRow.job_socket_id.in_(socket_ids), AnswerRow.ended_by.is_(None)
        )
        for old in connection.scalars(live).all():
            journal.end(AnswerRow, old)
        for socket in sockets if answer is not None else ():
            journal.insert(
                AnswerRow, job_socket_id=socket.id, answer=str(answer), how=way, on=on or shop.today
            )
        words = "no answer yet" if answer is None else str(answer)
        positions = ", ".join(socket.position for socket in sockets)
        journal.said = f"{positions} of job {sockets[0].number}: {words}"
        things = frozenset({(Kind.JOB, sockets[0].job_id)})
        return None, Changes(journal.act_id, journal.said, things, origin)


def way_used_last(shop: Shop, *, job_id: int) -> str:
    """How the last answer of a job was given, such as ``by telephone``; else the last one of any job."""
    with shop.record.reading() as connection:
        return _last_way(connection, job_id) or _last_way(connection)


def _last_way(connection: Connection, job_id: int | None = None) -> str:
    query = select(AnswerRow.how).where(AnswerRow.ended_by.is_(None), AnswerRow.how != "")
    if job_id is not None:
        query = query.join(JobSocket, JobSocket.id == AnswerRow.job_socket_id)
        query = query.where(JobSocket.job_id == job_id)
    return connection.scalar(query.order_by(AnswerRow.id.desc()).limit(1)) or ""
