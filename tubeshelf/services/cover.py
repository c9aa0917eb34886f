"""Whether a comeback is covered by what was promised, and why."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from sqlalchemy import Connection, Row

from tubeshelf.domain.errors import UserError
from tubeshelf.services.changes import Changes, Kind
from tubeshelf.services.views.comeback import CoverView, Promise
from tubeshelf.store.queries import bench
from tubeshelf.store.queries import comeback as queries
from tubeshelf.store.tables import Cover, Job

if TYPE_CHECKING:
    from tubeshelf.services.shop import Shop


def set_cover(
    shop: Shop,
    *,
    job_id: int,
    covered: bool | None,
    why: str = "",
    earlier_id: int | None = None,
    origin: str = "",
) -> tuple[None, Changes]:
    """Say whether a comeback is covered, and why; ``None`` takes that back.

    A job that names no earlier one becomes the comeback of ``earlier_id``.
    """
    if covered is not None and not why.strip():
        raise UserError("Type why it is covered or not, such as: within the term, our tube failed.")
    with shop.record.act("cover") as journal:
        row = bench.job_row(journal.connection, job_id=job_id)
        if row is None:
            raise UserError("That job is gone; reload the page.")
        if row.closed_on is not None:
            raise UserError(f"Job {row.number} is closed: set its status to an open one, then decide this.")
        old = queries.cover(journal.connection, job_id)
        if old is not None:
            journal.end(Cover, old.id)
        if covered is not None:
            journal.insert(Cover, job_id=job_id, covered=covered, why=" ".join(why.split()))
        if covered is not None and row.comeback_of is None and earlier_id not in (None, job_id):
            journal.update(Job, job_id, comeback_of=earlier_id)
        words = "cover not decided" if covered is None else "covered" if covered else "not covered"
        journal.said = f"Job {row.number}: {words}"
        return None, Changes(journal.act_id, journal.said, frozenset({(Kind.JOB, job_id)}), origin)


def cover_of(shop: Shop, *, job_id: int) -> CoverView | None:
    """Whether a job is covered and why, if that was said."""
    with shop.record.reading() as connection:
        return cover_row(connection, job_id)


def cover_row(connection: Connection, job_id: int) -> CoverView | None:
    """The same within a transaction."""
    row = queries.cover(connection, job_id)
    return None if row is None else CoverView(row.covered, row.why)


def promise_of(shop: Shop, job: Row[Any]) -> Promise:
    """What was promised when a job was closed; by today's settings while it is open, or not kept."""
    settings = shop.settings
    if job.closed_on is None or job.warranty is None:
        return Promise(settings.warranty, settings.warranty_days, by_today=True)
    return Promise(job.warranty, job.warranty_days, by_today=False)


def promised_with(shop: Shop, *, job_id: int) -> str:
    """The words of it, as the statement of a job has them."""
    with shop.record.reading() as connection:
        job = bench.job_row(connection, job_id=job_id)
    return "" if job is None else promise_of(shop, job).words


def cover_text(cover: CoverView | None) -> str:
    """The cover in a sentence; empty if nothing was said."""
    return "" if cover is None else f"{'Covered' if cover.covered else 'Not covered'}: {cover.why}"
