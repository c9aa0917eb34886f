"""What the work comes to, who agreed to it, and up to how much."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import TYPE_CHECKING, Any

from sqlalchemy import Connection, Row, select

from tubeshelf.domain.errors import UserError
from tubeshelf.domain.jobs import Action, Answer, JobStatus
from tubeshelf.services.amounts import not_negative
from tubeshelf.services.changes import Changes, Kind
from tubeshelf.services.views.bench import ApprovalView, EstimateView, SocketView
from tubeshelf.store.queries import bench
from tubeshelf.store.queries.fetch import all_rows
from tubeshelf.store.tables import Approval, Job

if TYPE_CHECKING:
    from tubeshelf.services.shop import Shop


def approve(
    shop: Shop,
    *,
    job_id: int,
    who: str,
    on: date,
    how: str,
    ceiling: int | None,
    note: str = "",
    origin: str = "",
) -> tuple[None, Changes]:
    """Keep who approved the estimate, when, how, and up to how much in minor units."""
    if not who.strip():
        raise UserError("Type who approved the estimate.")
    not_negative("agreed sum", ceiling)
    with shop.record.act("approval") as journal:
        row = _job(journal.connection, job_id)
        journal.insert(
            Approval,
            job_id=job_id,
            who=who.strip(),
            on=on,
            how=how.strip(),
            ceiling=ceiling,
            note=note.strip(),
        )
        journal.said = f"Estimate of job {row.number} approved by {who.strip()}"
        return None, Changes(journal.act_id, journal.said, frozenset({(Kind.JOB, job_id)}), origin)


def set_labour(shop: Shop, *, job_id: int, minor: int, origin: str = "") -> tuple[None, Changes]:
    """Set the one labour figure of a job, in minor units."""
    not_negative("labour", minor)
    return _change(shop, job_id, "labour", {"labour": minor}, "labour set", origin)


def set_status(shop: Shop, *, job_id: int, status: JobStatus, origin: str = "") -> tuple[None, Changes]:
    """Say where a job stands; finished and handed back close it today, with what the shop promises today."""
    settings = shop.settings
    values = {
        "status": str(status),
        "closed_on": None if status.is_open else shop.today,
        "warranty": None if status.is_open else settings.warranty,
        "warranty_days": None if status.is_open else settings.warranty_days,
    }
    return _change(shop, job_id, "status", values, str(status), origin)


def _job(connection: Connection, job_id: int) -> Row[Any]:
    row = bench.job_row(connection, job_id=job_id)
    if row is None:
        raise UserError("That job is gone; reload the page.")
    return row


def _change(
    shop: Shop, job_id: int, kind: str, values: dict[str, Any], words: str, origin: str
) -> tuple[None, Changes]:
    with shop.record.act(kind) as journal:
        row = _job(journal.connection, job_id)
        journal.update(Job, job_id, **values)
        journal.said = f"Job {row.number}: {words}"
        return None, Changes(journal.act_id, journal.said, frozenset({(Kind.JOB, job_id)}), origin)


def approval_of(connection: Connection, job_id: int) -> ApprovalView | None:
    """The latest approval of a job's estimate."""
    query = select(Approval.__table__).where(Approval.job_id == job_id, Approval.ended_by.is_(None))
    rows = all_rows(connection, query.order_by(Approval.id.desc()).limit(1))
    if not rows:
        return None
    row = rows[0]
    return ApprovalView(row.who, row.on, row.how, row.ceiling, row.note)


def estimate(
    sockets: Sequence[SocketView], *, labour: int, approval: ApprovalView | None, closed: bool = False
) -> EstimateView:
    """The sum of the tubes put in, and (until the job is closed) of those still to be, and the labour."""
    prices = [price_of(socket) for socket in sockets if gets_tube(socket, closed=closed)]
    tubes = sum(price for price in prices if price is not None)
    return EstimateView(
        tubes=tubes,
        labour=labour,
        total=tubes + labour,
        unpriced=sum(price is None for price in prices),
        declined=tuple(s.position for s in sockets if s.answer is Answer.DECLINED),
        approval=approval,
    )


def gets_tube(socket: SocketView, *, closed: bool) -> bool:
    """Whether a socket got a new tube, or is to get one that nobody declined; a closed job gets no more."""
    if socket.fitted is not None:
        return True
    wanted = socket.action is Action.REPLACE and socket.disposition is None
    return wanted and socket.answer is not Answer.DECLINED and not closed


def price_of(socket: SocketView) -> int | None:
    """What the tube for a socket costs, in minor units; ``None`` where no spare has a price."""
    tube = socket.fitted or socket.spare
    return None if tube is None else tube.price
