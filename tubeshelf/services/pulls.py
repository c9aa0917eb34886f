"""Tubes that come out of a set: into the job's bag, and from there back to the customer or onto the shelf."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tubeshelf.domain.errors import UserError
from tubeshelf.domain.jobs import Condition
from tubeshelf.domain.places import Place
from tubeshelf.domain.tags import format_tag
from tubeshelf.services.changes import Changes, Kind
from tubeshelf.services.movements import carry, item_row
from tubeshelf.services.promises import name_of
from tubeshelf.services.shelf_moves import known_bin
from tubeshelf.services.socket_facts import open_socket
from tubeshelf.store.tables import Item

if TYPE_CHECKING:
    from tubeshelf.services.shop import Shop


def pull(shop: Shop, *, socket_id: int, origin: str = "") -> tuple[None, Changes]:
    """Take the tube that was found out of its socket, into the job's bag. It stays the customer's."""
    with shop.record.act("pull") as journal:
        socket = open_socket(journal.connection, socket_id)
        row = None if socket.item_id is None else item_row(journal.connection, socket.item_id)
        if row is None or row.place != Place.SOCKET:
            raise UserError(f"There is no tube in {socket.position} to pull.")
        carry(journal, row, Place.BAG, str(socket.number), f"pulled, job {socket.number}")
        journal.said = f"{name_of(shop.book, row)} pulled from {socket.position}, job {socket.number}"
        things = frozenset({(Kind.JOB, socket.job_id), (Kind.ITEM, row.id)})
        return None, Changes(journal.act_id, journal.said, things, origin)


def keep_pull(shop: Shop, *, item_id: int, bin: str, origin: str = "") -> tuple[str, Changes]:
    """Take a tube out of a job's bag onto the shelf, because the customer left it to the shop; its tag.

    Until the customer says so it is not the shop's; whoever calls this has asked.
    """
    place = known_bin(bin)
    with shop.record.act("keep pull") as journal:
        row = item_row(journal.connection, item_id)
        if row.place != Place.BAG:
            raise UserError(f"{name_of(shop.book, row)} is not in a job's bag.")
        tag = journal.next_number("tag") if row.tag is None else row.tag
        journal.update(
            Item, item_id, tag=tag, customer_id=None, condition=row.condition or str(Condition.PULL)
        )
        row = item_row(journal.connection, item_id)
        carry(journal, row, Place.SHELF, place, "left to the shop by the customer")
        journal.said = f"{name_of(shop.book, row)} taken onto the shelf, {place}"
        things = frozenset({(Kind.ITEM, item_id), (Kind.JOB, 0)})
        return format_tag(tag), Changes(journal.act_id, journal.said, things, origin)
