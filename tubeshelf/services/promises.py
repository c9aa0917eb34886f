"""Keeping a spare for a job: at most one open promise a tube, and of a lot no more than there is."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from sqlalchemy import Connection, Row, func, select

from tubeshelf.domain.errors import UserError
from tubeshelf.domain.tags import format_tag
from tubeshelf.store.queries import shelf
from tubeshelf.store.tables import Item, Job, Promise

if TYPE_CHECKING:
    from tubeshelf.services.shop import Shop
    from tubeshelf.services.typebook import TypeBook
    from tubeshelf.store.journal import Journal


def free_quantity(connection: Connection, item_id: int) -> int:
    """How many of a tube or lot are not promised to any job; 0 for one that is not in the record."""
    promised = (
        select(func.coalesce(func.sum(Promise.quantity), 0))
        .where(Promise.item_id == item_id, Promise.ended_by.is_(None))
        .scalar_subquery()
    )
    query = select(Item.quantity - promised).where(Item.id == item_id, Item.ended_by.is_(None))
    return int(connection.scalar(query) or 0)


def promised_numbers(connection: Connection, item_id: int) -> str:
    """To which jobs a tube or lot is promised, in words: ``job 2031`` or ``jobs 2031, 2040``."""
    return jobs_text([row.number for row in shelf.promises(connection, [item_id])])


def jobs_text(numbers: list[int]) -> str:
    """Job numbers in words."""
    listed = [str(number) for number in dict.fromkeys(numbers)]
    return f"job {listed[0]}" if len(listed) == 1 else f"jobs {', '.join(listed)}"


def name_of(book: TypeBook, row: Row[Any]) -> str:
    """A tube or lot in a sentence: ``12AX7 0412`` or ``the lot of 10 12AX7``."""
    name = book.designation(row.type_id) or row.marked or "unknown tube"
    if row.lot:
        return f"the lot of {row.quantity} {name}"
    return name if row.tag is None else f"{name} {format_tag(row.tag)}"


def refuse_promised(connection: Connection, book: TypeBook, row: Row[Any], quantity: int) -> None:
    """Raise a UserError naming the jobs, if fewer than ``quantity`` of an item are free."""
    free = free_quantity(connection, row.id)
    if quantity <= free:
        return
    jobs = promised_numbers(connection, row.id)
    if not row.lot:
        raise UserError(f"{name_of(book, row)} is promised to {jobs}: release it there first.")
    if quantity > row.quantity:
        raise UserError(f"There are only {row.quantity} in this lot: type at most so many.")
    raise UserError(
        f"Only {free} of {name_of(book, row)} are free, the rest is promised to {jobs}: "
        f"take at most {free}, or release there first."
    )


def add_promise(
    journal: Journal,
    shop: Shop,
    *,
    item: Row[Any],
    job_id: int,
    socket_id: int | None = None,
    quantity: int = 1,
) -> int:
    """Promise a spare (a row from ``movements.spare_row``) to a job; the id of the promise.

    Raises UserError for one that belongs to a customer, is promised already, or is not there in that number.
    """
    if item.customer_id is not None:
        raise UserError(
            f"{name_of(shop.book, item)} belongs to {item.owner}: only the shop's own can be promised."
        )
    if quantity < 1:
        raise UserError("Promise at least one.")
    status = journal.connection.execute(
        select(Job.closed_on, Job.number).where(Job.id == job_id)
    ).one_or_none()
    if status is None:
        raise UserError("That job is gone from the record; reload the page.")
    if status.closed_on is not None:
        raise UserError(f"Job {status.number} is closed: open it again before promising a spare to it.")
    refuse_promised(journal.connection, shop.book, item, quantity)
    return journal.insert(
        Promise, item_id=item.id, tube=not item.lot, quantity=quantity, job_id=job_id, job_socket_id=socket_id
    )


def end_promises(journal: Journal, *, item_id: int, job_id: int, socket_id: int | None = None) -> int:
    """End the promises of a spare to a job (to one of its sockets, if named); how many tubes that frees."""
    freed = 0
    for row in shelf.promises(journal.connection, [item_id]):
        if row.job_id == job_id and socket_id in (None, row.job_socket_id):
            journal.end(Promise, row.id)
            freed += row.quantity
    return freed
