"""Customers, models of equipment with their complements, and the customers' own units."""

from sqlalchemy import ForeignKey
from sqlalchemy.orm import Mapped, declared_attr, mapped_column

from tubeshelf.store.columns import Base, Edited


class Customer(Edited, Base):
    """Somebody whose equipment or tubes come to the bench."""

    __tablename__ = "customer"
    name: Mapped[str]
    contact: Mapped[str]
    note: Mapped[str]
    search_key: Mapped[str] = mapped_column(index=True)


class Model(Edited, Base):
    """A model of equipment; ``line_v`` is the line it was made for, in volts."""

    __tablename__ = "model"
    maker: Mapped[str]
    name: Mapped[str]
    note: Mapped[str]
    line_v: Mapped[float | None]
    search_key: Mapped[str] = mapped_column(index=True)


class HeaterCircuit(Edited, Base):
    """A heater winding or series string of a model.

    ``volts`` is the winding's voltage or the string's supply, ``rated_a`` what a winding stands,
    ``drop_ohm`` the dropper of a string, ``lamp_a`` the lamps on a winding.
    """

    __tablename__ = "heater_circuit"
    model_id: Mapped[int] = mapped_column(ForeignKey("model.id"), index=True)
    name: Mapped[str]
    circuit: Mapped[str]
    volts: Mapped[float | None]
    rated_a: Mapped[float | None]
    drop_ohm: Mapped[float | None]
    lamp_a: Mapped[float | None]


class SocketFacts:
    """The columns that the sockets of a model, of a unit and of a job have in common."""

    position: Mapped[str]
    seq: Mapped[int]
    role: Mapped[str]
    match_group: Mapped[str]

    @declared_attr
    def designed_type_id(cls) -> Mapped[int]:  # noqa: N805
        """What the socket was designed for."""
        return mapped_column(ForeignKey("type.id"))

    @declared_attr
    def heater_circuit_id(cls) -> Mapped[int | None]:  # noqa: N805
        """The winding or string that feeds it, where that is known."""
        return mapped_column(ForeignKey("heater_circuit.id"))


class ModelSocket(SocketFacts, Edited, Base):
    """One position of a model's complement."""

    __tablename__ = "model_socket"
    model_id: Mapped[int] = mapped_column(ForeignKey("model.id"), index=True)


class Equipment(Edited, Base):
    """One customer's unit of a model, by serial number."""

    __tablename__ = "equipment"
    model_id: Mapped[int] = mapped_column(ForeignKey("model.id"))
    customer_id: Mapped[int] = mapped_column(ForeignKey("customer.id"), index=True)
    serial: Mapped[str]
    note: Mapped[str]
    search_key: Mapped[str] = mapped_column(index=True)


class UnitSocket(SocketFacts, Edited, Base):
    """One position of one unit, stable over its jobs; carries the type somebody changed it to on purpose."""

    __tablename__ = "unit_socket"
    equipment_id: Mapped[int] = mapped_column(ForeignKey("equipment.id"), index=True)
    modified_type_id: Mapped[int | None] = mapped_column(ForeignKey("type.id"))
    modified_note: Mapped[str] = mapped_column(default="")
