"""What the pages of types and testers ask of the record: lines with limits, overlays, who refers to what."""

import json
from collections.abc import Collection, Sequence
from typing import Any

from sqlalchemy import Connection, Row, func, select

from tubeshelf.store.queries.fetch import all_rows, one_row
from tubeshelf.store.queries.linecolumns import LIMIT, LIVE_LIMIT, TESTER
from tubeshelf.store.tables import (
    Found,
    Item,
    JobSocket,
    Judgement,
    Limit,
    ModelSocket,
    Reading,
    SettingLine,
    ShippedFact,
    ShopFact,
    ShopSubstitute,
    Tester,
    Type,
    UnitSocket,
)

Rows = Sequence[Row[Any]]


def lines(
    connection: Connection,
    *,
    tester_id: int | None = None,
    type_id: int | None = None,
    line_id: int | None = None,
) -> Rows:
    """The setting lines in use (of a tester, of a type, one), each with its tester and live limit."""
    query = (
        select(
            *SettingLine.__table__.columns,
            *TESTER,
            Tester.field_names,
            *LIMIT,
        )
        .join(Tester, Tester.id == SettingLine.tester_id)
        .join(Limit, LIVE_LIMIT, isouter=True)
        .where(SettingLine.ended_by.is_(None), SettingLine.retired.is_(False))
        .order_by(SettingLine.tester_id, SettingLine.type_id, SettingLine.position, SettingLine.id)
    )
    if tester_id is not None:
        query = query.where(SettingLine.tester_id == tester_id)
    if type_id is not None:
        query = query.where(SettingLine.type_id == type_id)
    if line_id is not None:
        query = query.where(SettingLine.id == line_id)
    return all_rows(connection, query)


def charted(connection: Connection) -> Rows:
    """What the setting lines in use read, by type and tester, and whether anybody filled them in."""
    query = (
        select(
            SettingLine.type_id,
            SettingLine.tester_id,
            SettingLine.section,
            SettingLine.label,
            SettingLine.quantity,
            SettingLine.fields,
            Limit.id.label("limit_id"),
        )
        .join(Limit, LIVE_LIMIT, isouter=True)
        .where(SettingLine.ended_by.is_(None), SettingLine.retired.is_(False))
    )
    return all_rows(connection, query)


def testers(connection: Connection) -> Rows:
    """Every tester that was entered, retired ones too, in the order they were added."""
    return all_rows(connection, select(Tester.__table__).where(Tester.ended_by.is_(None)).order_by(Tester.id))


def tester(connection: Connection, tester_id: int) -> Row[Any] | None:
    """One tester."""
    return one_row(
        connection, select(Tester.__table__).where(Tester.id == tester_id, Tester.ended_by.is_(None))
    )


def line_counts(connection: Connection) -> dict[int, int]:
    """How many setting lines in use each tester has."""
    query = (
        select(SettingLine.tester_id, func.count())
        .where(SettingLine.ended_by.is_(None), SettingLine.retired.is_(False))
        .group_by(SettingLine.tester_id)
    )
    return {tester_id: int(n) for tester_id, n in connection.execute(query)}


def has_readings(connection: Connection, tester_id: int) -> bool:
    """Whether anything was ever read on a tester."""
    query = select(Reading.id).where(Reading.tester_id == tester_id, Reading.ended_by.is_(None)).limit(1)
    return connection.scalar(query) is not None


def shop_facts(connection: Connection, type_id: int) -> dict[str, tuple[int, str]]:
    """The shop's own fields of a type: row id and JSON by field."""
    query = select(ShopFact.id, ShopFact.field, ShopFact.value).where(
        ShopFact.type_id == type_id, ShopFact.ended_by.is_(None)
    )
    return {row.field: (row.id, row.value) for row in connection.execute(query)}


def shipped_facts(connection: Connection, type_id: int) -> dict[str, str]:
    """The shipped fields of a type, empty for the shop's own."""
    stored = connection.scalar(select(ShippedFact.facts).where(ShippedFact.type_id == type_id))
    return {} if stored is None else dict(json.loads(stored))


def type_of_key(connection: Connection, key: str) -> int | None:
    """The row id of a type by its key, whether or not anything is known of it now."""
    return connection.scalar(select(Type.id).where(Type.key == key))


def substitutes(connection: Connection, *, intended_id: int, found_id: int) -> Sequence[int]:
    """The shop's live substitute entries from one type to another, by row id."""
    query = select(ShopSubstitute.id).where(
        ShopSubstitute.intended_id == intended_id,
        ShopSubstitute.found_id == found_id,
        ShopSubstitute.ended_by.is_(None),
    )
    return connection.scalars(query).all()


def latest_means(connection: Connection, type_ids: Collection[int]) -> Rows:
    """The judged lines of all tubes of these types, oldest first: the last of a line is its latest."""
    query = (
        select(Judgement.item_id, Judgement.setting_line_id, Judgement.mean)
        .join(SettingLine, SettingLine.id == Judgement.setting_line_id)
        .where(SettingLine.type_id.in_(type_ids), Judgement.ended_by.is_(None))
        .order_by(Judgement.id)
    )
    return all_rows(connection, query)


def uses(connection: Connection, type_id: int) -> dict[str, int]:
    """How many rows of each kind refer to a type: sockets of models and units, jobs, tubes, setting lines."""
    asked = {
        "models": select(func.count()).where(
            ModelSocket.designed_type_id == type_id, ModelSocket.ended_by.is_(None)
        ),
        "units": select(func.count()).where(
            UnitSocket.designed_type_id == type_id, UnitSocket.ended_by.is_(None)
        ),
        "jobs": select(func.count()).where(
            JobSocket.designed_type_id == type_id, JobSocket.ended_by.is_(None)
        ),
        "found": select(func.count()).where(Found.type_id == type_id, Found.ended_by.is_(None)),
        "tubes": select(func.count()).where(Item.type_id == type_id, Item.ended_by.is_(None)),
        "lines": select(func.count()).where(SettingLine.type_id == type_id, SettingLine.ended_by.is_(None)),
    }
    return {what: int(connection.scalar(query) or 0) for what, query in asked.items()}
