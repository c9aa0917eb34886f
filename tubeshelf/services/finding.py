"""Saying what stands in a socket: as intended, another type, empty, unreadable. Never assumed."""

from __future__ import annotations

import json
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from sqlalchemy import Row, select

from tubeshelf.domain.errors import UserError
from tubeshelf.domain.fit import judge_fit
from tubeshelf.domain.jobs import FoundState
from tubeshelf.domain.places import Place
from tubeshelf.domain.words import say
from tubeshelf.services.changes import Changes, Kind
from tubeshelf.services.movements import carry, item_key, item_row, note_movement
from tubeshelf.services.socket_facts import facts_of, intended_id, open_socket, socket_row
from tubeshelf.store.tables import Fit, Found, Item

if TYPE_CHECKING:
    from tubeshelf.services.shop import Shop
    from tubeshelf.store.journal import Journal


@dataclass(frozen=True, slots=True)
class _Finding:
    """What a technician says of a socket, before it is stored."""

    state: FoundState
    marked: str = ""
    type_id: int | None = None
    reason: str = ""
    another: bool = False


def found_as_intended(shop: Shop, *, socket_id: int, origin: str = "") -> tuple[None, Changes]:
    """The one deliberate key: the tube in the socket is marked as the socket wants it."""
    with shop.record.reading() as connection:
        socket = socket_row(connection, socket_id)
    name = shop.book.designation(intended_id(socket))
    return set_found(shop, socket_id=socket_id, text=name, origin=origin)


def set_found(
    shop: Shop,
    *,
    socket_id: int,
    text: str,
    believed: str = "",
    reason: str = "",
    another: bool = False,
    origin: str = "",
) -> tuple[None, Changes]:
    """The tube in the socket is marked ``text``, and believed to be that or (with a reason) another type.

    A name that the table does not know is kept as it was read. ``another`` says that it is not the tube
    that was known to stand there.
    """
    marked = " ".join(text.split())
    if not marked:
        raise UserError("Type what is marked on the tube, or say that it is empty or unreadable.")
    if believed.strip() and shop.book.id_of(believed) is None:
        near = ", ".join(shop.book.catalog.near(believed))
        raise UserError(f"{believed.strip()} is not in the type table{f' (near: {near})' if near else ''}.")
    type_id = shop.book.id_of(believed or marked)
    finding = _Finding(FoundState.TYPE, marked, type_id, reason.strip(), another)
    return _set(shop, socket_id, finding, f"found {marked}", origin)


def set_empty(shop: Shop, *, socket_id: int, origin: str = "") -> tuple[None, Changes]:
    """Nothing stands in the socket."""
    return _set(shop, socket_id, _Finding(FoundState.EMPTY), "found empty", origin)


def set_unreadable(
    shop: Shop, *, socket_id: int, believed: str = "", reason: str = "", origin: str = ""
) -> tuple[None, Changes]:
    """A tube stands there whose mark cannot be read, believed to be a type or not known at all."""
    finding = _Finding(FoundState.UNREADABLE, "", shop.book.id_of(believed) if believed else None, reason)
    return _set(shop, socket_id, finding, "mark unreadable", origin)


def set_not_looked(shop: Shop, *, socket_id: int, origin: str = "") -> tuple[None, Changes]:
    """Back to nobody having looked."""
    return _set(shop, socket_id, _Finding(FoundState.NOT_LOOKED), "not looked yet", origin)


def _set(shop: Shop, socket_id: int, finding: _Finding, words: str, origin: str) -> tuple[None, Changes]:
    with shop.record.act("found") as journal:
        socket = open_socket(journal.connection, socket_id)
        journal.said = f"{socket.position} of job {socket.number}: {words}"
        if socket.found_id is not None:
            journal.end(Found, socket.found_id)
        item_id = _item_for(journal, shop, socket, finding)
        if finding.state is not FoundState.NOT_LOOKED:
            journal.insert(
                Found,
                job_socket_id=socket_id,
                state=str(finding.state),
                marked=finding.marked,
                type_id=finding.type_id,
                reason=finding.reason,
                item_id=item_id,
            )
        _store_fit(journal, shop, socket, finding)
        things = {(Kind.JOB, socket.job_id)}
        if item_id is not None:
            things.add((Kind.ITEM, item_id))
        said, act_id = journal.said, journal.act_id
    return None, Changes(act_id, said, frozenset(things), origin)


def place_of(socket: Row[Any]) -> tuple[Place, str]:
    """Where a tube stands that is in this socket: the unit's socket, or the job's box of loose tubes."""
    if socket.unit_socket_id is None:
        return Place.BAG, str(socket.number)
    return Place.SOCKET, str(socket.unit_socket_id)


def _item_for(journal: Journal, shop: Shop, socket: Row[Any], finding: _Finding) -> int | None:
    """The tube that the finding is about: the one known there, or a new one that the customer owns."""
    known = socket.item_id if socket.item_id is not None else _standing(journal, socket)
    here = finding.state in (FoundState.TYPE, FoundState.UNREADABLE)
    if known is not None and here and not finding.another:
        item = item_row(journal.connection, known)
        if socket.item_id is not None or item.type_id == finding.type_id:
            if socket.item_id is not None and item.customer_id is not None:
                journal.update(Item, known, type_id=finding.type_id, marked=finding.marked)
            return known
    if known is not None and finding.state is not FoundState.NOT_LOOKED:
        carry(journal, item_row(journal.connection, known), Place.OUTSIDE, "", "no longer in the set")
    if not here:
        return None
    return _new_item(journal, shop, socket, finding)


def _standing(journal: Journal, socket: Row[Any]) -> int | None:
    """The tube that an earlier job left in this place, if any."""
    if socket.unit_socket_id is None:
        return None
    place, ref = place_of(socket)
    query = select(Item.id).where(Item.place == place, Item.place_ref == ref, Item.ended_by.is_(None))
    return journal.connection.scalars(query.order_by(Item.id.desc())).first()


def _new_item(journal: Journal, shop: Shop, socket: Row[Any], finding: _Finding) -> int:
    place, ref = place_of(socket)
    facts: dict[str, Any] = {
        "tag": None,
        "lot": False,
        "type_id": finding.type_id,
        "marked": finding.marked,
        "believed_because": finding.reason,
        "brand": "",
        "date_code": "",
        "construction": "",
        "condition": "",
        "boxed": False,
        "premium": False,
        "source": "",
        "cost": None,
        "price": None,
        "matched_set": None,
        "customer_id": socket.customer_id,
        "note": "",
        "place": place,
        "place_ref": ref,
        "quantity": 1,
    }
    item_id = journal.insert(Item, **facts, search_key=item_key(facts))
    why = "found in the set" if place == Place.SOCKET else "came loose"
    note_movement(journal, item_id, 1, start=(Place.OUTSIDE, ""), end=(place, ref), reason=why)
    return item_id


def _store_fit(journal: Journal, shop: Shop, socket: Row[Any], finding: _Finding) -> None:
    """Judge the fit of what was found and store it; an empty socket has none."""
    query = select(Fit.id).where(Fit.job_socket_id == socket.id, Fit.ended_by.is_(None))
    for old in journal.connection.scalars(query).all():
        journal.end(Fit, old)
    if finding.state not in (FoundState.TYPE, FoundState.UNREADABLE):
        return
    book = shop.book
    intended = book.designation(intended_id(socket))
    believed = book.designation(finding.type_id) or finding.marked or "an unreadable mark"
    fit = judge_fit(book.catalog, intended, believed, facts_of(shop, journal.connection, socket))
    journal.insert(
        Fit,
        job_socket_id=socket.id,
        outcome=str(fit.outcome),
        reasons=json.dumps([[r.rule, say(r)] for r in fit.reasons], ensure_ascii=False),
        conditions=fit.conditions,
    )


def judge_fit_again(journal: Journal, shop: Shop, socket_id: int) -> None:
    """Store the fit anew after the socket itself changed: another intended type or heater circuit."""
    socket = socket_row(journal.connection, socket_id)
    if socket.found_id is not None:
        finding = _Finding(FoundState(socket.state), socket.marked, socket.type_id)
        _store_fit(journal, shop, socket, finding)
