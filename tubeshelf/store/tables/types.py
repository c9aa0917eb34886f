"""Types as the record knows them, testers, and what a type is tested with."""

from datetime import date

from sqlalchemy import ForeignKey, Index, Integer, text
from sqlalchemy.orm import Mapped, mapped_column

from tubeshelf.store.columns import Base, Edited, Row

LIVE = text("ended_by IS NULL")


class Type(Base):
    """The identity of a tube type, never deleted: everything refers to it."""

    __tablename__ = "type"
    id: Mapped[int] = mapped_column(Integer, primary_key=True)
    key: Mapped[str] = mapped_column(unique=True)
    designation: Mapped[str]


class ShippedFact(Base):
    """The shipped facts of a type as JSON, replaced when the program brings newer ones."""

    __tablename__ = "shipped_fact"
    type_id: Mapped[int] = mapped_column(ForeignKey("type.id"), primary_key=True)
    facts: Mapped[str]
    table_version: Mapped[str]


class ShopFact(Row, Base):
    """One field of a type as the shop has it, as JSON, lying over the shipped value."""

    __tablename__ = "shop_fact"
    __table_args__ = (
        Index("uq_shop_fact_live", "type_id", "field", unique=True, sqlite_where=LIVE, postgresql_where=LIVE),
    )
    type_id: Mapped[int] = mapped_column(ForeignKey("type.id"))
    field: Mapped[str]
    value: Mapped[str]


class ShopSubstitute(Row, Base):
    """A substitution that this shop accepts, with its conditions."""

    __tablename__ = "shop_substitute"
    intended_id: Mapped[int] = mapped_column(ForeignKey("type.id"))
    found_id: Mapped[int] = mapped_column(ForeignKey("type.id"))
    grade: Mapped[int]
    conditions: Mapped[tuple[str, ...]]
    note: Mapped[str]


class Tester(Edited, Base):
    """An instrument: its method, scale, repeatability and default limits in its own scale."""

    __tablename__ = "tester"
    name: Mapped[str]
    method: Mapped[str]
    unit: Mapped[str]
    full_scale: Mapped[float | None]
    words: Mapped[tuple[str, ...]]
    relative: Mapped[float | None]
    absolute: Mapped[float | None]
    default_good_from: Mapped[float | None]
    default_reject_below: Mapped[float | None]
    default_good_share: Mapped[float | None]
    default_reject_share: Mapped[float | None]
    field_names: Mapped[tuple[str, ...]]
    checked_on: Mapped[date | None]
    note: Mapped[str]
    retired: Mapped[bool]


class SettingLine(Edited, Base):
    """One test of a type on one tester: what to dial in and which section it reads."""

    __tablename__ = "setting_line"
    __table_args__ = (Index("ix_setting_line_of", "type_id", "tester_id"),)
    type_id: Mapped[int] = mapped_column(ForeignKey("type.id"))
    tester_id: Mapped[int] = mapped_column(ForeignKey("tester.id"))
    position: Mapped[int]
    label: Mapped[str]
    section: Mapped[str]
    quantity: Mapped[str]
    fields: Mapped[tuple[str, ...]]
    retired: Mapped[bool]


class Limit(Row, Base):
    """The limit of a setting line; a new one ends the old one, which old verdicts still refer to."""

    __tablename__ = "limit_value"
    __table_args__ = (
        Index("uq_limit_live", "setting_line_id", unique=True, sqlite_where=LIVE, postgresql_where=LIVE),
    )
    setting_line_id: Mapped[int] = mapped_column(ForeignKey("setting_line.id"))
    bogey: Mapped[float | None]
    good_from: Mapped[float | None]
    reject_below: Mapped[float | None]
    above: Mapped[float | None]
    source: Mapped[str]
    dated: Mapped[date | None]
