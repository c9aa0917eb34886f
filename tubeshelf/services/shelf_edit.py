"""What is written on a spare's card, how many of a type the shop wants, and which tubes belong together."""

from __future__ import annotations

from collections.abc import Collection
from typing import TYPE_CHECKING, Any, TypedDict, Unpack

from tubeshelf.domain.errors import UserError
from tubeshelf.services.amounts import few_enough, not_negative
from tubeshelf.services.changes import Changes, Kind
from tubeshelf.services.movements import carry, item_key, item_row, resting_place, spare_row
from tubeshelf.services.promises import name_of, refuse_promised
from tubeshelf.services.shelf_moves import known_condition, known_type
from tubeshelf.store.queries import shelf
from tubeshelf.store.tables import Item, Par

if TYPE_CHECKING:
    from sqlalchemy import Row

    from tubeshelf.services.shop import Shop
    from tubeshelf.store.journal import Journal


class ItemFields(TypedDict, total=False):
    """What can be edited of a tube or lot; money in minor units, ``matched_set`` only to ``None``."""

    type_name: str
    marked: str
    believed_because: str
    brand: str
    date_code: str
    construction: str
    condition: str
    boxed: bool
    premium: bool
    source: str
    cost: int | None
    price: int | None
    matched_set: int | None
    note: str


def edit_item(
    shop: Shop, *, item_id: int, expected_version: int, origin: str = "", **fields: Unpack[ItemFields]
) -> tuple[None, Changes]:
    """Change what is known of a tube or lot; fields that are not named stay as they are.

    Raises UserError for an unknown type or condition, and if somebody changed it since it was shown.
    """
    changed = _checked(shop, fields)
    with shop.record.act("edited") as journal:
        row = item_row(journal.connection, item_id)
        journal.update(
            Item,
            item_id,
            expected_version=expected_version,
            **changed,
            search_key=item_key({**row._mapping, **changed}),
        )
        _keep_apart(journal, shop, row, changed)
        said = f"Saved {name_of(shop.book, item_row(journal.connection, item_id))}"
        journal.said = said
        return None, Changes(journal.act_id, said, frozenset({(Kind.ITEM, item_id)}), origin)


def _checked(shop: Shop, fields: ItemFields) -> dict[str, Any]:
    changed: dict[str, Any] = {
        name: " ".join(value.split()) if isinstance(value, str) else value for name, value in fields.items()
    }
    if "type_name" in changed:
        changed["type_id"] = known_type(shop, changed.pop("type_name"))
    if "condition" in changed:
        changed["condition"] = known_condition(changed["condition"])
    for money in ("cost", "price"):
        not_negative(money, changed.get(money))
    if changed.get("matched_set") is not None:
        raise UserError("Put tubes into a set by choosing them together.")
    return changed


def _keep_apart(journal: Journal, shop: Shop, row: Row[Any], changed: dict[str, Any]) -> None:
    """A spare that becomes a reference tube (or is one no longer) goes off the shelf (or back)."""
    place = resting_place(changed.get("condition", row.condition))
    if place == row.place or row.place not in (resting_place(""), resting_place("reference")):
        return
    refuse_promised(journal.connection, shop.book, row, row.quantity)
    carry(journal, item_row(journal.connection, row.id), place, row.place_ref, "condition changed")


def set_par(shop: Shop, *, type_id: int, quantity: int | None, origin: str = "") -> tuple[None, Changes]:
    """Say how many of a type the shop wants on hand; ``None`` takes that back."""
    if quantity is not None and quantity < 0:
        raise UserError("Type how many are wanted on hand: 0 or more, or nothing.")
    few_enough(quantity or 0)
    with shop.record.act("par") as journal:
        old = shelf.par_row(journal.connection, type_id)
        if old is not None:
            journal.end(Par, old)
        if quantity is not None:
            journal.insert(Par, type_id=type_id, quantity=quantity)
        name = shop.book.designation(type_id)
        said = f"{name}: {quantity} wanted on hand" if quantity is not None else f"{name}: no par any more"
        journal.said = said
        return None, Changes(journal.act_id, said, frozenset({(Kind.TYPE, type_id)}), origin)


def make_set(shop: Shop, *, item_ids: Collection[int], origin: str = "") -> tuple[int, Changes]:
    """Say that tubes on the shelf belong together as a matched set; its number.

    Raises UserError for fewer than two, a lot, another type or a tube that is in a set already.
    """
    chosen = sorted(set(item_ids))
    if len(chosen) < 2:
        raise UserError("Choose at least two tubes for a matched set.")
    with shop.record.act("set made") as journal:
        rows = [spare_row(journal.connection, shop.book, item_id) for item_id in chosen]
        for row in rows:
            if row.lot:
                raise UserError(
                    f"Tag the tubes of {name_of(shop.book, row)} first: a set is made of single tubes."
                )
            if row.matched_set is not None:
                raise UserError(
                    f"{name_of(shop.book, row)} is in set {row.matched_set} already: break that first."
                )
        if len({row.type_id for row in rows}) > 1:
            raise UserError("A matched set is made of tubes of one type.")
        number = journal.next_number("set")
        for item_id in chosen:
            journal.update(Item, item_id, matched_set=number)
        said = f"Set {number}: {len(chosen)} matched {shop.book.designation(rows[0].type_id)}"
        journal.said = said
        return number, Changes(journal.act_id, said, frozenset((Kind.ITEM, i) for i in chosen), origin)
