"""What a tube and its place read before, line by line: what a new reading is looked at beside."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from statistics import mean
from typing import TYPE_CHECKING, Any

from sqlalchemy import Row

from tubeshelf.domain.judging import Stage
from tubeshelf.store.queries import earlier, reading

if TYPE_CHECKING:
    from tubeshelf.services.shop import Shop


@dataclass(frozen=True, slots=True)
class EarlierView:
    """The mean that one setting line read at one earlier visit; ``same_tube`` if of the tube that is read
    now, else it is of another tube that stood in the same place."""

    line_id: int
    at: datetime
    value: float
    same_tube: bool


def earlier_readings(shop: Shop, *, socket_id: int, stage: Stage) -> tuple[EarlierView, ...]:
    """What the tube of a socket, and others in its place, read before this visit; newest first.

    As left, the visit as found is an earlier one. Nothing for a socket that is no longer part of its job.
    """
    with shop.record.reading() as connection:
        socket = reading.socket_for_reading(connection, socket_id)
        if socket is None:
            return ()
        put_in = socket.fitted_item_id if stage is Stage.AS_LEFT else None
        item_id = socket.item_id if put_in is None else put_in
        rows: list[Row[Any]] = []
        if item_id is not None:
            rows += earlier.readings_of_tube(connection, item_id)
        if socket.unit_socket_id is not None:
            place = earlier.readings_of_place(connection, socket.unit_socket_id)
            rows += [row for row in place if row.item_id != item_id]
    before = _before(rows, socket_id, stage)
    visits: dict[tuple[object, ...], list[Row[Any]]] = {}
    for row in sorted(before, key=lambda row: -row.id):
        visits.setdefault((row.item_id, row.job_socket_id, row.stage, row.setting_line_id), []).append(row)
    return tuple(
        EarlierView(
            line_id=of_visit[0].setting_line_id,
            at=of_visit[0].at,
            value=mean(row.value for row in of_visit),
            same_tube=of_visit[0].item_id == item_id,
        )
        for of_visit in visits.values()
    )


def _before(rows: Iterable[Row[Any]], socket_id: int, stage: Stage) -> list[Row[Any]]:
    """Those that were taken before this visit began, and none of a stage after it."""
    rows = list(rows)
    now = [row.id for row in rows if (row.job_socket_id, row.stage) == (socket_id, stage)]
    first = min(now, default=None)
    return [
        row
        for row in rows
        if (first is None or row.id < first)
        and (row.job_socket_id != socket_id or (stage is Stage.AS_LEFT and row.stage == Stage.AS_FOUND))
    ]
