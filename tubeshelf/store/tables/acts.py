"""Acts and what each did to which row, so that any act can be told in words and taken back."""

from datetime import datetime

from sqlalchemy import ForeignKey, Integer
from sqlalchemy.orm import Mapped, mapped_column

from tubeshelf.store.columns import Base


class Act(Base):
    """One thing somebody did: what, when, at which bench."""

    __tablename__ = "act"
    id: Mapped[int] = mapped_column(Integer, primary_key=True)
    at: Mapped[datetime]
    bench: Mapped[str]
    kind: Mapped[str]
    said: Mapped[str]
    reverses: Mapped[int | None] = mapped_column(ForeignKey("act.id"))
    reversed_by: Mapped[int | None] = mapped_column(ForeignKey("act.id"))


class Effect(Base):
    """One row that an act began, changed or ended; ``before`` and ``after`` are JSON of the columns."""

    __tablename__ = "effect"
    act_id: Mapped[int] = mapped_column(ForeignKey("act.id"), primary_key=True)
    seq: Mapped[int] = mapped_column(primary_key=True)
    table_name: Mapped[str]
    row_id: Mapped[int]
    before: Mapped[str | None]
    after: Mapped[str | None]


class Counter(Base):
    """The last number given out, such as the last tag; numbers are never given twice."""

    __tablename__ = "counter"
    name: Mapped[str] = mapped_column(primary_key=True)
    value: Mapped[int]


class Setting(Base):
    """The shop's own settings: its name, currency, the highest line volts it expects."""

    __tablename__ = "setting"
    key: Mapped[str] = mapped_column(primary_key=True)
    value: Mapped[str]
