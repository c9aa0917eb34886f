"""Sections of a socket's type that the set has nothing on: not asked for, not waited for."""

from __future__ import annotations

from collections.abc import Collection
from typing import TYPE_CHECKING

from tubeshelf.domain.errors import UserError
from tubeshelf.services.changes import Changes, Kind
from tubeshelf.services.socket_facts import intended_id, open_socket
from tubeshelf.store.queries import bench, intake
from tubeshelf.store.tables import JobSocket, ModelSocket, UnitSocket

if TYPE_CHECKING:
    from tubeshelf.services.shop import Shop


def set_unused_sections(
    shop: Shop, *, socket_id: int, sections: Collection[str], origin: str = ""
) -> tuple[None, Changes]:
    """Say which sections the set does not use in a socket, none for all used; unit and model remember it.

    Readings that were taken of such a section stay in the record and count for nothing while it is unused.
    Raises UserError for a section that the type does not have, and where none would be left to read.
    """
    with shop.record.act("unused sections") as journal:
        connection = journal.connection
        socket = open_socket(connection, socket_id)
        tube = shop.book.type(intended_id(socket))
        known = [] if tube is None else [s.name for s in tube.sections if s.readable]
        if missing := sorted(set(sections) - set(known)):
            raise UserError(f"The type of {socket.position} has no section {', '.join(missing)} to read.")
        if sections and not set(known) - set(sections):
            raise UserError(f"That was the last section of {socket.position}: one at least has to be used.")
        unused = " ".join(name for name in known if name in sections)
        journal.update(JobSocket, socket_id, unused_sections=unused)
        if socket.unit_socket_id is not None:
            journal.update(UnitSocket, socket.unit_socket_id, unused_sections=unused)
            job = bench.job_row(connection, job_id=socket.job_id)
            for row in intake.sockets_of(connection, ModelSocket, job.model_id) if job is not None else ():
                if (row.position, row.designed_type_id) == (socket.position, socket.designed_type_id):
                    journal.update(ModelSocket, row.id, unused_sections=unused)
        words = unused_text(unused.split()) or "all sections used"
        journal.said = f"{socket.position} of job {socket.number}: {words}"
        things = frozenset({(Kind.JOB, socket.job_id), (Kind.MODEL, 0)})
        return None, Changes(journal.act_id, journal.said, things, origin)


def unused_text(sections: Collection[str]) -> str:
    """The unused sections of a socket in words, empty for none: ``section 2 not used``."""
    if not sections:
        return ""
    return f"section{'s' if len(sections) > 1 else ''} {', '.join(sections)} not used"
