"""What can lie on a shelf or stand in a socket, and every movement of it."""

from sqlalchemy import CheckConstraint, Index, text

from tubeshelf.store.columns import Base, Col, Edited, Row, column
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
    tag: Col[int | None] = column(unique=True)
    lot: Col[bool]
    type_id: Col[int | None] = column(to="type.id")
    marked: Col[str]
    believed_because: Col[str]
    brand: Col[str]
    date_code: Col[str]
    construction: Col[str]
    condition: Col[str]
    boxed: Col[bool]
    premium: Col[bool]
    source: Col[str]
    cost: Col[int | None]
    price: Col[int | None]
    matched_set: Col[int | None]
    customer_id: Col[int | None] = column(to="customer.id")
    note: Col[str]
    place: Col[str]
    place_ref: Col[str]
    quantity: Col[int]
    search_key: Col[str] = column(index=True)


class Movement(Row, Base):
    """So many of an item went from one place to another; the truth that counts are made of."""

    __tablename__ = "movement"
    __table_args__ = (CheckConstraint("quantity > 0", name="quantity"),)
    item_id: Col[int] = column(to="item.id", index=True)
    quantity: Col[int]
    from_place: Col[str]
    from_ref: Col[str]
    to_place: Col[str]
    to_ref: Col[str]
    reason: Col[str]


class Promise(Row, Base):
    """A spare kept for a job; at most one open promise a tube, several on a lot (``tube`` false)."""

    __tablename__ = "promise"
    __table_args__ = (
        Index(
            "uq_promise_live",
            "item_id",
            unique=True,
            sqlite_where=text("ended_by IS NULL AND tube"),
        ),
    )
    item_id: Col[int] = column(to="item.id")
    tube: Col[bool]
    quantity: Col[int]
    job_id: Col[int] = column(to="job.id", index=True)
    job_socket_id: Col[int | None] = column(to="job_socket.id")


class Par(Row, Base):
    """How many of a type the shop wants on hand."""

    __tablename__ = "par"
    __table_args__ = (Index("uq_par_live", "type_id", unique=True, sqlite_where=LIVE),)
    type_id: Col[int] = column(to="type.id")
    quantity: Col[int]
