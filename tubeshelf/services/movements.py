"""Moving tubes and lots: each movement is a row; the cached place and quantity follow in the same act."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from sqlalchemy import Connection, Row

from tubeshelf.domain.errors import UserError
from tubeshelf.domain.jobs import Condition
from tubeshelf.domain.places import Place
from tubeshelf.domain.tags import format_tag
from tubeshelf.services.folding import LONGEST_KEY, text_key
from tubeshelf.services.promises import name_of
from tubeshelf.store.queries import shelf
from tubeshelf.store.tables import Item, Movement

if TYPE_CHECKING:
    from tubeshelf.services.typebook import TypeBook
    from tubeshelf.store.journal import Journal

COPIED = (
    *("type_id", "marked", "believed_because", "brand", "date_code", "construction", "condition", "boxed"),
    *("premium", "source", "cost", "price", "customer_id", "note"),
)
"""What a tube taken out of a lot has in common with the rest of it."""

_FOUND_BY = ("marked", "brand", "date_code", "construction", "condition")

_WHERE = {
    Place.OUTSIDE: "is not on the shelf",
    Place.SOCKET: "is installed",
    Place.BAG: "is in a job's bag",
    Place.CUSTOMER: "went to its owner",
    Place.SOLD: "was sold",
    Place.SCRAP: "was scrapped",
}


def squeeze(text: str) -> str:
    """Letters and digits only, folded, so that ``B-03`` and ``b03`` are found by each other."""
    return "".join(filter(str.isalnum, text_key(text)))


def item_key(facts: Mapping[str, Any]) -> str:
    """The search key of an item: its tag, marks, claimed condition and bin."""
    tag = facts["tag"]
    texts = [*(facts[name] for name in _FOUND_BY), facts["place_ref"] if _on_shelf(facts) else ""]
    key = " ".join(filter(None, ("" if tag is None else format_tag(tag), *map(squeeze, texts))))
    return key[:LONGEST_KEY]


def _on_shelf(facts: Mapping[str, Any]) -> bool:
    return facts["place"] in (Place.SHELF, Place.REFERENCE)


def resting_place(condition: str) -> Place:
    """Where a spare of this condition lies: reference tubes are kept apart from the shelf."""
    return Place.REFERENCE if condition == Condition.REFERENCE else Place.SHELF


def item_row(connection: Connection, item_id: int) -> Row[Any]:
    """A tube or lot with its owner's name; UserError if it is gone from the record."""
    row = shelf.item(connection, item_id)
    if row is None:
        raise UserError("That tube is gone from the record; reload the page.")
    return row


def spare_row(connection: Connection, book: TypeBook, item_id: int) -> Row[Any]:
    """A tube or lot that lies on the shelf; UserError with where it is instead."""
    row = item_row(connection, item_id)
    if not _on_shelf({**row._mapping}):
        raise UserError(
            f"{name_of(book, row)} {_WHERE[Place(row.place)]}: it cannot be taken from the shelf."
        )
    if row.quantity == 0:
        raise UserError(f"Nothing is left of {name_of(book, row)}.")
    return row


def note_movement(
    journal: Journal,
    item_id: int,
    quantity: int,
    *,
    start: tuple[str, str],
    end: tuple[str, str],
    reason: str,
) -> None:
    """Write one movement; a place is its kind and which one."""
    journal.insert(
        Movement,
        item_id=item_id,
        quantity=quantity,
        from_place=str(start[0]),
        from_ref=start[1],
        to_place=str(end[0]),
        to_ref=end[1],
        reason=reason,
    )


def carry(journal: Journal, row: Row[Any], place: Place, ref: str, reason: str) -> None:
    """Move a whole tube or lot, with its cached place and search key."""
    note_movement(
        journal,
        row.id,
        max(row.quantity, 1),
        start=(row.place, row.place_ref),
        end=(place, ref),
        reason=reason,
    )
    facts = {**row._mapping, "place": place, "place_ref": ref}
    journal.update(Item, row.id, place=str(place), place_ref=ref, search_key=item_key(facts))


def take_away(
    journal: Journal, row: Row[Any], quantity: int, place: Place, reason: str, ref: str = ""
) -> None:
    """Take some of an item off the shelf for good; what is left of a lot stays where it is."""
    if not row.lot:
        carry(journal, row, place, ref, reason)
        return
    start = (row.place, row.place_ref)
    note_movement(journal, row.id, quantity, start=start, end=(place, ref), reason=reason)
    journal.update(Item, row.id, quantity=row.quantity - quantity)


def take_from_lot(
    journal: Journal, row: Row[Any], quantity: int, *, bin: str, lot: bool, reason: str
) -> list[int]:
    """Split a lot: so many go to a bin as one new lot, or as tubes that each get a tag.

    Returns the ids of the new items. Each has a movement that names the lot it came from.
    """
    place = resting_place(row.condition)
    facts = {name: row._mapping[name] for name in COPIED}
    each = [quantity] if lot else [1] * quantity
    new_ids = new_items(journal, facts, each, place=place, bin=bin, lot=lot)
    for new_id, n in zip(new_ids, each, strict=True):
        end, start = (place, bin), (Place.LOT, str(row.id))
        note_movement(journal, new_id, n, start=start, end=end, reason=reason)
    start, end = (row.place, row.place_ref), (Place.LOT, str(new_ids[0]) if len(new_ids) == 1 else "")
    note_movement(journal, row.id, quantity, start=start, end=end, reason=reason)
    journal.update(Item, row.id, quantity=row.quantity - quantity)
    return new_ids


def new_items(
    journal: Journal, facts: Mapping[str, Any], quantities: list[int], *, place: Place, bin: str, lot: bool
) -> list[int]:
    """Make items without their movements, which the caller writes; single tubes get the next tags."""
    rows: list[dict[str, object]] = []
    for quantity in quantities:
        tag = None if lot else journal.next_number("tag")
        row = {"matched_set": None, **facts, "tag": tag, "lot": lot, "quantity": quantity}
        row.update(place=str(place), place_ref=bin)
        rows.append({**row, "search_key": item_key(row)})
    return journal.insert_many(Item, rows)
