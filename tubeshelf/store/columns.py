"""Column types and the base of all tables: instants, JSON lists, and rows that acts begin and end."""

import json
from collections.abc import Mapping
from datetime import UTC, date, datetime, timedelta
from types import NoneType, UnionType
from typing import TYPE_CHECKING, Any, ClassVar, Generic, TypeVar, get_args, get_origin, get_type_hints

from sqlalchemy import (
    BigInteger,
    Boolean,
    Column,
    Date,
    Double,
    ForeignKey,
    Integer,
    MetaData,
    Table,
    Text,
)
from sqlalchemy.engine import Dialect
from sqlalchemy.schema import SchemaItem
from sqlalchemy.types import TypeDecorator, TypeEngine

EPOCH = datetime(1970, 1, 1, tzinfo=UTC)


class Instant(TypeDecorator[datetime]):
    """An aware UTC instant, stored as whole microseconds since 1970 so that both databases sort alike."""

    impl = BigInteger
    cache_ok = True

    def process_bind_param(self, value: datetime | None, dialect: Dialect) -> int | None:
        """Aware instants only: a naive one is a bug and raises ValueError."""
        if value is None:
            return None
        if value.tzinfo is None:
            raise ValueError("an instant needs its time zone")
        return (value - EPOCH) // timedelta(microseconds=1)

    def process_result_value(self, value: int | None, dialect: Dialect) -> datetime | None:
        """Back to an aware UTC instant."""
        return None if value is None else EPOCH + timedelta(microseconds=value)


class Texts(TypeDecorator[tuple[str, ...]]):
    """An ordered list of short texts, stored as a JSON array."""

    impl = Text
    cache_ok = True

    def process_bind_param(self, value: tuple[str, ...] | None, dialect: Dialect) -> str | None:
        """A JSON array, keeping every character as typed."""
        return None if value is None else json.dumps(list(value), ensure_ascii=False)

    def process_result_value(self, value: str | None, dialect: Dialect) -> tuple[str, ...] | None:
        """A tuple of texts."""
        return None if value is None else tuple(json.loads(value))


T = TypeVar("T")


class Col(Generic[T]):
    """Annotates a column by its kind of value; on the class it is the column."""

    if TYPE_CHECKING:

        def __get__(self, instance: None, owner: "type[Base]") -> Column[T]: ...


KINDS: Mapping[object, type[TypeEngine[Any]]] = {
    bool: Boolean,
    date: Date,
    datetime: Instant,
    float: Double,
    int: Integer,
    str: Text,
    tuple[str, ...]: Texts,
}


def column(
    *,
    to: str = "",
    primary_key: bool = False,
    unique: bool | None = None,
    index: bool | None = None,
    default: object = None,
) -> Any:
    """What a column has beside its kind of value; ``to`` is the column that it refers to."""

    def made(name: str, kind: object) -> Column[Any]:  # anew for each table that inherits it
        nullable = isinstance(kind, UnionType)
        value = next(k for k in get_args(kind) if k is not NoneType) if nullable else kind
        return Column(
            name,
            KINDS[value],
            *([ForeignKey(to)] if to else []),
            nullable=nullable,
            primary_key=primary_key,
            unique=unique,
            index=index,
            default=default,
        )

    return made


class Base:
    """All tables of the record, with constraint names that migrations can refer to.

    A subclass names a Core table and, as ``Col[kind]``, its columns, nullable where ``None`` is a kind; then
    ``Job.number`` is a column, typed. Rows are never made into objects, so the ORM is left out: to import it
    and to map the tables was a fifth of the way to the first page.
    """

    metadata: ClassVar[MetaData] = MetaData(
        naming_convention={
            "ix": "ix_%(column_0_label)s",
            "uq": "uq_%(table_name)s_%(column_0_name)s",
            "ck": "ck_%(table_name)s_%(constraint_name)s",
            "fk": "fk_%(table_name)s_%(column_0_name)s",
            "pk": "pk_%(table_name)s",
        }
    )
    __tablename__: ClassVar[str]
    __table_args__: ClassVar[tuple[SchemaItem, ...]] = ()
    __table__: ClassVar[Table]

    def __init_subclass__(cls) -> None:
        kinds = {
            name: get_args(hint)[0] for name, hint in get_type_hints(cls).items() if get_origin(hint) is Col
        }
        columns = [getattr(cls, name, column())(name, kind) for name, kind in kinds.items()]
        cls.__table__ = Table(cls.__tablename__, cls.metadata, *columns, *cls.__table_args__)
        for made in columns:
            setattr(cls, made.name, made)

    @classmethod
    def __clause_element__(cls) -> Table:
        """The table, where SQLAlchemy is given the class."""
        return cls.__table__


class Row:
    """A row that an act began and that a later act may have ended: superseded or taken back.

    Ended rows stay; a query for what holds now asks for ``ended_by IS NULL``.
    """

    id: Col[int] = column(primary_key=True)
    begun_by: Col[int] = column(to="act.id")
    ended_by: Col[int | None] = column(to="act.id")


class Edited(Row):
    """A row that two benches may edit: its version rises by one with each change."""

    version: Col[int] = column(default=1)
