"""Acts and what each did to which row, so that any act can be told in words and taken back."""

from datetime import datetime

from tubeshelf.store.columns import Base, Col, column


class Act(Base):
    """One thing somebody did: what, when, at which bench."""

    __tablename__ = "act"
    id: Col[int] = column(primary_key=True)
    at: Col[datetime]
    bench: Col[str]
    kind: Col[str]
    said: Col[str]
    reverses: Col[int | None] = column(to="act.id")
    reversed_by: Col[int | None] = column(to="act.id")


class Effect(Base):
    """One row that an act began, changed or ended; ``before`` and ``after`` are JSON of the columns."""

    __tablename__ = "effect"
    act_id: Col[int] = column(to="act.id", primary_key=True)
    seq: Col[int] = column(primary_key=True)
    table_name: Col[str]
    row_id: Col[int]
    before: Col[str | None]
    after: Col[str | None]


class Counter(Base):
    """The last number given out, such as the last tag; numbers are never given twice."""

    __tablename__ = "counter"
    name: Col[str] = column(primary_key=True)
    value: Col[int]


class Setting(Base):
    """The shop's own settings: its name, currency, the highest line volts it expects."""

    __tablename__ = "setting"
    key: Col[str] = column(primary_key=True)
    value: Col[str]
