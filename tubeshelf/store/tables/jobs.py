"""Jobs, their sockets, what was found in them, and what was decided."""

from datetime import date

from sqlalchemy import Index

from tubeshelf.store.columns import Base, Col, Edited, Row, column
from tubeshelf.store.tables.equipment import SocketFacts
from tubeshelf.store.tables.types import LIVE


class Job(Edited, Base):
    """One visit to the bench: of one unit, or of a box of loose tubes (``equipment_id`` empty).

    ``warranty`` is what the shop promised when it closed the job, for ``warranty_days`` if it had a term;
    ``None`` in an open job, and where it was closed before anybody wrote that down.
    """

    __tablename__ = "job"
    number: Col[int] = column(unique=True)
    customer_id: Col[int] = column(to="customer.id", index=True)
    equipment_id: Col[int | None] = column(to="equipment.id", index=True)
    tester_id: Col[int | None] = column(to="tester.id")
    title: Col[str]
    complaint: Col[str]
    scope: Col[str]
    intake: Col[str]
    status: Col[str] = column(index=True)
    received_on: Col[date]
    promised_on: Col[date | None]
    closed_on: Col[date | None]
    warranty: Col[str | None]
    warranty_days: Col[int | None]
    labour: Col[int]
    comeback_of: Col[int | None] = column(to="job.id")
    comeback_note: Col[str]
    search_key: Col[str] = column(index=True)


class JobSocket(SocketFacts, Edited, Base):
    """A job's own copy of a socket, or one line of a box of loose tubes.

    ``action`` is what the technician said, empty while the proposal stands; ``disposition`` how the socket
    ended; ``fitted_item_id`` the tube put into it by this job.
    """

    __tablename__ = "job_socket"
    job_id: Col[int] = column(to="job.id", index=True)
    unit_socket_id: Col[int | None] = column(to="unit_socket.id", index=True)
    modified_type_id: Col[int | None] = column(to="type.id")
    action: Col[str]
    action_note: Col[str]
    disposition: Col[str]
    fitted_item_id: Col[int | None] = column(to="item.id")


class Found(Row, Base):
    """What was in a socket: a state, and for a type the mark as read and the type as believed, with why."""

    __tablename__ = "found"
    __table_args__ = (Index("uq_found_live", "job_socket_id", unique=True, sqlite_where=LIVE),)
    job_socket_id: Col[int] = column(to="job_socket.id")
    state: Col[str]
    marked: Col[str]
    type_id: Col[int | None] = column(to="type.id")
    reason: Col[str]
    item_id: Col[int | None] = column(to="item.id")


class Fit(Row, Base):
    """A stored fit of what was found: outcome, reasons (JSON) and conditions."""

    __tablename__ = "fit"
    __table_args__ = (Index("uq_fit_live", "job_socket_id", unique=True, sqlite_where=LIVE),)
    job_socket_id: Col[int] = column(to="job_socket.id")
    outcome: Col[str]
    reasons: Col[str]
    conditions: Col[tuple[str, ...]]


class Answer(Row, Base):
    """The customer's answer for one socket: agreed, declined, ask again; how and on which day."""

    __tablename__ = "answer"
    __table_args__ = (Index("uq_answer_live", "job_socket_id", unique=True, sqlite_where=LIVE),)
    job_socket_id: Col[int] = column(to="job_socket.id")
    answer: Col[str]
    how: Col[str] = column(default="")
    on: Col[date | None]


class Approval(Row, Base):
    """Who approved an estimate, on which day, how, and up to how much (minor units)."""

    __tablename__ = "approval"
    job_id: Col[int] = column(to="job.id", index=True)
    who: Col[str]
    on: Col[date]
    how: Col[str]
    ceiling: Col[int | None]
    note: Col[str]


class SetValue(Row, Base):
    """What was measured in the set, once or at a socket, in the unit of its field."""

    __tablename__ = "set_value"
    job_id: Col[int] = column(to="job.id", index=True)
    set_field_id: Col[int] = column(to="set_field.id")
    job_socket_id: Col[int | None] = column(to="job_socket.id")
    value: Col[float]


class Aside(Row, Base):
    """A set put aside with sockets empty on purpose: which (with blanks between them) and why."""

    __tablename__ = "aside"
    __table_args__ = (Index("uq_aside_live", "job_id", unique=True, sqlite_where=LIVE),)
    job_id: Col[int] = column(to="job.id")
    positions: Col[str]
    why: Col[str]


class Cover(Row, Base):
    """Whether a comeback is covered by what was promised, and why."""

    __tablename__ = "cover"
    __table_args__ = (Index("uq_cover_live", "job_id", unique=True, sqlite_where=LIVE),)
    job_id: Col[int] = column(to="job.id")
    covered: Col[bool]
    why: Col[str]


class SameTube(Row, Base):
    """At a comeback: is it the tube that was left in this place? yes, no, or can't tell."""

    __tablename__ = "same_tube"
    __table_args__ = (Index("uq_same_tube_live", "job_socket_id", unique=True, sqlite_where=LIVE),)
    job_socket_id: Col[int] = column(to="job_socket.id")
    answer: Col[str]
    note: Col[str]
