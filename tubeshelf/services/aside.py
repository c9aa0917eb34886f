"""Where the tubes of a job are, and putting its set aside with sockets empty: on purpose, with a tag."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from sqlalchemy import Connection, Row

from tubeshelf.domain.errors import UserError
from tubeshelf.domain.jobs import Disposition, FoundState
from tubeshelf.domain.places import Place
from tubeshelf.domain.whereabouts import Seen, Where, is_answered, positions_text, whereabouts
from tubeshelf.services.changes import Changes, Kind
from tubeshelf.services.jobs import open_job
from tubeshelf.services.jobstate import not_on_hand
from tubeshelf.services.papers import paper_head, why_text
from tubeshelf.services.socket_facts import refuse_closed
from tubeshelf.services.views.aside import ChassisTag, TagLine, Whereabouts
from tubeshelf.services.views.bench import SocketView
from tubeshelf.store.queries import aside as queries
from tubeshelf.store.tables import Aside

if TYPE_CHECKING:
    from tubeshelf.services.shop import Shop


_TUBE_KNOWN = (Where.OUT, Where.BAG, Where.AWAY, Where.ASIDE)


def where_tubes_are(shop: Shop, *, job_id: int, in_hand: str = "", reading_due: bool = False) -> Whereabouts:
    """Where the tubes of a job are. ``in_hand`` is the position at which an entry stands on a bench, if any,
    ``reading_due`` that a line of its tube is not read yet; ``domain.whereabouts`` has the rule."""
    with shop.record.reading() as connection:
        job = _job(connection, job_id)
        return _whereabouts(connection, job, in_hand=in_hand, reading_due=reading_due)


def put_aside(
    shop: Shop, *, job_id: int, positions: Sequence[str], why: str = "", origin: str = ""
) -> tuple[None, Changes]:
    """Say that these sockets of a set that is put aside stand empty on purpose, and why."""
    if not positions:
        raise UserError("No socket of this set stands empty: there is nothing to say on a tag.")
    with shop.record.act("put aside") as journal:
        job = _job(journal.connection, job_id)
        refuse_closed(job)
        if job.aside_id is not None:
            journal.end(Aside, job.aside_id)
        why = " ".join(why.split())
        journal.insert(Aside, job_id=job_id, positions=" ".join(positions), why=why)
        journal.said = f"Job {job.number} put aside with {positions_text(positions)} empty"
        return None, _changes(journal.act_id, journal.said, job_id, origin)


def end_aside(shop: Shop, *, job_id: int, origin: str = "") -> tuple[None, Changes]:
    """Say that the tubes named when the set was put aside are back; those pulled stay where they are."""
    with shop.record.act("tubes back") as journal:
        job = _job(journal.connection, job_id)
        refuse_closed(job)
        if job.aside_id is None:
            raise UserError(f"Job {job.number} is not put aside with a socket empty.")
        journal.end(Aside, job.aside_id)
        named = positions_text(job.positions.split())
        journal.said = f"Job {job.number}: no longer put aside with {named} empty"
        return None, _changes(journal.act_id, journal.said, job_id, origin)


def chassis_tag(shop: Shop, *, job_id: int) -> ChassisTag:
    """What the tag of a set says; UserError where none of its sockets stands empty."""
    job = open_job(shop, job_id=job_id)
    with shop.record.reading() as connection:
        row = _job(connection, job_id)
        here = _whereabouts(connection, row)
    if not here.empty:
        raise UserError(f"No socket of job {job.number} stands empty: it needs no chassis tag.")
    places = dict(here.stands)
    lines = [_line(s, places[s.position]) for s in job.sockets if places[s.position].is_empty]
    warnings = tuple(f"{position}: {why}." for position, why in job.harm)
    return ChassisTag(
        head=paper_head(shop),
        number=job.number,
        title=job.equipment or job.title,
        customer=job.customer,
        serial=job.serial,
        promised_on=job.promised_on,
        lines=tuple(lines),
        why=here.why,
        warnings=warnings,
    )


def usual_why(shop: Shop, *, job_id: int) -> str:
    """What a set that is put aside waits for, as the reason offered; empty where nothing is known."""
    waits = open_job(shop, job_id=job_id).waits_for
    return f"waits for {waits}" if waits else ""


def _job(connection: Connection, job_id: int) -> Row[Any]:
    job = queries.of_job(connection, job_id)
    if job is None:
        raise UserError("That job is gone; reload the page.")
    return job


def _whereabouts(
    connection: Connection, job: Row[Any], *, in_hand: str = "", reading_due: bool = False
) -> Whereabouts:
    if job.equipment_id is None:
        return Whereabouts(job.id, job.number)
    rows = queries.standing(connection, job.id)
    named = tuple((job.positions or "").split())
    since = job.aside_by or 0
    seen = tuple(_seen(row, since if row.position in named and _moved(row) < since else 0) for row in rows)
    stands = whereabouts(seen, in_hand=in_hand, reading_due=reading_due)
    empty = {position for position, place in stands if place.is_empty}
    holds = since > 0 and all(_moved(row) < since for row in rows if row.position in empty)
    answered = is_answered(stands, named if holds else ())
    return Whereabouts(
        job_id=job.id,
        number=job.number,
        stands=stands,
        asks=job.closed_on is None and not answered,
        why=job.why if holds and answered else "",
    )


def _moved(row: Row[Any]) -> int:
    return row.moved_by or 0


def _seen(row: Row[Any], aside: int) -> Seen:
    place = None if row.place is None else Place(row.place)
    return Seen(
        position=row.position,
        found=FoundState.NOT_LOOKED if row.state is None else FoundState(row.state),
        place=place,
        here=row.place_ref == str(row.unit_socket_id),
        disposition=Disposition(row.disposition) if row.disposition else None,
        installed=row.fitted_item_id is not None,
        entered=max(row.found_by or 0, row.read_by or 0, row.noted_by or 0),
        aside=aside,
    )


def _line(socket: SocketView, place: Where) -> TagLine:
    why = "" if place is Where.FOUND_EMPTY else why_text(socket)
    order = f"{socket.intended} to order" if not_on_hand(socket) else ""
    return TagLine(
        position=socket.position,
        role=socket.role,
        belongs=socket.intended,
        where=f"its tube is {place}" if place in _TUBE_KNOWN else str(place),
        why="; ".join(part for part in (why, order) if part),
    )


def _changes(act_id: int, said: str, job_id: int, origin: str) -> Changes:
    return Changes(act_id, said, frozenset({(Kind.JOB, job_id)}), origin)
