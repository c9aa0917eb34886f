"""Jobs, their sockets, what was found in them, and what was decided."""

from datetime import date

from sqlalchemy import ForeignKey, Index
from sqlalchemy.orm import Mapped, mapped_column

from tubeshelf.store.columns import Base, Edited, Row
from tubeshelf.store.tables.equipment import SocketFacts
from tubeshelf.store.tables.types import LIVE


class Job(Edited, Base):
    """One visit to the bench: of one unit, or of a box of loose tubes (``equipment_id`` empty)."""

    __tablename__ = "job"
    number: Mapped[int] = mapped_column(unique=True)
    customer_id: Mapped[int] = mapped_column(ForeignKey("customer.id"), index=True)
    equipment_id: Mapped[int | None] = mapped_column(ForeignKey("equipment.id"), index=True)
    tester_id: Mapped[int | None] = mapped_column(ForeignKey("tester.id"))
    title: Mapped[str]
    complaint: Mapped[str]
    scope: Mapped[str]
    intake: Mapped[str]
    status: Mapped[str] = mapped_column(index=True)
    received_on: Mapped[date]
    promised_on: Mapped[date | None]
    closed_on: Mapped[date | None]
    labour: Mapped[int]
    comeback_of: Mapped[int | None] = mapped_column(ForeignKey("job.id"))
    comeback_note: Mapped[str]
    search_key: Mapped[str] = mapped_column(index=True)


class JobSocket(SocketFacts, Edited, Base):
    """A job's own copy of a socket, or one line of a box of loose tubes.

    ``action`` is what the technician said, empty while the proposal stands; ``disposition`` how the socket
    ended; ``fitted_item_id`` the tube put into it by this job.
    """

    __tablename__ = "job_socket"
    job_id: Mapped[int] = mapped_column(ForeignKey("job.id"), index=True)
    unit_socket_id: Mapped[int | None] = mapped_column(ForeignKey("unit_socket.id"), index=True)
    modified_type_id: Mapped[int | None] = mapped_column(ForeignKey("type.id"))
    action: Mapped[str]
    action_note: Mapped[str]
    disposition: Mapped[str]
    fitted_item_id: Mapped[int | None] = mapped_column(ForeignKey("item.id"))


class Found(Row, Base):
    """What was in a socket: a state, and for a type the mark as read and the type as believed, with why."""

    __tablename__ = "found"
    __table_args__ = (
        Index("uq_found_live", "job_socket_id", unique=True, sqlite_where=LIVE, postgresql_where=LIVE),
    )
    job_socket_id: Mapped[int] = mapped_column(ForeignKey("job_socket.id"))
    state: Mapped[str]
    marked: Mapped[str]
    type_id: Mapped[int | None] = mapped_column(ForeignKey("type.id"))
    reason: Mapped[str]
    item_id: Mapped[int | None] = mapped_column(ForeignKey("item.id"))


class Fit(Row, Base):
    """A stored fit of what was found: outcome, reasons (JSON) and conditions."""

    __tablename__ = "fit"
    __table_args__ = (
        Index("uq_fit_live", "job_socket_id", unique=True, sqlite_where=LIVE, postgresql_where=LIVE),
    )
    job_socket_id: Mapped[int] = mapped_column(ForeignKey("job_socket.id"))
    outcome: Mapped[str]
    reasons: Mapped[str]
    conditions: Mapped[tuple[str, ...]]


class Answer(Row, Base):
    """The customer's answer for one socket: agreed, declined, ask again."""

    __tablename__ = "answer"
    __table_args__ = (
        Index("uq_answer_live", "job_socket_id", unique=True, sqlite_where=LIVE, postgresql_where=LIVE),
    )
    job_socket_id: Mapped[int] = mapped_column(ForeignKey("job_socket.id"))
    answer: Mapped[str]


class Approval(Row, Base):
    """Who approved an estimate, on which day, how, and up to how much (minor units)."""

    __tablename__ = "approval"
    job_id: Mapped[int] = mapped_column(ForeignKey("job.id"), index=True)
    who: Mapped[str]
    on: Mapped[date]
    how: Mapped[str]
    ceiling: Mapped[int | None]
    note: Mapped[str]
