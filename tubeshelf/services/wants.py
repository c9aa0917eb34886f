"""Where a spare may go: the sockets of open jobs that want its type, and what it is kept for already."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from sqlalchemy import Row

from tubeshelf.domain.jobs import Action
from tubeshelf.domain.judging import Stage
from tubeshelf.services.jobdata import JobData, load_job_data
from tubeshelf.services.movements import item_row
from tubeshelf.services.socket_facts import intended_id
from tubeshelf.services.sockets import build_sockets
from tubeshelf.store.queries import shelf
from tubeshelf.store.queries.jobs import job_rows

if TYPE_CHECKING:
    from tubeshelf.services.shop import Shop
    from tubeshelf.services.typebook import TypeBook

_ORDER = (Action.REPLACE, Action.UNDECIDED, Action.KEEP)


@dataclass(frozen=True, slots=True)
class Want:
    """A socket of an open job that is meant for the type of a spare, or for one that it may replace."""

    job_id: int
    number: int
    title: str
    socket_id: int
    position: str
    role: str
    intended: str
    action: Action


@dataclass(frozen=True, slots=True)
class Kept:
    """A promise of a spare: to which job, for which socket (empty for the job as a whole), how many."""

    job_id: int
    number: int
    position: str
    quantity: int


@dataclass(frozen=True, slots=True)
class OpenJob:
    """An open job as a choice."""

    job_id: int
    number: int
    title: str


def wants_for(shop: Shop, *, item_id: int) -> tuple[Want, ...]:
    """The sockets of open jobs without a tube of this job that a spare may serve.

    Those to be replaced come first, then by promised date and in test order.
    """
    with shop.record.reading() as connection:
        row = item_row(connection, item_id)
        if shop.book.type(row.type_id) is None:
            return ()
        jobs = {job.id: job for job in job_rows(connection, closed=False)}
        data = load_job_data(shop, connection, list(jobs))
    meant = _served_by(shop.book, row.type_id)
    wants = [want for job in jobs.values() for want in _wants(shop, job, data, meant)]
    return tuple(sorted(wants, key=lambda want: _ORDER.index(want.action)))


def _served_by(book: TypeBook, type_id: int) -> set[int]:
    serves = book.catalog.serves_for(book.key_of(type_id))
    others = (book.id_of(entry.intended) for entry in serves)
    return {type_id, *(other for other in others if other is not None)}


def _wants(shop: Shop, job: Row[Any], data: JobData, meant: set[int]) -> Iterator[Want]:
    rows = [row for row in data.sockets if row.job_id == job.id]
    free = {row.id for row in rows if row.fitted_item_id is None and row.unit_socket_id is not None}
    free &= {row.id for row in rows if intended_id(row) in meant}
    if not free:
        return
    for socket in build_sockets(shop, data, rows, tester_id=None, stage=Stage.AS_FOUND):
        if socket.id in free:
            yield Want(
                job_id=job.id,
                number=job.number,
                title=job.title,
                socket_id=socket.id,
                position=socket.position,
                role=socket.role,
                intended=socket.intended,
                action=socket.action,
            )


def kept_for(shop: Shop, *, item_id: int) -> tuple[Kept, ...]:
    """What a spare is promised to, oldest promise first."""
    with shop.record.reading() as connection:
        rows = shelf.promises(connection, [item_id])
    return tuple(Kept(row.job_id, row.number, row.position or "", row.quantity) for row in rows)


def open_jobs(shop: Shop) -> tuple[OpenJob, ...]:
    """The open jobs by promised date, without anything that takes time to judge."""
    with shop.record.reading() as connection:
        return tuple(OpenJob(row.id, row.number, row.title) for row in job_rows(connection, closed=False))
