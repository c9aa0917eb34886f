"""Customers, models of equipment with their complements, and the customers' own units."""

from tubeshelf.store.columns import Base, Col, Edited, column


class Customer(Edited, Base):
    """Somebody whose equipment or tubes come to the bench."""

    __tablename__ = "customer"
    name: Col[str]
    contact: Col[str]
    note: Col[str]
    search_key: Col[str] = column(index=True)


class Model(Edited, Base):
    """A model of equipment; ``line_v`` is the line it was made for, in volts."""

    __tablename__ = "model"
    maker: Col[str]
    name: Col[str]
    note: Col[str]
    line_v: Col[float | None]
    search_key: Col[str] = column(index=True)


class HeaterCircuit(Edited, Base):
    """A heater winding or series string of a model.

    ``volts`` is the winding's voltage or the string's supply, ``rated_a`` what a winding stands,
    ``drop_ohm`` the dropper of a string. ``lamp_at`` says where a lamp of ``lamp_v`` and ``lamp_a`` is: on
    the ``winding``, in ``series`` with a string, across ``lamp_tap_ohm`` of its ``dropper``, or across the
    heater tap of the socket it names. A ballast tube holds ``ballast_a`` between two voltages across it.
    """

    __tablename__ = "heater_circuit"
    model_id: Col[int] = column(to="model.id", index=True)
    name: Col[str]
    circuit: Col[str]
    volts: Col[float | None]
    rated_a: Col[float | None]
    drop_ohm: Col[float | None]
    lamp_a: Col[float | None]
    lamp_v: Col[float | None]
    lamp_at: Col[str] = column(default="")
    lamp_tap_ohm: Col[float | None]
    ballast_a: Col[float | None]
    ballast_low_v: Col[float | None]
    ballast_high_v: Col[float | None]


class SocketFacts:
    """The columns that the sockets of a model, of a unit and of a job have in common.

    From ``heater_pins`` on they are what somebody wrote down of the socket, in volts: ``bias`` is ``fixed``,
    ``cathode`` or empty, ``ties`` the pins used as tie points, ``unused_sections`` the sections that the set
    has nothing on, both with blanks between them.
    """

    position: Col[str]
    seq: Col[int]
    role: Col[str]
    match_group: Col[str]
    designed_type_id: Col[int] = column(to="type.id")
    heater_circuit_id: Col[int | None] = column(to="heater_circuit.id")
    heater_pins: Col[str] = column(default="")
    plate_v: Col[float | None]
    screen_v: Col[float | None]
    bias: Col[str] = column(default="")
    bias_v: Col[float | None]
    capacitor_v: Col[float | None]
    ties: Col[str] = column(default="")
    unused_sections: Col[str] = column(default="")


class ModelSocket(SocketFacts, Edited, Base):
    """One position of a model's complement.

    ``map_x`` and ``map_y`` are its place on the chassis from above, front at the bottom, as shares of
    width and depth from the left and the back.
    """

    __tablename__ = "model_socket"
    model_id: Col[int] = column(to="model.id", index=True)
    map_x: Col[float | None]
    map_y: Col[float | None]


class SetField(Edited, Base):
    """Something that is measured in sets of a model: once, or at each output socket (``per_socket``).

    ``quantity`` says which of it the program reckons with (``line_v``, ``plate_v``, ``screen_v``,
    ``cathode_ma``, ``bias_v``, ``hours``); empty for anything else.
    """

    __tablename__ = "set_field"
    model_id: Col[int] = column(to="model.id", index=True)
    seq: Col[int]
    name: Col[str]
    unit: Col[str]
    quantity: Col[str]
    per_socket: Col[bool]


class Equipment(Edited, Base):
    """One customer's unit of a model, by serial number."""

    __tablename__ = "equipment"
    model_id: Col[int] = column(to="model.id")
    customer_id: Col[int] = column(to="customer.id", index=True)
    serial: Col[str]
    note: Col[str]
    search_key: Col[str] = column(index=True)


class UnitSocket(SocketFacts, Edited, Base):
    """One position of one unit, stable over its jobs; carries the type somebody changed it to on purpose."""

    __tablename__ = "unit_socket"
    equipment_id: Col[int] = column(to="equipment.id", index=True)
    modified_type_id: Col[int | None] = column(to="type.id")
    modified_note: Col[str] = column(default="")
