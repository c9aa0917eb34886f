"""Readings and observations, which are facts, and judgements, which are stored and superseded."""

from datetime import date

from sqlalchemy import ForeignKey, Index
from sqlalchemy.orm import Mapped, mapped_column

from tubeshelf.store.columns import Base, Row
from tubeshelf.store.tables.types import LIVE


class Reading(Row, Base):
    """One value of one setting line of one tube on one tester; a word is its position in the scale."""

    __tablename__ = "reading"
    __table_args__ = (
        Index("ix_reading_item", "item_id", "setting_line_id"),
        Index("ix_reading_socket", "job_socket_id"),
    )
    item_id: Mapped[int] = mapped_column(ForeignKey("item.id"))
    job_socket_id: Mapped[int | None] = mapped_column(ForeignKey("job_socket.id"))
    setting_line_id: Mapped[int] = mapped_column(ForeignKey("setting_line.id"))
    tester_id: Mapped[int] = mapped_column(ForeignKey("tester.id"))
    stage: Mapped[str]
    value: Mapped[float]
    unit: Mapped[str]
    settings: Mapped[tuple[str, ...]]
    line_v: Mapped[float | None]
    confirmed: Mapped[str]


class Observation(Row, Base):
    """Leakage, gas or noise with value and pins; short, open heater and the like as marks."""

    __tablename__ = "observation"
    __table_args__ = (
        Index("ix_observation_item", "item_id"),
        Index("ix_observation_socket", "job_socket_id"),
    )
    item_id: Mapped[int] = mapped_column(ForeignKey("item.id"))
    job_socket_id: Mapped[int | None] = mapped_column(ForeignKey("job_socket.id"))
    stage: Mapped[str]
    mark: Mapped[str]
    value: Mapped[float | None]
    unit: Mapped[str]
    pins: Mapped[str]
    is_fault: Mapped[bool]


class Judgement(Row, Base):
    """What was judged of one line of one tube at one stage, with the limits as they were then."""

    __tablename__ = "judgement"
    __table_args__ = (
        Index(
            "uq_judgement_live",
            "item_id",
            "setting_line_id",
            "stage",
            "place",
            unique=True,
            sqlite_where=LIVE,
            postgresql_where=LIVE,
        ),
        Index("ix_judgement_socket", "job_socket_id"),
    )
    item_id: Mapped[int] = mapped_column(ForeignKey("item.id"))
    job_socket_id: Mapped[int | None] = mapped_column(ForeignKey("job_socket.id"))
    place: Mapped[int] = mapped_column(default=0)
    setting_line_id: Mapped[int] = mapped_column(ForeignKey("setting_line.id"))
    stage: Mapped[str]
    reading_ids: Mapped[str]
    mean: Mapped[float]
    n: Mapped[int]
    u: Mapped[float | None]
    zone: Mapped[str]
    sure: Mapped[bool | None]
    probability: Mapped[float | None]
    above: Mapped[bool]
    bogey: Mapped[float | None]
    good_from: Mapped[float | None]
    reject_below: Mapped[float | None]
    above_limit: Mapped[float | None]
    unit: Mapped[str]
    source: Mapped[str]
    dated: Mapped[date | None]
    derived: Mapped[bool]
