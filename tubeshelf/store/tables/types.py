"""Types as the record knows them, testers, and what a type is tested with."""

from datetime import date

from sqlalchemy import Index, text

from tubeshelf.store.columns import Base, Col, Edited, Row, column

LIVE = text("ended_by IS NULL")
"""The condition of an index of live rows. Said here for SQLite; that of a server is in the migration, because
naming it here would import the server's dialect at every start."""


class Type(Base):
    """The identity of a tube type, never deleted: everything refers to it."""

    __tablename__ = "type"
    id: Col[int] = column(primary_key=True)
    key: Col[str] = column(unique=True)
    designation: Col[str]


class ShippedFact(Base):
    """The shipped facts of a type as JSON, replaced when the program brings newer ones."""

    __tablename__ = "shipped_fact"
    type_id: Col[int] = column(to="type.id", primary_key=True)
    facts: Col[str]
    table_version: Col[str]


class ShopFact(Row, Base):
    """One field of a type as the shop has it, as JSON, lying over the shipped value."""

    __tablename__ = "shop_fact"
    __table_args__ = (Index("uq_shop_fact_live", "type_id", "field", unique=True, sqlite_where=LIVE),)
    type_id: Col[int] = column(to="type.id")
    field: Col[str]
    value: Col[str]


class ShopSubstitute(Row, Base):
    """A substitution that this shop accepts, with its conditions."""

    __tablename__ = "shop_substitute"
    intended_id: Col[int] = column(to="type.id")
    found_id: Col[int] = column(to="type.id")
    grade: Col[int]
    conditions: Col[tuple[str, ...]]
    note: Col[str]


class Tester(Edited, Base):
    """An instrument: its method, scale, repeatability and default limits in its own scale.

    ``leakage_least`` is the least leakage resistance it lets pass, in MΩ, ``gas_most`` the most gas current
    in ``gas_unit``: µA, or its own divisions.
    """

    __tablename__ = "tester"
    name: Col[str]
    method: Col[str]
    unit: Col[str]
    full_scale: Col[float | None]
    words: Col[tuple[str, ...]]
    relative: Col[float | None]
    absolute: Col[float | None]
    default_good_from: Col[float | None]
    default_reject_below: Col[float | None]
    default_good_share: Col[float | None]
    default_reject_share: Col[float | None]
    field_names: Col[tuple[str, ...]]
    checked_on: Col[date | None]
    note: Col[str]
    retired: Col[bool]
    leakage_least: Col[float | None]
    gas_most: Col[float | None]
    gas_unit: Col[str] = column(default="")


class SettingLine(Edited, Base):
    """One test of a type on one tester: what to dial in and which section it reads."""

    __tablename__ = "setting_line"
    __table_args__ = (Index("ix_setting_line_of", "type_id", "tester_id"),)
    type_id: Col[int] = column(to="type.id")
    tester_id: Col[int] = column(to="tester.id")
    position: Col[int]
    label: Col[str]
    section: Col[str]
    quantity: Col[str]
    fields: Col[tuple[str, ...]]
    retired: Col[bool]


class Limit(Row, Base):
    """The limit of a setting line; a new one ends the old one, which old verdicts still refer to."""

    __tablename__ = "limit_value"
    __table_args__ = (Index("uq_limit_live", "setting_line_id", unique=True, sqlite_where=LIVE),)
    setting_line_id: Col[int] = column(to="setting_line.id")
    bogey: Col[float | None]
    good_from: Col[float | None]
    reject_below: Col[float | None]
    above: Col[float | None]
    source: Col[str]
    dated: Col[date | None]
