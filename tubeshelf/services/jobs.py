"""Jobs: the list with what each waits for, and a whole job on the bench."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date, datetime, time, timedelta
from typing import TYPE_CHECKING, Any

from sqlalchemy import Connection, Row

from tubeshelf.domain.errors import UserError
from tubeshelf.domain.jobs import (
    Action,
    JobStatus,
)
from tubeshelf.domain.judging import Stage
from tubeshelf.services.decide import approval_of, estimate
from tubeshelf.services.folding import search_words
from tubeshelf.services.jobdata import JobData, load_job_data
from tubeshelf.services.jobstate import (
    harm_of,
    looked_at,
    not_on_hand,
    swaps_of,
    takes_tubes,
    waits_first_for,
    waits_for,
)
from tubeshelf.services.lines import tester_view
from tubeshelf.services.sockets import NO_OWN, build_sockets
from tubeshelf.services.spare_pool import SparePool, tube_view
from tubeshelf.services.spare_verdict import NEVER_READ, SpareVerdict, spare_verdicts, verdicts_then
from tubeshelf.services.views.bench import JobHead, JobView, PastView, SocketView, TesterView
from tubeshelf.store.queries import bench, reading
from tubeshelf.store.queries.jobs import job_rows
from tubeshelf.store.queries.shelf import last_act_by
from tubeshelf.store.queries.timeline import prices_then

if TYPE_CHECKING:
    from tubeshelf.services.shop import Shop


def list_jobs(shop: Shop, *, find: str = "", closed: bool | None = False) -> tuple[JobHead, ...]:
    """The jobs that have all the words typed: open ones (``closed`` False), closed ones, or both (None)."""
    with shop.record.reading() as connection:
        return _heads(shop, connection, job_rows(connection, words=search_words(find), closed=closed))


def past_jobs(shop: Shop, *, equipment_id: int) -> tuple[JobHead, ...]:
    """Every job of one unit."""
    with shop.record.reading() as connection:
        return _heads(shop, connection, job_rows(connection, closed=None, equipment_id=equipment_id))


def open_jobs_with_sockets(shop: Shop) -> tuple[tuple[JobHead, tuple[SocketView, ...]], ...]:
    """Every open job with its sockets, by promised date: what order list and plan are made from."""
    with shop.record.reading() as connection:
        rows = job_rows(connection, closed=False)
        sockets = _sockets_of(shop, connection, rows)
    return tuple((_head(row, sockets[row.id]), sockets[row.id]) for row in rows)


def _heads(shop: Shop, connection: Connection, rows: Sequence[Row[Any]]) -> tuple[JobHead, ...]:
    sockets = _sockets_of(shop, connection, rows, all_spares=False)
    return tuple(_head(row, sockets[row.id]) for row in rows)


def _sockets_of(
    shop: Shop, connection: Connection, rows: Sequence[Row[Any]], *, all_spares: bool = True
) -> dict[int, tuple[SocketView, ...]]:
    """The sockets of several jobs; spares are looked for only where a job is still open.

    Without ``all_spares`` only where a tube was put in or the job waits for one: for a line in a list nothing
    else depends on them, and they would be most of its cost.
    """
    data = load_job_data(shop, connection, [row.id for row in rows])
    by_job: dict[int, list[Row[Any]]] = defaultdict(list)
    for socket in data.sockets:
        by_job[socket.job_id].append(socket)
    found = {}
    for row in rows:
        sockets = build_sockets(shop, data, by_job[row.id], tester_id=None, stage=Stage.AS_FOUND)
        put_in = any(one.fitted_item_id is not None for one in by_job[row.id])
        wanted = any(map(not_on_hand, sockets)) and not waits_first_for(JobStatus(row.status), sockets)
        if row.closed_on is None and (all_spares or put_in or wanted):
            sockets = with_spares(shop, connection, data, row, by_job[row.id], sockets)
        found[row.id] = sockets
    return found


def _head(row: Row[Any], sockets: tuple[SocketView, ...]) -> JobHead:
    status = JobStatus(row.status)
    return JobHead(
        id=row.id,
        number=row.number,
        title=row.title,
        customer=row.customer,
        serial=row.serial or "",
        complaint=row.complaint,
        status=status,
        received_on=row.received_on,
        promised_on=row.promised_on,
        waits_for=waits_for(status, sockets, loose=row.equipment_id is None),
        sockets=len(sockets),
        read=sum(looked_at(socket) for socket in sockets),
        to_replace=sum(socket.action is Action.REPLACE for socket in sockets),
        harm=bool(harm_of(sockets)),
        closed=row.closed_on is not None,
        loose=row.equipment_id is None,
    )


def open_job(
    shop: Shop,
    *,
    number: int | None = None,
    job_id: int | None = None,
    tester_id: int | None = None,
    stage: Stage = Stage.AS_FOUND,
    own_testers: Mapping[int, int] = NO_OWN,
) -> JobView:
    """A whole job, by number or id, as seen on a tester at a stage; UserError if there is no such job.

    Without ``tester_id`` it is the tester that most sockets were read on last, else the shop's first, and a
    socket that was read last on another one stays on that. ``own_testers`` names another one for a socket, by
    its id.
    """
    with shop.record.reading() as connection:
        row = bench.job_row(connection, number=number, job_id=job_id)
        if row is None:
            asked = f"job {number}" if number is not None else "such job"
            raise UserError(f"There is no {asked} in this record.")
        data = load_job_data(shop, connection, [row.id])
        testers = tuple(tester_view(t) for t in data.testers.values() if not t.retired)
        read_on = _read_on(data, stage)
        chosen = _most(read_on, testers) if tester_id is None else tester_id
        if tester_id is None:
            active = {tester.id for tester in testers}
            own_testers = {s: t for s, t in read_on.items() if t in active} | dict(own_testers)
        sockets = build_sockets(
            shop, data, data.sockets, tester_id=chosen, stage=stage, own_testers=own_testers
        )
        sockets = with_spares(shop, connection, data, row, data.sockets, sockets)
        approval = approval_of(connection, row.id)
        comeback = row.comeback_of and bench.job_row(connection, job_id=row.comeback_of)
    status = JobStatus(row.status)
    takes = takes_tubes(status, row.equipment_id)
    return JobView(
        id=row.id,
        number=row.number,
        title=row.title,
        customer=row.customer,
        customer_id=row.customer_id,
        equipment=f"{row.maker or ''} {row.model or ''}".strip(),
        serial=row.serial or "",
        equipment_id=row.equipment_id,
        model_id=row.model_id,
        complaint=row.complaint,
        scope=row.scope,
        intake=row.intake,
        status=status,
        received_on=row.received_on,
        promised_on=row.promised_on,
        closed_on=row.closed_on,
        stage=stage,
        tester=next((t for t in testers if t.id == chosen), None),
        testers=testers,
        sockets=sockets,
        harm=harm_of(sockets),
        swaps=swaps_of(sockets),
        to_replace=sum(s.action is Action.REPLACE and s.fitted is None for s in sockets),
        undecided=sum(s.action is Action.UNDECIDED for s in sockets),
        not_on_hand=sum(not_on_hand(s) for s in sockets) if takes else 0,
        waits_for=waits_for(status, sockets, loose=row.equipment_id is None),
        estimate=estimate(sockets, labour=row.labour, approval=approval, closed=not takes),
        comeback_of=comeback.number if comeback else None,
        comeback_note=row.comeback_note,
        version=row.version,
    )


def _read_on(data: JobData, stage: Stage) -> dict[int, int]:
    """The tester that each socket was read on last at a stage, by its id, in the order of those readings."""
    read = sorted((row for rows in data.readings.values() for row in rows), key=lambda row: row.id)
    last = {row.job_socket_id: row for row in read if row.stage == stage}
    return {row.job_socket_id: row.tester_id for row in sorted(last.values(), key=lambda row: row.id)}


def _most(read_on: Mapping[int, int], testers: Sequence[TesterView]) -> int | None:
    """The tester that most sockets were read on, of equals the later; the first where none was read."""
    used = list(read_on.values())
    at = max(range(len(used)), key=lambda at: (used.count(used[at]), at), default=None)
    return used[at] if at is not None else testers[0].id if testers else None


def with_spares(
    shop: Shop,
    connection: Connection,
    data: JobData,
    job: Row[Any],
    rows: Sequence[Row[Any]],
    sockets: tuple[SocketView, ...],
) -> tuple[SocketView, ...]:
    """The sockets with what this job put in, and, while it is open, the spare that each other one should get.

    No spare goes into a box of loose tubes.

    What a closed job put in keeps what it read and cost then.
    """
    pool = SparePool(shop, connection, job.id, rows)
    fitted = {row.id: data.items[row.fitted_item_id] for row in rows if row.fitted_item_id is not None}
    said = _said_of(shop, connection, list(fitted.values()), job.closed_on)
    views = {
        socket_id: pool.fitted(socket_id, item, said.get(item.id, NEVER_READ))
        for socket_id, item in fitted.items()
    }
    if job.closed_on is None and job.equipment_id is None:
        return sockets
    if job.closed_on is None:
        return pool.hand_out([replace(socket, fitted=views.get(socket.id)) for socket in sockets])
    closing = last_act_by(connection, _end_of(job.closed_on))
    prices = prices_then(connection, [view.item_id for view in views.values()], closing)
    views = {
        socket_id: replace(view, price=prices.get(view.item_id, view.price))
        for socket_id, view in views.items()
    }
    return tuple(replace(socket, fitted=views.get(socket.id)) for socket in sockets)


def _end_of(day: date) -> datetime:
    """The end of a day at the bench, as an instant."""
    return datetime.combine(day + timedelta(days=1), time()).astimezone()


def _said_of(
    shop: Shop, connection: Connection, items: list[Row[Any]], closed_on: date | None
) -> dict[int, SpareVerdict]:
    """What tubes read: now, or for a closed job as it was known at the end of the day it was closed."""
    if not items:
        return {}
    if closed_on is None:
        return spare_verdicts(connection, shop.book, items)
    return verdicts_then(connection, shop.book, items, last_act_by(connection, _end_of(closed_on)))


def place_history(shop: Shop, *, socket_id: int) -> tuple[PastView, ...]:
    """What one place held at earlier jobs of the same unit, newest first."""
    with shop.record.reading() as connection:
        socket = reading.socket_for_reading(connection, socket_id)
        if socket is None or socket.unit_socket_id is None:
            return ()
        past = bench.past_sockets(
            connection, unit_socket_id=socket.unit_socket_id, before_job_id=socket.job_id
        )
        ids = {row.item_id for row in past} | {row.fitted_item_id for row in past}
        items = {row.id: row for row in bench.items(connection, ids - {None})}
        held = [items.get(row.item_id if row.fitted_item_id is None else row.fitted_item_id) for row in past]
        said = [
            _said_of(shop, connection, [] if item is None else [item], row.closed_on)
            for row, item in zip(past, held, strict=True)
        ]
    views = []
    for row, item, known in zip(past, held, said, strict=True):
        read = NEVER_READ if item is None else known.get(item.id, NEVER_READ)
        name = shop.book.designation(item.type_id) if item else str(row.state or "not looked at")
        tube = None if item is None else tube_view(shop, item, read)
        views.append(
            PastView(
                job_number=row.number,
                on=row.closed_on or row.received_on,
                designation=name or row.marked,
                tag="" if tube is None else tube.tag,
                reads=read.reads,
                verdict=read.verdict.word,
                fitted=row.fitted_item_id is not None,
            )
        )
    return tuple(views)
