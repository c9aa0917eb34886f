"""The life of one tube or lot as rows: movements, promises, readings, marks, each with its instant."""

import json
from collections.abc import Sequence
from typing import Any

from sqlalchemy import Connection, Row, select

from tubeshelf.store.queries.fetch import all_rows, one_row
from tubeshelf.store.tables import (
    Act,
    Effect,
    Equipment,
    Item,
    Job,
    Model,
    Movement,
    Observation,
    Promise,
    Reading,
    SettingLine,
    Tester,
    UnitSocket,
)

Rows = Sequence[Row[Any]]


def movements(connection: Connection, item_id: int) -> Rows:
    """Every movement of an item, those taken back too, oldest first."""
    query = (
        select(*Movement.__table__.columns, Act.at)
        .join(Act, Act.id == Movement.begun_by)
        .where(Movement.item_id == item_id)
        .order_by(Movement.id)
    )
    return all_rows(connection, query)


def promises(connection: Connection, item_id: int) -> Rows:
    """Every promise of an item, with when it was given and, where it ended, when and by what act."""
    ending_act = Act.__table__.alias()
    ending = ending_act.c
    query = (
        select(
            Promise.id,
            Promise.quantity,
            Promise.ended_by,
            Job.number,
            Act.at,
            ending.at.label("ended_at"),
            ending.kind.label("ended_kind"),
            ending.reverses,
        )
        .join(Job, Job.id == Promise.job_id)
        .join(Act, Act.id == Promise.begun_by)
        .join(ending_act, ending.id == Promise.ended_by, isouter=True)
        .where(Promise.item_id == item_id)
        .order_by(Promise.id)
    )
    return all_rows(connection, query)


def readings(connection: Connection, item_id: int) -> Rows:
    """Every reading of an item, struck ones too, oldest first."""
    query = (
        select(
            Reading.id,
            Reading.value,
            Reading.unit,
            Reading.stage,
            Reading.tester_id,
            Reading.ended_by,
            SettingLine.section,
            SettingLine.label,
            Tester.name.label("tester"),
            Tester.words,
            Act.at,
        )
        .join(SettingLine, SettingLine.id == Reading.setting_line_id)
        .join(Tester, Tester.id == Reading.tester_id)
        .join(Act, Act.id == Reading.begun_by)
        .where(Reading.item_id == item_id)
        .order_by(Reading.id)
    )
    return all_rows(connection, query)


def observations(connection: Connection, item_id: int) -> Rows:
    """Every mark noted of an item, struck ones too, oldest first."""
    query = (
        select(*Observation.__table__.columns, Act.at)
        .join(Act, Act.id == Observation.begun_by)
        .where(Observation.item_id == item_id)
        .order_by(Observation.id)
    )
    return all_rows(connection, query)


def sockets(connection: Connection, ids: Sequence[int]) -> Rows:
    """Places of units by id, each with its unit's model and serial number."""
    query = (
        select(UnitSocket.id, UnitSocket.position, Model.maker, Model.name, Equipment.serial)
        .join(Equipment, Equipment.id == UnitSocket.equipment_id)
        .join(Model, Model.id == Equipment.model_id)
        .where(UnitSocket.id.in_(ids))
    )
    return all_rows(connection, query)


def tags(connection: Connection, ids: Sequence[int]) -> dict[int, int | None]:
    """Tags of items by id."""
    return {row.id: row.tag for row in connection.execute(select(Item.id, Item.tag).where(Item.id.in_(ids)))}


def reading(connection: Connection, reading_id: int) -> Row[Any] | None:
    """One live reading."""
    query = select(Reading.__table__).where(Reading.id == reading_id, Reading.ended_by.is_(None))
    return one_row(connection, query)


def observation(connection: Connection, observation_id: int) -> Row[Any] | None:
    """One live mark."""
    query = select(Observation.__table__).where(
        Observation.id == observation_id, Observation.ended_by.is_(None)
    )
    return one_row(connection, query)


def prices_then(connection: Connection, item_ids: Sequence[int], act_id: int) -> dict[int, int | None]:
    """What items cost when that act had just been done, of those whose price was changed since."""
    query = (
        select(Effect.row_id, Effect.before)
        .where(
            Effect.act_id > act_id,
            Effect.table_name == Item.__tablename__,
            Effect.row_id.in_(item_ids),
            Effect.before.contains('"price"'),
        )
        .order_by(Effect.act_id.desc(), Effect.seq.desc())
    )
    # The first change since comes last, and has the price that it changed.
    return {row.row_id: json.loads(row.before)["price"] for row in connection.execute(query)}
