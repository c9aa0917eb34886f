"""What can lie on a shelf or stand in a socket, and every movement of it."""

from sqlalchemy import CheckConstraint, ForeignKey, Index, text
from sqlalchemy.orm import Mapped, mapped_column

from tubeshelf.store.columns import Base, Edited, Row
from tubeshelf.store.tables.types import LIVE


class Item(Edited, Base):
    """One tube (quantity 1) or a counted lot. Place and quantity are cached from the movements.

    ``place`` is outside, shelf, socket, bag, customer, sold, scrap or reference; ``place_ref`` the bin, the
    unit's socket or the job. An item without ``customer_id`` is the shop's.
    """

    __tablename__ = "item"
    __table_args__ = (
        CheckConstraint("quantity >= 0", name="quantity"),
        CheckConstraint("lot OR quantity <= 1", name="one_tube"),
        Index("ix_item_place", "place", "type_id"),
    )
    tag: Mapped[int | None] = mapped_column(unique=True)
    lot: Mapped[bool]
    type_id: Mapped[int | None] = mapped_column(ForeignKey("type.id"))
    marked: Mapped[str]
    believed_because: Mapped[str]
    brand: Mapped[str]
    date_code: Mapped[str]
    construction: Mapped[str]
    condition: Mapped[str]
    boxed: Mapped[bool]
    premium: Mapped[bool]
    source: Mapped[str]
    cost: Mapped[int | None]
    price: Mapped[int | None]
    matched_set: Mapped[int | None]
    customer_id: Mapped[int | None] = mapped_column(ForeignKey("customer.id"))
    note: Mapped[str]
    place: Mapped[str]
    place_ref: Mapped[str]
    quantity: Mapped[int]
    search_key: Mapped[str] = mapped_column(index=True)


class Movement(Row, Base):
    """So many of an item went from one place to another; the truth that counts are made of."""

    __tablename__ = "movement"
    __table_args__ = (CheckConstraint("quantity > 0", name="quantity"),)
    item_id: Mapped[int] = mapped_column(ForeignKey("item.id"), index=True)
    quantity: Mapped[int]
    from_place: Mapped[str]
    from_ref: Mapped[str]
    to_place: Mapped[str]
    to_ref: Mapped[str]
    reason: Mapped[str]


class Promise(Row, Base):
    """A spare kept for a job; at most one open promise a tube, several on a lot (``tube`` false)."""

    __tablename__ = "promise"
    __table_args__ = (
        Index(
            "uq_promise_live",
            "item_id",
            unique=True,
            sqlite_where=text("ended_by IS NULL AND tube"),
            postgresql_where=text("ended_by IS NULL AND tube"),
        ),
    )
    item_id: Mapped[int] = mapped_column(ForeignKey("item.id"))
    tube: Mapped[bool]
    quantity: Mapped[int]
    job_id: Mapped[int] = mapped_column(ForeignKey("job.id"), index=True)
    job_socket_id: Mapped[int | None] = mapped_column(ForeignKey("job_socket.id"))


class Par(Row, Base):
    """How many of a type the shop wants on hand."""

    __tablename__ = "par"
    __table_args__ = (
        Index("uq_par_live", "type_id", unique=True, sqlite_where=LIVE, postgresql_where=LIVE),
    )
    type_id: Mapped[int] = mapped_column(ForeignKey("type.id"))
    quantity: Mapped[int]
