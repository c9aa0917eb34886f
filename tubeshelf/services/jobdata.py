"""Everything the record says about a job's sockets, read in a handful of queries and sorted by socket."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from sqlalchemy import Connection, Row

from tubeshelf.services.socket_facts import intended_id
from tubeshelf.store.queries import bench

if TYPE_CHECKING:
    from tubeshelf.services.shop import Shop

Grouped = dict[int, list[Row[Any]]]


@dataclass(frozen=True, slots=True)
class JobData:
    """Rows of one or several jobs: by job socket, by type, by id."""

    sockets: Sequence[Row[Any]]
    readings: Grouped
    judgements: Grouped
    observations: Grouped
    lines: Grouped
    items: dict[int, Row[Any]]
    testers: dict[int, Row[Any]]
    circuits: dict[int, Row[Any]]


def load_job_data(shop: Shop, connection: Connection, job_ids: Collection[int]) -> JobData:
    """The data of these jobs. Lines are keyed by type; retired ones that were read with are among them."""
    sockets = bench.job_sockets(connection, job_ids)
    ids = [row.id for row in sockets]
    readings = bench.readings_of_sockets(connection, ids)
    tubes = {row.fitted_item_id for row in sockets} | {row.found_item_id for row in sockets}
    items = {row.id: row for row in bench.items(connection, tubes - {None})}
    type_ids = {intended_id(row) for row in sockets}
    type_ids |= {row.found_type_id for row in sockets if row.found_type_id is not None}
    type_ids |= {row.type_id for row in items.values() if row.type_id is not None}
    used = {row.setting_line_id for row in readings}
    lines = bench.setting_lines(connection, type_ids=type_ids, ids=used)
    circuit_ids = {row.heater_circuit_id for row in sockets if row.heater_circuit_id is not None}
    circuits = bench.heater_circuits(connection, circuit_ids) if circuit_ids else ()
    return JobData(
        sockets=sockets,
        readings=_by(readings, "job_socket_id"),
        judgements=_by(bench.judgements_of_sockets(connection, ids), "job_socket_id"),
        observations=_by(bench.observations_of_sockets(connection, ids), "job_socket_id"),
        lines=_by(lines, "type_id"),
        items=items,
        testers={row.id: row for row in bench.testers(connection, retired=True)},
        circuits={row.id: row for row in circuits},
    )


def _by(rows: Iterable[Row[Any]], column: str) -> Grouped:
    grouped: Grouped = defaultdict(list)
    for row in rows:
        grouped[getattr(row, column)].append(row)
    return grouped
