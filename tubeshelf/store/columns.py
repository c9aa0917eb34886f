"""Column types and the base of all tables: instants, JSON lists, and rows that acts begin and end."""

import json
from datetime import UTC, datetime, timedelta

from sqlalchemy import BigInteger, ForeignKey, Integer, MetaData, Text
from sqlalchemy.engine import Dialect
from sqlalchemy.orm import DeclarativeBase, Mapped, mapped_column
from sqlalchemy.types import TypeDecorator

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


class Base(DeclarativeBase):
    """All tables of the record, with constraint names that migrations can refer to."""

    metadata = MetaData(
        naming_convention={
            "ix": "ix_%(column_0_label)s",
            "uq": "uq_%(table_name)s_%(column_0_name)s",
            "ck": "ck_%(table_name)s_%(constraint_name)s",
            "fk": "fk_%(table_name)s_%(column_0_name)s",
            "pk": "pk_%(table_name)s",
        }
    )
    type_annotation_map = {datetime: Instant, tuple[str, ...]: Texts, str: Text}  # noqa: RUF012


class Row:
    """A row that an act began and that a later act may have ended: superseded or taken back.

    Ended rows stay; a query for what holds now asks for ``ended_by IS NULL``.
    """

    id: Mapped[int] = mapped_column(Integer, primary_key=True)
    begun_by: Mapped[int] = mapped_column(ForeignKey("act.id"))
    ended_by: Mapped[int | None] = mapped_column(ForeignKey("act.id"))


class Edited(Row):
    """A row that two benches may edit: its version rises by one with each change."""

    version: Mapped[int] = mapped_column(Integer, default=1)
