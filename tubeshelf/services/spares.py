"""Spares for a job: which there are, keeping one, putting it in, taking it out again."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from sqlalchemy import Row

from tubeshelf.domain.errors import UserError
from tubeshelf.domain.fit import judge_fit
from tubeshelf.domain.fitting import Outcome
from tubeshelf.domain.jobs import Disposition
from tubeshelf.domain.places import Place
from tubeshelf.domain.words import say
from tubeshelf.services.changes import Changes, Kind
from tubeshelf.services.finding import place_of
from tubeshelf.services.movements import carry, item_row, resting_place, spare_row, take_from_lot
from tubeshelf.services.promises import (
    add_promise,
    end_promises,
    free_quantity,
    name_of,
    promised_numbers,
)
from tubeshelf.services.socket_facts import facts_of, intended_id, open_socket, socket_row
from tubeshelf.services.spare_pool import SparePool
from tubeshelf.services.views.bench import SpareView
from tubeshelf.store.queries import bench, shelf
from tubeshelf.store.tables import JobSocket, Promise

if TYPE_CHECKING:
    from tubeshelf.services.shop import Shop
    from tubeshelf.store.journal import Journal


def spares_for(shop: Shop, *, socket_id: int) -> tuple[SpareView, ...]:
    """The spares that may serve a socket, best first."""
    with shop.record.reading() as connection:
        socket = socket_row(connection, socket_id)
        rows = bench.job_sockets(connection, [socket.job_id])
        return SparePool(shop, connection, socket.job_id, rows).ranked(socket_id)


def best_spares(shop: Shop, *, socket_id: int, most: int) -> tuple[tuple[SpareView, ...], int]:
    """The first of ``spares_for``, and how many there are of them all."""
    with shop.record.reading() as connection:
        socket = socket_row(connection, socket_id)
        rows = bench.job_sockets(connection, [socket.job_id])
        pool = SparePool(shop, connection, socket.job_id, rows)
        return pool.ranked(socket_id, most), pool.count(socket_id)


def promise(
    shop: Shop,
    *,
    item_id: int,
    socket_id: int | None = None,
    job_id: int | None = None,
    quantity: int = 1,
    origin: str = "",
) -> tuple[None, Changes]:
    """Keep a spare for a socket, or for a job as a whole; refused if it is promised already."""
    with shop.record.act("promise") as journal:
        where = ""
        if socket_id is not None:
            socket = socket_row(journal.connection, socket_id)
            job_id, where = socket.job_id, f"{socket.position} of "
        row = spare_row(journal.connection, shop.book, item_id)
        job = bench.job_row(journal.connection, job_id=job_id) if job_id is not None else None
        if job is None:
            raise UserError("Say which job the spare is for.")
        add_promise(journal, shop, item=row, job_id=job.id, socket_id=socket_id, quantity=quantity)
        journal.said = f"{name_of(shop.book, row)} promised to {where}job {job.number}"
        return None, _changes(journal, job.id, {item_id}, origin)


def release(shop: Shop, *, item_id: int, job_id: int, origin: str = "") -> tuple[None, Changes]:
    """Let a promised spare go."""
    with shop.record.act("release") as journal:
        row = item_row(journal.connection, item_id)
        if not end_promises(journal, item_id=item_id, job_id=job_id):
            raise UserError(f"{name_of(shop.book, row)} is not promised to that job.")
        journal.said = f"{name_of(shop.book, row)} is free again"
        return None, _changes(journal, job_id, {item_id}, origin)


def install(shop: Shop, *, item_id: int, socket_id: int, origin: str = "") -> tuple[None, Changes]:
    """Put a spare into a socket of a job: it leaves the shelf, what stood there goes into the job's bag.

    A lot gives one tube, which gets a tag. Refused where it would not seat or do harm, where it is promised
    to another job, and where this job has put a tube in already.
    """
    with shop.record.act("install") as journal:
        connection = journal.connection
        socket = socket_row(connection, socket_id)
        row = spare_row(connection, shop.book, item_id)
        _refuse(shop, journal, socket, row)
        _use_promise(journal, socket, row)
        if row.lot:
            reason = f"for job {socket.number}"
            (item_id,) = take_from_lot(journal, row, 1, bin=row.place_ref, lot=False, reason=reason)
            row = spare_row(connection, shop.book, item_id)
        if socket.item_id is not None:
            old = item_row(connection, socket.item_id)
            if old.place == Place.SOCKET:
                carry(journal, old, Place.BAG, str(socket.number), f"pulled, job {socket.number}")
        place, ref = place_of(socket)
        carry(journal, row, place, ref, f"installed in {socket.position}, job {socket.number}")
        journal.update(JobSocket, socket_id, fitted_item_id=item_id, disposition=str(Disposition.INSTALLED))
        journal.said = f"{name_of(shop.book, row)} installed in {socket.position}, job {socket.number}"
        things = {item_id} if socket.item_id is None else {item_id, socket.item_id}
        return None, _changes(journal, socket.job_id, things, origin)


def _use_promise(journal: Journal, socket: Row[Any], row: Row[Any]) -> None:
    """Take one off what was promised to this socket, or to its job as a whole; the rest stays promised."""
    ours = [
        p
        for p in shelf.promises(journal.connection, [row.id])
        if p.job_id == socket.job_id and p.job_socket_id in (None, socket.id)
    ]
    if not ours:
        return
    promise = min(ours, key=lambda p: p.job_socket_id is None)
    journal.end(Promise, promise.id)
    if promise.quantity > 1:
        values = {"tube": False, "quantity": promise.quantity - 1, "job_socket_id": promise.job_socket_id}
        journal.insert(Promise, item_id=row.id, job_id=socket.job_id, **values)


def _refuse(shop: Shop, journal: Journal, socket: Row[Any], row: Row[Any]) -> None:
    name = name_of(shop.book, row)
    if socket.unit_socket_id is None:
        raise UserError("This is a box of loose tubes: there is no socket to put a spare into.")
    if socket.closed_on is not None:
        raise UserError(f"Job {socket.number} is closed: open it again before putting a tube in.")
    if socket.fitted_item_id is not None:
        raise UserError(f"{socket.position} has a tube from this job already; take it out first.")
    ours = sum(p.quantity for p in shelf.promises(journal.connection, [row.id]) if p.job_id == socket.job_id)
    if free_quantity(journal.connection, row.id) + ours < 1:
        jobs = promised_numbers(journal.connection, row.id)
        raise UserError(f"{name} is promised to {jobs}: release it there first.")
    fit = judge_fit(
        shop.book.catalog,
        shop.book.designation(intended_id(socket)),
        shop.book.designation(row.type_id) or row.marked,
        facts_of(shop, journal.connection, socket),
    )
    if fit.outcome in (Outcome.HARMFUL, Outcome.CANNOT_SEAT):
        word = "does harm" if fit.outcome is Outcome.HARMFUL else "does not seat"
        raise UserError(f"{name} {word} in {socket.position}: {say(fit.reasons[0])}. It stays on the shelf.")


def take_out(shop: Shop, *, socket_id: int, origin: str = "") -> tuple[None, Changes]:
    """Take the tube that this job put in out again: it goes back to its bin, the old one into the socket."""
    with shop.record.act("take out") as journal:
        connection = journal.connection
        socket = open_socket(connection, socket_id)
        if socket.fitted_item_id is None:
            raise UserError(f"This job has put no tube into {socket.position}.")
        row = item_row(connection, socket.fitted_item_id)
        bin = bench.last_bin(connection, row.id)
        carry(journal, row, resting_place(row.condition), bin, f"taken out, job {socket.number}")
        if socket.item_id is not None:
            old = item_row(connection, socket.item_id)
            if old.place == Place.BAG:
                carry(journal, old, *place_of(socket), f"put back, job {socket.number}")
        journal.update(JobSocket, socket_id, fitted_item_id=None, disposition="")
        journal.said = f"{name_of(shop.book, row)} taken out of {socket.position}, job {socket.number}"
        return None, _changes(journal, socket.job_id, {row.id}, origin)


def _changes(journal: Journal, job_id: int, items: set[int], origin: str) -> Changes:
    things = {(Kind.JOB, job_id), *((Kind.ITEM, item) for item in items)}
    return Changes(journal.act_id, journal.said, frozenset(things), origin)
