"""Readings and observations, which are facts, and judgements, which are stored and superseded."""

from datetime import date

from sqlalchemy import Index

from tubeshelf.store.columns import Base, Col, Row, column
from tubeshelf.store.tables.types import LIVE


class Reading(Row, Base):
    """One value of one setting line of one tube on one tester; a word is its position in the scale."""

    __tablename__ = "reading"
    __table_args__ = (
        Index("ix_reading_item", "item_id", "setting_line_id"),
        Index("ix_reading_socket", "job_socket_id"),
    )
    item_id: Col[int] = column(to="item.id")
    job_socket_id: Col[int | None] = column(to="job_socket.id")
    setting_line_id: Col[int] = column(to="setting_line.id")
    tester_id: Col[int] = column(to="tester.id")
    stage: Col[str]
    value: Col[float]
    unit: Col[str]
    settings: Col[tuple[str, ...]]
    line_v: Col[float | None]
    confirmed: Col[str]


class Observation(Row, Base):
    """Leakage, gas or noise with value and pins; short, open heater and the like as marks."""

    __tablename__ = "observation"
    __table_args__ = (
        Index("ix_observation_item", "item_id"),
        Index("ix_observation_socket", "job_socket_id"),
    )
    item_id: Col[int] = column(to="item.id")
    job_socket_id: Col[int | None] = column(to="job_socket.id")
    stage: Col[str]
    mark: Col[str]
    value: Col[float | None]
    unit: Col[str]
    pins: Col[str]
    is_fault: Col[bool]


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
        ),
        Index("ix_judgement_socket", "job_socket_id"),
    )
    item_id: Col[int] = column(to="item.id")
    job_socket_id: Col[int | None] = column(to="job_socket.id")
    place: Col[int] = column(default=0)
    setting_line_id: Col[int] = column(to="setting_line.id")
    stage: Col[str]
    reading_ids: Col[str]
    mean: Col[float]
    n: Col[int]
    u: Col[float | None]
    zone: Col[str]
    sure: Col[bool | None]
    probability: Col[float | None]
    above: Col[bool]
    bogey: Col[float | None]
    good_from: Col[float | None]
    reject_below: Col[float | None]
    above_limit: Col[float | None]
    unit: Col[str]
    source: Col[str]
    dated: Col[date | None]
    derived: Col[bool]
