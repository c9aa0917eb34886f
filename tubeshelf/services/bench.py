"""Entries at the bench: readings, observations, and what is said about a socket."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from sqlalchemy import Connection, Row, select

from tubeshelf.domain.errors import UserError
from tubeshelf.domain.jobs import Action, Disposition, FoundState
from tubeshelf.domain.judging import Mark, Observation, Stage
from tubeshelf.domain.observing import compared_text, observed_value
from tubeshelf.domain.pins import read_pins
from tubeshelf.domain.verdict_words import mark_text, repeat_text
from tubeshelf.services import recording
from tubeshelf.services.changes import Changes, Kind
from tubeshelf.services.recording import ReadingTaken, Visit
from tubeshelf.services.socket_facts import intended_id, open_socket
from tubeshelf.store.queries import bench
from tubeshelf.store.queries.reading import readings_of_line
from tubeshelf.store.tables import JobSocket, Reading
from tubeshelf.store.tables import Observation as ObservationRow

if TYPE_CHECKING:
    from tubeshelf.services.shop import Shop
    from tubeshelf.store.journal import Journal


def record_reading(
    shop: Shop,
    *,
    socket_id: int,
    line_id: int | None,
    tester_id: int,
    stage: Stage,
    text: str,
    section: str = "",
    confirmed: bool = False,
    origin: str = "",
) -> tuple[ReadingTaken, Changes | None]:
    """Store a reading as typed and judge its line; a likely slip is only asked about, and nothing written.

    Without ``line_id`` the line for ``section`` comes into being with this reading. Raises UserError for
    text that is no reading and for a socket of which nobody has said what stands in it.
    """
    try:
        with shop.record.act("reading") as journal:
            socket = open_socket(journal.connection, socket_id)
            item_id, type_id = tube_in(journal.connection, socket, stage)
            if line_id is None:
                line_id = recording.new_line(journal, type_id=type_id, tester_id=tester_id, section=section)
            facts = recording.line_facts(journal.connection, line_id=line_id, tube=shop.book.type(type_id))
            visit = Visit(item_id, socket_id, stage)
            taken = recording.take(journal, visit, facts, text=text, confirmed=confirmed)
            journal.said = f"{taken.text} at {socket.position}, job {socket.number}"
            said = f"Saved {journal.said}{_of_repeats(taken, facts)}"
            return taken, _changes(journal, said, socket, item_id, origin)
    except recording.Asked as asked:
        return asked.taken, None


def _of_repeats(taken: ReadingTaken, facts: recording.LineFacts) -> str:
    """Whether a line that was read again is settled; empty after its first reading."""
    if taken.verdict is None or taken.verdict.n < 2:
        return ""
    return f": {repeat_text(taken.verdict, facts.scale.words)}"


def drop_reading(shop: Shop, *, reading_id: int, origin: str = "") -> tuple[None, Changes]:
    """Strike a reading that was a slip; its line is judged again over the rest."""
    with shop.record.act("reading struck") as journal:
        connection = journal.connection
        row = connection.execute(select(Reading.__table__).where(Reading.id == reading_id)).one()
        if row.ended_by is not None or row.job_socket_id is None:
            raise UserError("That reading was struck already.")
        socket = open_socket(connection, row.job_socket_id)
        journal.end(Reading, reading_id)
        _, type_id = tube_in(connection, socket, Stage(row.stage))
        facts = recording.line_facts(connection, line_id=row.setting_line_id, tube=shop.book.type(type_id))
        visit = Visit(row.item_id, row.job_socket_id, Stage(row.stage))
        recording.judge_again(journal, visit, facts)
        shown = recording.value_text(row.value, facts.scale)
        journal.said = f"{shown} struck at {socket.position}, job {socket.number}"
        return None, _changes(journal, journal.said, socket, row.item_id, origin)


def observe(
    shop: Shop,
    *,
    socket_id: int,
    stage: Stage,
    mark: Mark,
    is_fault: bool,
    value: str = "",
    unit: str = "",
    pins: str = "",
    line_id: int | None = None,
    origin: str = "",
) -> tuple[int, Changes]:
    """Note a short, leakage, gas, noise or the like; the technician says whether it is a fault.

    ``pins`` are typed as ``2.5`` or named as elements. The value of a life test is a second reading of the
    line ``line_id``, with the heater about 10 % low: it is kept with what it is compared with. Raises
    UserError for a value or a pin that cannot be, and for a life test of a line that was not read.
    """
    with shop.record.act("observation") as journal:
        socket = open_socket(journal.connection, socket_id)
        item_id, type_id = tube_in(journal.connection, socket, stage)
        put_in = stage is Stage.AS_LEFT and socket.fitted_item_id is not None
        tube = shop.book.type(type_id) if put_in or socket.type_id is not None else None
        words: tuple[str, ...] = ()
        if mark is Mark.LIFE_TEST and line_id is not None:
            words = recording.line_facts(journal.connection, line_id=line_id, tube=tube).scale.words
        number = observed_value(mark, value, unit, words)
        if mark is Mark.LIFE_TEST and number is not None:
            last = _last_reading(journal.connection, Visit(item_id, socket_id, stage), line_id)
            where = ", ".join(part for part in (pins.strip(), compared_text(number, last, words)) if part)
            number = None if words else number  # the words say it: a place in a list is no figure to keep
        else:
            where = read_pins(pins, tube.basing if tube is not None and tube.basing.pins else None)
        seen = Observation(mark, is_fault, number, unit if number is not None else "", where)
        observation_id = journal.insert(
            ObservationRow,
            item_id=item_id,
            job_socket_id=socket_id,
            stage=str(stage),
            mark=str(mark),
            value=seen.value,
            unit=seen.unit,
            pins=seen.pins,
            is_fault=is_fault,
        )
        journal.said = f"{mark_text(seen)} at {socket.position}, job {socket.number}"
        return observation_id, _changes(journal, f"Saved {journal.said}", socket, item_id, origin)


def _last_reading(connection: Connection, visit: Visit, line_id: int | None) -> float:
    """The last reading of a line at this visit, which a life test is compared with."""
    rows = () if line_id is None else readings_of_line(connection, item_id=visit.item_id, line_id=line_id)
    here = [row.value for row in rows if (row.stage, row.job_socket_id) == (visit.stage, visit.job_socket_id)]
    if not here or here[-1] <= 0:
        raise UserError("Read the line first: a life test is a second reading, compared with the first.")
    return float(here[-1])


def drop_observation(shop: Shop, *, observation_id: int, origin: str = "") -> tuple[None, Changes]:
    """Strike an observation."""
    with shop.record.act("observation struck") as journal:
        query = select(ObservationRow.__table__).where(ObservationRow.id == observation_id)
        row = journal.connection.execute(query).one()
        if row.ended_by is not None:
            raise UserError("That mark was struck already.")
        socket = open_socket(journal.connection, row.job_socket_id)
        journal.end(ObservationRow, observation_id)
        journal.said = f"{row.mark} struck at {socket.position}, job {socket.number}"
        return None, _changes(journal, journal.said, socket, row.item_id, origin)


def set_action(
    shop: Shop, *, socket_id: int, action: Action | None, why: str = "", origin: str = ""
) -> tuple[None, Changes]:
    """Say what is to be done with the tube of a socket; ``None`` goes back to what is proposed."""
    words = "as proposed" if action is None else str(action)
    values = {"action": "" if action is None else str(action), "action_note": why.strip()}
    return _say(shop, socket_id, "action", words, values, origin)


def set_disposition(
    shop: Shop, *, socket_id: int, disposition: Disposition | None, origin: str = ""
) -> tuple[None, Changes]:
    """Say how a socket ended: refitted, or empty on purpose (installing says so itself)."""
    words = "open again" if disposition is None else str(disposition)
    values = {"disposition": "" if disposition is None else str(disposition)}
    return _say(shop, socket_id, "disposition", words, values, origin)


def tube_in(connection: Connection, socket: Row[Any], stage: Stage) -> tuple[int, int]:
    """The tube that an entry at this stage is about and the type it is tested as.

    As left it is the tube that the job put in, where it did; else the one that was found. An unreadable
    one is tested as what the socket is meant for.
    """
    if stage is Stage.AS_LEFT and socket.fitted_item_id is not None:
        fitted = bench.items(connection, [socket.fitted_item_id])[0]
        return fitted.id, intended_id(socket) if fitted.type_id is None else fitted.type_id
    if socket.item_id is None:
        if socket.state == FoundState.EMPTY:
            raise UserError(f"{socket.position} was found empty: there is no tube to read.")
        raise UserError(f"Say first what stands in {socket.position}: as intended, or what is marked on it.")
    return socket.item_id, intended_id(socket) if socket.type_id is None else socket.type_id


def _say(
    shop: Shop, socket_id: int, kind: str, words: str, values: dict[str, Any], origin: str
) -> tuple[None, Changes]:
    with shop.record.act(kind) as journal:
        socket = open_socket(journal.connection, socket_id)
        journal.update(JobSocket, socket_id, **values)
        journal.said = f"{socket.position} of job {socket.number}: {words}"
        return None, _changes(journal, journal.said, socket, None, origin)


def _changes(journal: Journal, said: str, socket: Row[Any], item_id: int | None, origin: str) -> Changes:
    things: set[tuple[Kind, int]] = {(Kind.JOB, socket.job_id)}
    if item_id is not None:
        things.add((Kind.ITEM, item_id))
    return Changes(journal.act_id, said, frozenset(things), origin)
