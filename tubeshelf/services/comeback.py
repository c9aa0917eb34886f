"""Comebacks: an earlier job of a unit beside this one, and whether its tubes are those that were left."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from sqlalchemy import Connection, Row

from tubeshelf.domain.comeback import SameTube, same_by_tag, term_end, term_text
from tubeshelf.domain.errors import UserError
from tubeshelf.domain.jobs import Disposition, FoundState
from tubeshelf.domain.judging import Stage
from tubeshelf.domain.tags import format_tag, parse_tag
from tubeshelf.services.changes import Changes, Kind
from tubeshelf.services.cover import cover_row, promise_of
from tubeshelf.services.jobs import open_job
from tubeshelf.services.papers import found_text, read_lines, reads_text
from tubeshelf.services.socket_facts import open_socket
from tubeshelf.services.sockets import tube_verdict
from tubeshelf.services.views.bench import JobView, SocketView
from tubeshelf.services.views.comeback import ComebackView, EarlierView, PlaceView, StoodView
from tubeshelf.store.queries import comeback as queries
from tubeshelf.store.queries.jobs import job_rows
from tubeshelf.store.tables import SameTube as SameTubeRow

if TYPE_CHECKING:
    from tubeshelf.services.shop import Shop


def comeback(shop: Shop, *, job_id: int, earlier_id: int | None = None) -> ComebackView:
    """A job beside an earlier one of its unit: the one named, else the one that it is a comeback of.

    Else the last before it; a closed job that is no comeback stands alone, as what was left last.
    UserError where there is nothing to compare it with.
    """
    job = open_job(shop, job_id=job_id)
    with shop.record.reading() as connection:
        choices = _choices(shop, connection, job)
        said = {row.job_socket_id: row for row in queries.same_tubes(connection, [s.id for s in job.sockets])}
        cover = cover_row(connection, job_id)
    chosen = _chosen(job, choices, earlier_id)
    earlier = job if chosen.id == job.id else open_job(shop, job_id=chosen.id)
    left = {socket.position: socket for socket in earlier.sockets}
    days = chosen.promise.days
    until = term_end(chosen.closed_on, days)
    alone = chosen.id == job.id
    came_on = shop.today if alone else job.received_on
    return ComebackView(
        job_id=job.id,
        number=job.number,
        title=job.title,
        customer=job.customer,
        serial=job.serial,
        received_on=job.received_on,
        open=job.status.is_open,
        note=job.comeback_note,
        earlier=chosen,
        choices=choices,
        promise=_promise_text(chosen),
        term=term_text(chosen.number, chosen.closed_on, days, came_on),
        until=until,
        within=None if until is None else came_on <= until,
        places=tuple(_place(shop, s, left.get(s.position), said.get(s.id), alone=alone) for s in job.sockets),
        cover=cover,
    )


def _promise_text(job: EarlierView) -> str:
    """What was promised; said of a job that was closed before anybody kept it, that it is today's wording."""
    if job.closed_on is None or not job.promise.by_today:
        return job.promise.words
    said = f"What job {job.number} promised was not written down; this is by the settings of today."
    return f"{said} {job.promise.words}".strip()


def _choices(shop: Shop, connection: Connection, job: JobView) -> tuple[EarlierView, ...]:
    """The earlier jobs of the unit, newest first, and a closed job itself."""
    if job.equipment_id is None:
        return ()
    rows = job_rows(connection, closed=None, equipment_id=job.equipment_id)
    earlier = [r for r in rows if r.number < job.number or (r.id == job.id and r.closed_on is not None)]
    return tuple(
        EarlierView(row.id, row.number, row.received_on, row.closed_on, promise_of(shop, row))
        for row in sorted(earlier, key=lambda row: row.number, reverse=True)
    )


def _chosen(job: JobView, choices: tuple[EarlierView, ...], earlier_id: int | None) -> EarlierView:
    if not choices:
        raise UserError("This unit was not here before: there is nothing to set beside this job.")
    asked = next((one for one in choices if one.id == earlier_id), None)
    named = next((one for one in choices if one.number == job.comeback_of), None)
    return asked or named or choices[0]


def _place(
    shop: Shop, socket: SocketView, left: SocketView | None, said: Row[Any] | None, *, alone: bool
) -> PlaceView:
    proposed, why = (None, "") if alone else _proposal(socket, left)
    return PlaceView(
        socket_id=socket.id,
        position=socket.position,
        role=socket.role,
        left=None if left is None else _left(shop, left),
        now=None if alone else _now(socket),
        answer=None if said is None else SameTube(said.answer),
        note="" if said is None else said.note,
        proposed=proposed,
        why=why,
        taken_for_it=left is not None
        and socket.found.item_id is not None
        and socket.found.item_id == _item(left),
    )


def _item(left: SocketView) -> int | None:
    """The very tube that a job left in a socket."""
    return left.found.item_id if left.fitted is None else left.fitted.item_id


def _left(shop: Shop, socket: SocketView) -> StoodView | None:
    """What a job left in a socket, as read last; ``None`` if nothing stood there."""
    tube = socket.fitted
    if socket.disposition is Disposition.EMPTY_ON_PURPOSE:
        return None
    if tube is None and socket.found.state not in (FoundState.TYPE, FoundState.UNREADABLE):
        return None
    type_id = shop.book.id_of(tube.designation) if tube is not None else socket.found.type_id
    reads, verdict = _read_as_left(shop, socket, type_id)
    if tube is not None:
        return StoodView(tube.designation, tube.tag, "put in", reads or tube.reads, verdict or tube.verdict)
    how = "refitted" if socket.disposition is Disposition.REFITTED else "kept"
    reads = reads or reads_text(read_lines(socket))
    return StoodView(found_text(socket), socket.found.tag, how, reads, verdict or socket.verdict_text)


def _read_as_left(shop: Shop, socket: SocketView, type_id: int | None) -> tuple[str, str]:
    """What was read as left, and the verdict; two empty texts where nothing was."""
    seen = [observation for _, at, observation in socket.observations if at is Stage.AS_LEFT]
    if not socket.as_left and not seen:
        return "", ""
    tube = None if type_id is None else shop.book.type(type_id)
    return reads_text(socket.as_left), tube_verdict(socket.as_left, seen, tube)[1]


def _now(socket: SocketView) -> StoodView | None:
    """What is found; without a tag, since the record only takes it for the tube that was left."""
    if socket.found.state is FoundState.NOT_LOOKED:
        return None
    return StoodView(found_text(socket), "", "", reads_text(read_lines(socket)), socket.verdict_text)


def _proposal(socket: SocketView, left: SocketView | None) -> tuple[SameTube | None, str]:
    """No, where something else or nothing stands there now; a like tube alone proves nothing."""
    if left is None or socket.found.state is FoundState.NOT_LOOKED:
        return None, ""
    if socket.found.state is FoundState.EMPTY:
        return SameTube.NO, "empty now"
    name = left.found.designation if left.fitted is None else left.fitted.designation
    if name and socket.found.designation and socket.found.designation != name:
        return SameTube.NO, f"a {socket.found.designation} stands there now"
    return None, ""


def set_same(
    shop: Shop, *, socket_id: int, answer: SameTube | None, note: str = "", origin: str = ""
) -> tuple[None, Changes]:
    """Say whether the tube found is the one that was left here; ``None`` takes the answer away."""
    with shop.record.act("same tube") as journal:
        socket = open_socket(journal.connection, socket_id)
        for old in queries.same_tubes(journal.connection, [socket_id]):
            journal.end(SameTubeRow, old.id)
        if answer is not None:
            journal.insert(
                SameTubeRow, job_socket_id=socket_id, answer=str(answer), note=" ".join(note.split())
            )
        words = "not said" if answer is None else str(answer)
        journal.said = f"{socket.position} of job {socket.number}, same tube as left: {words}"
        things = frozenset({(Kind.JOB, socket.job_id)})
        return None, Changes(journal.act_id, journal.said, things, origin)


def read_tag(
    shop: Shop, *, socket_id: int, left_tag: str, text: str, origin: str = ""
) -> tuple[SameTube, Changes]:
    """Take the tag that was read from a tube: yes if it is the one that was left here, else no."""
    answer = same_by_tag(left_tag, text)
    note = f"tag {format_tag(parse_tag(text) or 0)} read"
    return answer, set_same(shop, socket_id=socket_id, answer=answer, note=note, origin=origin)[1]
