"""What taking one reading asks of the record.

A reading is judged and committed between two strokes of the Enter key, so these queries are built once.
"""

from collections.abc import Sequence
from functools import cache
from typing import Any

from sqlalchemy import Connection, Row, Select, bindparam, func, select

from tubeshelf.store.queries.linecolumns import LIMIT, LIVE_LIMIT, TESTER
from tubeshelf.store.tables import Found, Job, JobSocket, Judgement, Limit, Reading, SettingLine, Tester


def socket_for_reading(connection: Connection, socket_id: int) -> Row[Any] | None:
    """A job's socket with what was found in it."""
    return connection.execute(_socket(), {"socket_id": socket_id}).one_or_none()


@cache
def _socket() -> Select[*tuple[Any, ...]]:
    return (
        select(
            JobSocket.id,
            JobSocket.job_id,
            JobSocket.unit_socket_id,
            JobSocket.position,
            JobSocket.designed_type_id,
            JobSocket.modified_type_id,
            JobSocket.heater_circuit_id,
            JobSocket.fitted_item_id,
            JobSocket.match_group,
            JobSocket.heater_pins,
            JobSocket.plate_v,
            JobSocket.screen_v,
            JobSocket.bias,
            JobSocket.bias_v,
            JobSocket.capacitor_v,
            JobSocket.ties,
            JobSocket.version,
            Job.number,
            Job.closed_on,
            Job.customer_id,
            Job.equipment_id,
            Found.id.label("found_id"),
            Found.state,
            Found.type_id,
            Found.item_id,
            Found.marked,
        )
        .join(Job, Job.id == JobSocket.job_id)
        .join(Found, (Found.job_socket_id == JobSocket.id) & Found.ended_by.is_(None), isouter=True)
        .where(JobSocket.id == bindparam("socket_id"), JobSocket.ended_by.is_(None))
    )


def line_for_reading(connection: Connection, line_id: int) -> Row[Any] | None:
    """A setting line with its tester and live limit."""
    return connection.execute(_line(), {"line_id": line_id}).one_or_none()


@cache
def _line() -> Select[*tuple[Any, ...]]:
    return (
        select(
            SettingLine.id,
            SettingLine.type_id,
            SettingLine.tester_id,
            SettingLine.label,
            SettingLine.section,
            SettingLine.quantity,
            SettingLine.fields,
            *TESTER,
            *LIMIT,
        )
        .join(Tester, Tester.id == SettingLine.tester_id)
        .join(Limit, LIVE_LIMIT, isouter=True)
        .where(SettingLine.id == bindparam("line_id"), SettingLine.ended_by.is_(None))
    )


def readings_of_line(connection: Connection, *, item_id: int, line_id: int) -> Sequence[Row[Any]]:
    """All live readings of one tube on one setting line, oldest first."""
    return connection.execute(_readings(), {"item_id": item_id, "line_id": line_id}).all()


@cache
def _readings() -> Select[*tuple[Any, ...]]:
    return (
        select(Reading.id, Reading.value, Reading.stage, Reading.job_socket_id)
        .where(
            Reading.item_id == bindparam("item_id"),
            Reading.setting_line_id == bindparam("line_id"),
            Reading.ended_by.is_(None),
        )
        .order_by(Reading.id)
    )


def live_judgement(
    connection: Connection, *, item_id: int, line_id: int, stage: str, place: int
) -> int | None:
    """The id of the judgement that holds now for a line of a tube at a stage and place."""
    at = {"item_id": item_id, "line_id": line_id, "stage": stage, "place": place}
    return connection.execute(_judgement(), at).scalar_one_or_none()


@cache
def _judgement() -> Select[*tuple[Any, ...]]:
    return select(Judgement.id).where(
        Judgement.item_id == bindparam("item_id"),
        Judgement.setting_line_id == bindparam("line_id"),
        Judgement.stage == bindparam("stage"),
        Judgement.place == bindparam("place"),
        Judgement.ended_by.is_(None),
    )


def line_of_section(connection: Connection, *, type_id: int, tester_id: int, section: str) -> int | None:
    """The first setting line that reads this section of a type on a tester."""
    query = select(SettingLine.id).where(
        SettingLine.type_id == type_id,
        SettingLine.tester_id == tester_id,
        SettingLine.section == section,
        SettingLine.retired.is_(False),
        SettingLine.ended_by.is_(None),
    )
    return connection.scalars(query.order_by(SettingLine.position, SettingLine.id)).first()


def next_position(connection: Connection, *, type_id: int, tester_id: int) -> int:
    """The place after the last setting line of a type on a tester."""
    last = connection.scalar(
        select(func.max(SettingLine.position)).where(
            SettingLine.type_id == type_id, SettingLine.tester_id == tester_id
        )
    )
    return 1 if last is None else last + 1
