"""What an effect is told with: its table by name, and values as JSON can hold them."""

from datetime import date, datetime
from functools import cache

from sqlalchemy import Column, Date, Select, Table, bindparam, select

from tubeshelf.store.columns import Base, Instant, Texts


def table_of(table: type[Base]) -> Table:
    """The Core table behind a class."""
    return table.__table__


def word_of(table: type[Base]) -> str:
    """What one row of the table is called in a sentence."""
    return table.__tablename__.replace("_", " ")


@cache
def table_named(name: str) -> type[Base]:
    """The class of the table of that name."""
    return next(table for table in Base.__subclasses__() if table.__tablename__ == name)


@cache
def referring(name: str) -> tuple[Column[object], ...]:
    """The columns that refer to rows of that table, of tables whose rows can end."""
    columns = (c for table in Base.metadata.sorted_tables if "ended_by" in table.c for c in table.c)
    return tuple(c for c in columns if any(key.column.table.name == name for key in c.foreign_keys))


@cache
def one_row(table: Table) -> Select[tuple[object, ...]]:
    """SELECT of the row ``row_id``; a server keeps it from others until the transaction ends."""
    return select(table).where(table.c.id == bindparam("row_id")).with_for_update()


def plain(value: object) -> object:
    """A column's value as JSON can hold it."""
    match value:
        case date():
            return value.isoformat()
        case tuple():
            return list(value)
        case _:
            return value


def unplain(column: Column[object], value: object) -> object:
    """The column's value again, from what ``plain`` made of it."""
    match value, column.type:
        case str(), Date():
            return date.fromisoformat(value)
        case str(), Instant():
            return datetime.fromisoformat(value)
        case list(), Texts():
            return tuple(value)
        case _:
            return value
