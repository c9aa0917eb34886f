"""Rows to try the store with; only what a test is about is named, the rest is blank."""

from sqlalchemy import Connection, func, select

from tubeshelf.store.columns import Base
from tubeshelf.store.effects import table_of
from tubeshelf.store.journal import Journal
from tubeshelf.store.record import Record
from tubeshelf.store.tables import Customer, Item, Reading, SettingLine, Tester, Type

CUSTOMER: dict[str, object] = {"contact": "", "note": "", "search_key": ""}
ITEM: dict[str, object] = {
    **dict.fromkeys(("marked", "believed_because", "brand", "date_code", "construction", "condition"), ""),
    **dict.fromkeys(("source", "note", "place_ref", "search_key"), ""),
    **dict.fromkeys(("lot", "boxed", "premium"), False),
    "place": "shelf",
    "quantity": 1,
}
READING: dict[str, object] = {"unit": "µmho", "settings": ("62", "A"), "confirmed": "", "stage": "as found"}
JUDGEMENT: dict[str, object] = {
    "stage": "as found",
    "reading_ids": "[]",
    "mean": 1.0,
    "n": 1,
    "zone": "good",
    "above": False,
    "unit": "µmho",
    "source": "",
    "derived": False,
}


def add_customer(record: Record, name: str) -> int:
    """An act of its own that adds a customer."""
    with record.act("customer", f"Added {name}") as journal:
        return journal.insert(Customer, name=name, **CUSTOMER)


def rename(record: Record, customer: int, name: str) -> int:
    """An act of its own that renames a customer."""
    with record.act("customer", f"Renamed to {name}") as journal:
        journal.update(Customer, customer, name=name)
        return journal.act_id


def add_item(journal: Journal, **values: object) -> int:
    """A tube on the shelf."""
    return journal.insert(Item, **{**ITEM, **values})


def reading_place(record: Record) -> tuple[int, int, int]:
    """An item of a type, a setting line for it, and the tester it is of."""
    with record.act("prepare", "Prepared") as journal:
        kind = journal.insert(Type, key="12AX7", designation="12AX7")
        blank: dict[str, object] = {"words": (), "field_names": (), "note": "", "retired": False}
        tester = journal.insert(Tester, name="Bench tester", method="transconductance", unit="µmho", **blank)
        of: dict[str, object] = {"type_id": kind, "tester_id": tester, "position": 1, "quantity": "gm"}
        line = journal.insert(SettingLine, label="", section="1", fields=("62", "A"), retired=False, **of)
        return add_item(journal, type_id=kind), line, tester


def read(journal: Journal, place: tuple[int, int, int], value: float) -> int:
    """A reading of that value."""
    item, line, tester = place
    of: dict[str, object] = {"item_id": item, "setting_line_id": line, "tester_id": tester}
    return journal.insert(Reading, value=value, **of, **READING)


def names(record: Record) -> list[str]:
    """The names of the customers that hold, oldest first."""
    with record.reading() as connection:
        live = select(Customer.name).where(Customer.ended_by.is_(None)).order_by(Customer.id)
        return list(connection.execute(live).scalars())


def count(connection: Connection, table: type[Base]) -> int:
    """How many rows a table has, ended ones too."""
    return connection.execute(select(func.count()).select_from(table_of(table))).scalar_one()
