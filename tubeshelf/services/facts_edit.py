"""Writing down facts of sockets: heater wiring, supplies, bias, capacitor, tie points."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from tubeshelf.domain.errors import UserError
from tubeshelf.domain.written_facts import WrittenFacts
from tubeshelf.services.changes import Changes, Kind
from tubeshelf.services.finding import judge_fit_again
from tubeshelf.services.socket_facts import written_columns
from tubeshelf.store.queries import bench, intake
from tubeshelf.store.tables import JobSocket, ModelSocket, UnitSocket

if TYPE_CHECKING:
    from tubeshelf.services.shop import Shop


def set_socket_facts(
    shop: Shop, *, job_id: int, facts: Mapping[str, WrittenFacts], origin: str = ""
) -> tuple[None, Changes]:
    """Write down facts of sockets of a job's model, by position: its units and open jobs follow.

    In a box of loose tubes, which has no model, the job's own sockets alone. Closed jobs stay as they are.
    Raises UserError for a job that is gone or a position that it does not have.
    """
    with shop.record.act("socket facts") as journal:
        connection = journal.connection
        job = bench.job_row(connection, job_id=job_id)
        if job is None:
            raise UserError("That job is gone; reload the page.")
        columns = {position: written_columns(written) for position, written in facts.items()}
        own = intake.job_sockets_of(connection, job_id)
        if missing := sorted(columns.keys() - {row.position for row in own}):
            raise UserError(f"Job {job.number} has no {', '.join(missing)}; reload the page.")
        if job.model_id is not None:
            own = intake.open_job_sockets_of_model(connection, job.model_id)
            for row in intake.sockets_of(connection, ModelSocket, job.model_id):
                journal.update(ModelSocket, row.id, **columns.get(row.position, {}))
            for row in intake.unit_sockets_of_model(connection, job.model_id):
                journal.update(UnitSocket, row.id, **columns.get(row.position, {}))
        for row in own:
            if row.position in columns:
                journal.update(JobSocket, row.id, **columns[row.position])
                judge_fit_again(journal, shop, row.id)
        journal.said = f"Facts of {', '.join(facts)} of job {job.number} written down"
        things = frozenset({(Kind.JOB, job_id), (Kind.MODEL, job.model_id or 0), (Kind.JOB, 0)})
        return None, Changes(journal.act_id, journal.said, things, origin)
