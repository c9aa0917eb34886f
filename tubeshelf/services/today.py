"""What today's limits would say of tubes that were read before, in sockets and money; nothing is written.

A verdict keeps the limits that it was given with. "Today" is the limit that holds now for its setting line
(or the tester's default rule) and what is known now of how well the tester repeats. What spares read keeps
its own verdict: only the sockets of the jobs are judged afresh.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from sqlalchemy import Connection, Row

from tubeshelf.domain.errors import UserError
from tubeshelf.domain.jobs import JobStatus
from tubeshelf.domain.judging import LineVerdict, Stage, TubeVerdict
from tubeshelf.services.decide import approval_of, estimate
from tubeshelf.services.jobdata import JobData, load_job_data
from tubeshelf.services.jobs import with_spares
from tubeshelf.services.jobstate import takes_tubes
from tubeshelf.services.sockets import build_sockets, tube_verdict
from tubeshelf.services.views.bench import EstimateView, SocketView
from tubeshelf.services.views.today import JobToday, LineToday, SocketToday, TodayView
from tubeshelf.store.queries import bench
from tubeshelf.store.queries.jobs import job_rows

if TYPE_CHECKING:
    from tubeshelf.services.shop import Shop

_STAGES = (Stage.AS_FOUND, Stage.AS_LEFT)


def today_for(shop: Shop, *, job_id: int | None = None) -> TodayView:
    """What today's limits change of one job, or of all open ones; UserError if there is no such job."""
    with shop.record.reading() as connection:
        jobs = job_rows(connection, closed=False) if job_id is None else [_job_row(connection, job_id)]
        data = load_job_data(shop, connection, [job.id for job in jobs])
        told = [_job(shop, connection, data, job) for job in jobs]
    return TodayView(len(told), tuple(job for job in told if job.changes))


def _job_row(connection: Connection, job_id: int) -> Row[Any]:
    row = bench.job_row(connection, job_id=job_id)
    if row is None:
        raise UserError("That job is gone; reload the page.")
    return row


def _job(shop: Shop, connection: Connection, data: JobData, job: Row[Any]) -> JobToday:
    rows = [row for row in data.sockets if row.job_id == job.id]
    then = build_sockets(shop, data, rows, tester_id=None, stage=Stage.AS_FOUND)
    now = build_sockets(shop, data, rows, tester_id=None, stage=Stage.AS_FOUND, afresh=True)
    changed: list[SocketToday] = []
    moved = 0
    for old, new in zip(then, now, strict=True):
        found = [entry for stage in _STAGES if (entry := _socket(old, new, stage)) is not None]
        changed += found
        if not found and any(_lines(old, new, stage) for stage in _STAGES):
            moved += 1
    money: tuple[EstimateView | None, EstimateView | None] = (None, None)
    if any(old.action is not new.action for old, new in zip(then, now, strict=True)):
        money = (
            _money(shop, connection, data, job, rows, then),
            _money(shop, connection, data, job, rows, now),
        )
    return JobToday(
        job_id=job.id,
        number=job.number,
        title=job.title,
        customer=job.customer,
        closed=job.closed_on is not None,
        sockets=tuple(changed),
        moved=moved,
        money_then=money[0],
        money_now=money[1],
    )


def _money(
    shop: Shop,
    connection: Connection,
    data: JobData,
    job: Row[Any],
    rows: Sequence[Row[Any]],
    sockets: tuple[SocketView, ...],
) -> EstimateView:
    """What the job comes to with these sockets: the spares are handed out anew, by what is proposed."""
    return estimate(
        with_spares(shop, connection, data, job, rows, sockets),
        labour=job.labour,
        approval=approval_of(connection, job.id),
        closed=not takes_tubes(JobStatus(job.status), job.equipment_id),
    )


def _socket(old: SocketView, new: SocketView, stage: Stage) -> SocketToday | None:
    """What changes of a socket at a stage; ``None`` where verdict and proposal stay what they are."""
    found = stage is Stage.AS_FOUND
    then, then_text = (old.verdict, old.verdict_text) if found else _as_left(old)
    now, now_text = (new.verdict, new.verdict_text) if found else _as_left(new)
    proposes = found and old.proposed is not new.proposed
    if not proposes and _said(then) == _said(now):
        return None
    return SocketToday(
        socket_id=old.id,
        position=old.position,
        role=old.role,
        stage=stage,
        lines=_lines(old, new, stage),
        then=then,
        now=now,
        then_text=then_text,
        now_text=now_text,
        proposed_then=old.proposed,
        proposed_now=new.proposed if found else old.proposed,
        said=old.action if old.action_said else None,
        why=new.action_why if proposes and not new.action_said else "",
    )


def _as_left(socket: SocketView) -> tuple[TubeVerdict, str]:
    marks = [seen for _, stage, seen in socket.observations if stage is Stage.AS_LEFT]
    return tube_verdict(socket.as_left, marks, None)


def _said(verdict: TubeVerdict) -> tuple[str, bool | None, bool]:
    return verdict.word, verdict.sure, verdict.read_again


def _lines(old: SocketView, new: SocketView, stage: Stage) -> tuple[LineToday, ...]:
    """The lines of a socket that would be judged by other figures, or otherwise, than they were."""
    then, now = (old.other_lines, new.other_lines) if stage is Stage.AS_FOUND else (old.as_left, new.as_left)
    return tuple(
        LineToday(one.label, one.tester.name, one.tester.scale.unit, one.tester.scale.words, before, after)
        for one, other in zip(then, now, strict=True)
        if (before := one.verdict) is not None
        and (after := other.verdict) is not None
        and differs(before, after)
    )


def differs(then: LineVerdict, now: LineVerdict) -> bool:
    """Whether a line was judged by other figures, or otherwise; who says so and when makes no difference."""
    return _figures(then) != _figures(now)


def _figures(verdict: LineVerdict) -> tuple[object, ...]:
    limit = verdict.limit
    return verdict.zone, verdict.sure, verdict.above, limit.good_from, limit.reject_below, limit.above
