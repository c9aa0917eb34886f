"""What acts touched on the shelf since one of them: told by the journal, whoever wrote and wherever."""

from collections.abc import Collection
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Column, Connection, func, select

from tubeshelf.store.tables import (
    Act,
    Effect,
    Item,
    Judgement,
    Limit,
    Observation,
    SettingLine,
    Tester,
)

_MOST = 500
"""More touched rows than this are dearer to follow than to read everything again."""


@dataclass(frozen=True, slots=True)
class Touched:
    """Items that may lie or read otherwise than before, and types whose charts may be others."""

    item_ids: frozenset[int]
    type_ids: frozenset[int]


def last_act(connection: Connection) -> int:
    """The last act that this connection sees; 0 in a record without any."""
    return connection.scalar(select(func.max(Act.id))) or 0


def since(connection: Connection, act_id: int) -> Touched | None:
    """What later acts touched; ``None`` for too much to follow."""
    names = [table.__tablename__ for table in (Item, Judgement, Observation, SettingLine, Limit, Tester)]
    query = select(Effect.table_name, Effect.row_id).where(
        Effect.act_id > act_id, Effect.table_name.in_(names)
    )
    rows = connection.execute(query.limit(_MOST + 1)).all()
    by: dict[str, set[int]] = {name: set() for name in names}
    for name, row_id in rows:
        by[name].add(row_id)
    if len(rows) > _MOST or by[Tester.__tablename__]:
        return None
    items = by[Item.__tablename__]
    for table in (Judgement, Observation):
        items |= _of(connection, table.item_id, table.id, by[table.__tablename__])
    lines = by[SettingLine.__tablename__]
    lines |= _of(connection, Limit.setting_line_id, Limit.id, by[Limit.__tablename__])
    types = _of(connection, SettingLine.type_id, SettingLine.id, lines)
    return Touched(frozenset(items), frozenset(types))


def _of(connection: Connection, wanted: Column[Any], by: Column[Any], ids: Collection[int]) -> set[int]:
    """The values of a column in these rows."""
    return set(connection.scalars(select(wanted).where(by.in_(ids)))) if ids else set()
