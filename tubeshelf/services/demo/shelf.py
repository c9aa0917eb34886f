"""The demo's shelf: what came in when and what it read, and the small things that happen to spares."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from tubeshelf.domain.jobs import Condition
from tubeshelf.domain.judging import Stage
from tubeshelf.services.demo.tables import Entry, days, money, readings, table
from tubeshelf.services.demo.workshop import checks, note_check
from tubeshelf.services.shelf_edit import make_set, set_par
from tubeshelf.services.shelf_moves import count_lot, move, receive, scrap, sell, tag_from_lot
from tubeshelf.services.shelf_reading import read_spare
from tubeshelf.services.shelf_search import search

if TYPE_CHECKING:
    from tubeshelf.services.demo.workshop import Workshop
    from tubeshelf.services.views.shelf import ItemView
    from tubeshelf.store.tablefile import Row


def shelf_entries(workshop: Workshop) -> list[Entry]:
    """Everything that was done at the shelf over the years."""
    entries = [Entry(days(row, "received") or 0, partial(_receive, workshop, row)) for row in table("shelf")]
    entries.append(Entry(max(entry.days_ago for entry in entries), partial(_set_pars, workshop)))
    for days_ago, testers in checks().items():
        entries += [Entry(days_ago, partial(_check, workshop, row)) for row in testers]
    return entries + [Entry(days_ago, partial(act, workshop)) for days_ago, act in _SMALL_THINGS]


def _receive(workshop: Workshop, row: Row) -> None:
    lot = row.text("lot")
    tubes = row.text("reads").split()
    ids, _ = receive(
        workshop.shop,
        type_name=row.need("type"),
        bin=row.need("bin"),
        quantity=int(lot) if lot else len(tubes),
        lot=bool(lot),
        condition=row.need("condition"),
        marked=row.text("marked"),
        brand=row.text("brand"),
        date_code=row.text("date_code"),
        construction=row.text("construction"),
        boxed=row.text("boxed") == "yes",
        premium=row.text("premium") == "yes",
        source=row.text("source"),
        cost=money(row, "cost"),
        price=money(row, "price"),
        note=row.text("note"),
    )
    if lot:
        return
    for item_id, cell in zip(ids, tubes, strict=True):
        _read(workshop, item_id, row.need("type"), row.need("tester"), cell)
    if row.text("set") == "yes":
        make_set(workshop.shop, item_ids=ids)


def _read(
    workshop: Workshop,
    item_id: int,
    type_name: str,
    tester: str,
    cell: str,
    stage: Stage = Stage.INCOMING,
) -> None:
    tester_id, type_id = workshop.testers[tester], workshop.shop.book.id_of(type_name)
    if type_id is None:
        raise LookupError(f"{type_name} is not in the type table")
    for line_id, text in readings(cell, workshop.chart(tester_id, type_id)):
        taken, _ = read_spare(
            workshop.shop, item_id=item_id, line_id=line_id, tester_id=tester_id, text=text, stage=stage
        )
        if taken.slip is not None:
            raise ValueError(f"{type_name}: {taken.slip.question}")


def _set_pars(workshop: Workshop) -> None:
    for row in table("pars"):
        type_id = workshop.shop.book.id_of(row.need("type"))
        if type_id is None:
            raise row.error("the type is not in the table")
        set_par(workshop.shop, type_id=type_id, quantity=int(row.need("quantity")))


def _check(workshop: Workshop, tester: Row) -> None:
    """Read the reference tubes of a tester again, a touch lower than they came, and note the day."""
    for row in table("shelf"):
        if row.text("condition") == Condition.REFERENCE and row.text("tester") == tester.need("name"):
            spare = _spare(workshop, row.need("type"), bin=row.need("bin"))
            now = "/".join(f"{0.99 * float(part):.0f}" for part in row.need("reads").split("/"))
            _read(workshop, spare.id, row.need("type"), tester.need("name"), now, Stage.CHECK)
    note_check(workshop, tester)


def _spare(workshop: Workshop, type_name: str, *, bin: str, lot: bool = False) -> ItemView:
    """The last that came in of a type into a bin."""
    rows = [row for row in search(workshop.shop, find=type_name).rows if row.designation == type_name]
    return max((row for row in rows if row.bin == bin and row.lot is lot), key=lambda row: row.id)


def _tag_two(workshop: Workshop) -> None:
    lot = _spare(workshop, "12AU7", bin="A5", lot=True)
    ids, _ = tag_from_lot(workshop.shop, item_id=lot.id, quantity=2, bin="A4")
    for item_id, cell in zip(ids, ("1980/1930", "1260/1720"), strict=True):
        _read(workshop, item_id, "12AU7", "Ostrelle GM", cell)


def _count(workshop: Workshop) -> None:
    lot = _spare(workshop, "6H6", bin="D5", lot=True)
    count_lot(workshop.shop, item_id=lot.id, counted=lot.quantity - 1, reason="one broken in the bin")


def _move(workshop: Workshop) -> None:
    move(workshop.shop, item_id=_spare(workshop, "6SN7GT", bin="C3").id, bin="C6")


def _sell(workshop: Workshop) -> None:
    sell(workshop.shop, item_id=_spare(workshop, "5751", bin="A6").id, note="over the counter")


def _scrap(workshop: Workshop) -> None:
    lot = _spare(workshop, "6AQ5", bin="B6", lot=True)
    scrap(workshop.shop, item_id=lot.id, quantity=2, reason="open heater")


_SMALL_THINGS = ((640, _count), (520, _tag_two), (400, _move), (180, _sell), (90, _scrap))
