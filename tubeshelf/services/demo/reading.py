"""The demo's hours at the testers: what stood in each socket, what it read, what was noted."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from tubeshelf.domain.jobs import FoundState
from tubeshelf.domain.judging import Mark, Stage
from tubeshelf.services.bench import observe, record_reading, tube_in
from tubeshelf.services.demo.tables import readings
from tubeshelf.services.finding import found_as_intended, set_empty, set_found, set_unreadable
from tubeshelf.services.socket_facts import socket_row

if TYPE_CHECKING:
    from tubeshelf.services.demo.workshop import Workshop
    from tubeshelf.services.shop import Shop
    from tubeshelf.store.tablefile import Row

COLUMNS = {"emission": "Brackwater E1", "gm": "Ostrelle GM", "words": "Tallowick Trio"}
"""On which tester the readings in a column were taken."""


def read_sockets(
    workshop: Workshop, sockets: Mapping[str, int], findings: Sequence[Row], testers: Sequence[int]
) -> None:
    """Say what stands in each socket, then go from tester to tester, each in the order given."""
    seen = [row for row in findings if row.text("found")]
    for row in seen:
        _say_found(workshop.shop, sockets[row.need("position")], row)
        _note_marks(workshop.shop, sockets[row.need("position")], row)
    columns = {workshop.testers[name]: column for column, name in COLUMNS.items()}
    for tester_id in testers:
        for row in seen:
            if row.text(columns[tester_id]):
                cell = row.text(columns[tester_id])
                enter(workshop, sockets[row.need("position")], tester_id, cell, Stage.AS_FOUND)


def _say_found(shop: Shop, socket_id: int, row: Row) -> None:
    found, believed, reason = row.text("found"), row.text("believed"), row.text("reason")
    another = row.text("another") == "yes"
    if found == FoundState.EMPTY:
        set_empty(shop, socket_id=socket_id)
    elif found == FoundState.UNREADABLE:
        set_unreadable(shop, socket_id=socket_id, believed=believed, reason=reason)
    elif found == "=" and not another:
        found_as_intended(shop, socket_id=socket_id)
    else:
        set_found(shop, socket_id=socket_id, text=found, believed=believed, reason=reason, another=another)


def _note_marks(shop: Shop, socket_id: int, row: Row) -> None:
    """A cell such as ``leakage|0.3|MΩ|heater-cathode|fault``."""
    if not row.text("marks"):
        return
    mark, value, unit, pins, judged = row.text("marks").split("|")
    observe(
        shop,
        socket_id=socket_id,
        stage=Stage.AS_FOUND,
        mark=Mark(mark),
        is_fault=judged == "fault",
        value=value,
        unit=unit,
        pins=pins,
    )


def enter(workshop: Workshop, socket_id: int, tester_id: int, cell: str, stage: Stage) -> None:
    """Enter a cell of readings at a socket, a part for each line of the tester's chart."""
    shop = workshop.shop
    with shop.record.reading() as connection:
        _, type_id = tube_in(connection, socket_row(connection, socket_id), stage)
    for line_id, text in readings(cell, workshop.chart(tester_id, type_id)):
        taken, _ = record_reading(
            shop, socket_id=socket_id, line_id=line_id, tester_id=tester_id, stage=stage, text=text
        )
        if taken.slip is not None:
            raise ValueError(taken.slip.question)
