"""Spares in and out: receive, tag, move, scrap, sell, give back, count."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from sqlalchemy import Row

from tubeshelf.domain.errors import UserError
from tubeshelf.domain.jobs import Condition
from tubeshelf.domain.places import Place
from tubeshelf.domain.tags import format_tag
from tubeshelf.services.amounts import few_enough, not_negative
from tubeshelf.services.changes import Changes, Kind
from tubeshelf.services.movements import (
    carry,
    item_row,
    new_items,
    note_movement,
    resting_place,
    spare_row,
    take_away,
    take_from_lot,
)
from tubeshelf.services.promises import name_of, refuse_promised
from tubeshelf.store.tables import Item

if TYPE_CHECKING:
    from tubeshelf.services.shop import Shop
    from tubeshelf.store.journal import Journal

MOST_TAGS = 500
"""Tags given out at once at most; more is a lot to be counted."""


def receive(
    shop: Shop,
    *,
    type_name: str,
    bin: str,
    quantity: int = 1,
    lot: bool = False,
    condition: Condition | str = Condition.USED_TESTED,
    marked: str = "",
    brand: str = "",
    date_code: str = "",
    construction: str = "",
    boxed: bool = False,
    premium: bool = False,
    source: str = "",
    cost: int | None = None,
    price: int | None = None,
    matched_set: int | None = None,
    note: str = "",
    origin: str = "",
) -> tuple[tuple[int, ...], Changes]:
    """Put tubes on the shelf: a counted lot, or so many tubes that each get a tag; the ids of the items.

    Money in minor units, for one tube. Raises UserError for an unknown type, no bin, or a number below 1.
    """
    facts: dict[str, Any] = {
        "type_id": known_type(shop, type_name),
        "marked": " ".join(marked.split()) or " ".join(type_name.split()),
        "believed_because": "",
        "brand": brand.strip(),
        "date_code": date_code.strip(),
        "construction": construction.strip(),
        "condition": known_condition(condition),
        "boxed": boxed,
        "premium": premium,
        "source": source.strip(),
        "cost": not_negative("cost", cost),
        "price": not_negative("price", price),
        "matched_set": matched_set,
        "customer_id": None,
        "note": note.strip(),
    }
    where = known_bin(bin)
    if quantity < 1:
        raise UserError("Type how many: at least 1.")
    few_enough(quantity)
    if not lot and quantity > MOST_TAGS:
        raise UserError(f"At most {MOST_TAGS} tubes are tagged at once: receive them as a lot.")
    each = [quantity] if lot else [1] * quantity
    place = resting_place(facts["condition"])
    with shop.record.act("received") as journal:
        ids = new_items(journal, facts, each, place=place, bin=where, lot=lot)
        for item_id, n in zip(ids, each, strict=True):
            note_movement(
                journal, item_id, n, start=(Place.OUTSIDE, ""), end=(place, where), reason="received"
            )
        name = shop.book.designation(facts["type_id"])
        said = f"Received {quantity} {name} in {where}" + (" as a lot" if lot else "")
        return tuple(ids), _done(journal, said, ids, origin)


def tag_from_lot(
    shop: Shop, *, item_id: int, quantity: int = 1, bin: str | None = None, origin: str = ""
) -> tuple[tuple[int, ...], Changes]:
    """Take tubes out of a lot and give each a tag; they lie in the lot's bin, or in another."""
    with shop.record.act("tagged") as journal:
        row = _spare(shop, journal, item_id, quantity)
        if not row.lot:
            raise UserError(f"{name_of(shop.book, row)} has its tag already.")
        if quantity > MOST_TAGS:
            raise UserError(f"At most {MOST_TAGS} tubes are tagged at once.")
        refuse_promised(journal.connection, shop.book, row, quantity)
        where = row.place_ref if bin is None else known_bin(bin)
        ids = take_from_lot(journal, row, quantity, bin=where, lot=False, reason="tagged")
        tags = [format_tag(item_row(journal.connection, new_id).tag) for new_id in (ids[0], ids[-1])]
        name = shop.book.designation(row.type_id) or row.marked
        said = f"Tagged {name} {tags[0]}" + (f" to {tags[1]}" if quantity > 1 else "")
        return tuple(ids), _done(journal, said, [item_id, *ids], origin)


def move(
    shop: Shop, *, item_id: int, bin: str, quantity: int | None = None, origin: str = ""
) -> tuple[int, Changes]:
    """Move a spare to another bin; part of a lot becomes a lot of its own. The id of what lies there now."""
    where = known_bin(bin)
    with shop.record.act("moved") as journal:
        row = _spare(shop, journal, item_id, quantity)
        if where == row.place_ref:
            raise UserError(f"{_capital(name_of(shop.book, row))} lies in {where} already.")
        n = row.quantity if quantity is None else quantity
        said = f"Moved {_some(shop, row, n)} to {where}"
        if n == row.quantity:
            carry(journal, row, Place(row.place), where, "moved")
            return item_id, _done(journal, said, [item_id], origin)
        refuse_promised(journal.connection, shop.book, row, n)
        (new_id,) = take_from_lot(journal, row, n, bin=where, lot=True, reason="moved")
        return new_id, _done(journal, said, [item_id, new_id], origin)


def scrap(
    shop: Shop, *, item_id: int, reason: str, quantity: int | None = None, origin: str = ""
) -> tuple[None, Changes]:
    """Throw a spare (or some of a lot) away; the reason is kept with it."""
    if not reason.strip():
        raise UserError("Say why it is scrapped, such as short or open heater.")
    return _take_off(shop, item_id, quantity, Place.SCRAP, "Scrapped", reason.strip(), origin)


def sell(
    shop: Shop, *, item_id: int, quantity: int | None = None, note: str = "", origin: str = ""
) -> tuple[None, Changes]:
    """Sell a spare (or some of a lot) over the counter."""
    return _take_off(shop, item_id, quantity, Place.SOLD, "Sold", note.strip() or "sold", origin)


def _take_off(
    shop: Shop, item_id: int, quantity: int | None, place: Place, verb: str, reason: str, origin: str
) -> tuple[None, Changes]:
    with shop.record.act(verb.lower()) as journal:
        row = _spare(shop, journal, item_id, quantity)
        n = row.quantity if quantity is None else quantity
        refuse_promised(journal.connection, shop.book, row, n)
        said = f"{verb} {_some(shop, row, n)}"
        take_away(journal, row, n, place, reason)
        return None, _done(journal, said, [item_id], origin)


def give_back(shop: Shop, *, item_id: int, origin: str = "") -> tuple[None, Changes]:
    """Hand a customer's own tube back to the customer."""
    with shop.record.act("given back") as journal:
        row = item_row(journal.connection, item_id)
        if row.customer_id is None:
            raise UserError(
                f"{_capital(name_of(shop.book, row))} is the shop's own: nobody to give it back to."
            )
        if row.place == Place.CUSTOMER:
            raise UserError(f"{name_of(shop.book, row)} went back to {row.owner} already.")
        carry(journal, row, Place.CUSTOMER, "", "given back")
        return None, _done(journal, f"Gave {name_of(shop.book, row)} back to {row.owner}", [item_id], origin)


def count_lot(
    shop: Shop, *, item_id: int, counted: int, reason: str = "", origin: str = ""
) -> tuple[None, Changes]:
    """Write down how many of a lot were counted; a tube that is missing counts 0."""
    if counted < 0:
        raise UserError("Type how many were counted: 0 or more.")
    few_enough(counted)
    with shop.record.act("counted") as journal:
        row = item_row(journal.connection, item_id)
        if row.place not in (Place.SHELF, Place.REFERENCE):
            spare_row(journal.connection, shop.book, item_id)
        if not row.lot and counted > 1:
            raise UserError(f"{name_of(shop.book, row)} is one tube: count 1, or 0 if it is missing.")
        said = f"Counted {name_of(shop.book, row)}: {counted}"
        missing, why = row.quantity - counted, " ".join(filter(None, ("counted", reason.strip())))
        if missing > 0:
            refuse_promised(journal.connection, shop.book, row, missing)
            take_away(journal, row, missing, Place.OUTSIDE, why)
        elif missing < 0:
            here = (row.place, row.place_ref)
            note_movement(journal, item_id, -missing, start=(Place.OUTSIDE, ""), end=here, reason=why)
            journal.update(Item, item_id, quantity=counted)
        return None, _done(journal, said, [item_id], origin)


def _spare(shop: Shop, journal: Journal, item_id: int, quantity: int | None) -> Row[Any]:
    """The spare of which so many are taken (all, if not said)."""
    row = spare_row(journal.connection, shop.book, item_id)
    if quantity is not None and quantity < 1:
        raise UserError("Type how many: at least 1.")
    if quantity is not None and quantity > row.quantity:
        raise UserError(f"There are only {row.quantity} of {name_of(shop.book, row)}: take at most so many.")
    return row


def _some(shop: Shop, row: Row[Any], quantity: int) -> str:
    name = name_of(shop.book, row)
    return name if quantity == row.quantity else f"{quantity} of {name}"


def known_type(shop: Shop, name: str) -> int:
    """The type that somebody typed; UserError with names that look like it."""
    if not name.strip():
        raise UserError("Type what tube it is, such as 12AX7.")
    type_id = shop.book.id_of(name.strip())
    if type_id is None:
        near = ", ".join(shop.book.catalog.near(name))
        raise UserError(
            f"“{name.strip()}” is not in the type table: "
            + (f"did you mean {near}?" if near else "check the name, or add it on the Types page.")
        )
    return type_id


def known_condition(condition: str) -> str:
    """The claimed condition in the trade's words; UserError for another."""
    if condition not in list(Condition):
        raise UserError(f"“{condition}” is no claimed condition: choose one of {', '.join(Condition)}.")
    return str(condition)


def known_bin(bin: str) -> str:
    """The bin's name without stray spaces; UserError if there is none."""
    name = " ".join(bin.split())
    if not name:
        raise UserError("Type the bin it lies in, such as C2.")
    return name


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _done(journal: Journal, said: str, item_ids: list[int], origin: str) -> Changes:
    journal.said = said
    return Changes(journal.act_id, said, frozenset((Kind.ITEM, item_id) for item_id in item_ids), origin)
