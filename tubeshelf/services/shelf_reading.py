"""Testing spares: readings and marks of a tube that lies on the shelf and stands in no job."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from sqlalchemy import Row

from tubeshelf.domain.errors import UserError
from tubeshelf.domain.judging import Mark, Observation, Stage
from tubeshelf.domain.numbers import parse_number
from tubeshelf.domain.verdict_words import mark_text
from tubeshelf.services import recording
from tubeshelf.services.changes import Changes, Kind
from tubeshelf.services.movements import item_row
from tubeshelf.services.promises import name_of
from tubeshelf.services.recording import ReadingTaken, Visit
from tubeshelf.store.queries import timeline
from tubeshelf.store.tables import Observation as ObservationRow
from tubeshelf.store.tables import Reading

if TYPE_CHECKING:
    from tubeshelf.services.shop import Shop
    from tubeshelf.store.journal import Journal


def read_spare(
    shop: Shop,
    *,
    item_id: int,
    line_id: int | None,
    tester_id: int,
    text: str,
    section: str = "",
    stage: Stage = Stage.INCOMING,
    confirmed: bool = False,
    origin: str = "",
) -> tuple[ReadingTaken, Changes | None]:
    """Store a reading of a spare and judge its line; a likely slip is only asked about, nothing written.

    Without ``line_id`` the line for ``section`` comes into being with this reading.
    """
    try:
        with shop.record.act("reading") as journal:
            row = _tube(shop, journal, item_id)
            if line_id is None:
                line_id = recording.new_line(
                    journal, type_id=row.type_id, tester_id=tester_id, section=section
                )
            tube = shop.book.type(row.type_id)
            facts = recording.line_facts(journal.connection, line_id=line_id, tube=tube)
            visit = Visit(item_id, None, stage)
            taken = recording.take(journal, visit, facts, text=text, confirmed=confirmed)
            said = f"{taken.text} for {name_of(shop.book, row)}"
            return taken, _done(journal, said, item_id, origin)
    except recording.Asked as asked:
        return asked.taken, None


def drop_spare_reading(shop: Shop, *, reading_id: int, origin: str = "") -> tuple[None, Changes]:
    """Strike a spare's reading that was a slip; its line is judged again over the rest."""
    with shop.record.act("reading struck") as journal:
        read = timeline.reading(journal.connection, reading_id)
        if read is None or read.job_socket_id is not None:
            raise UserError("That reading was struck already, or belongs to a job.")
        row = item_row(journal.connection, read.item_id)
        journal.end(Reading, reading_id)
        facts = recording.line_facts(
            journal.connection, line_id=read.setting_line_id, tube=shop.book.type(row.type_id)
        )
        recording.judge_again(journal, Visit(row.id, None, Stage(read.stage)), facts)
        shown = recording.value_text(read.value, facts.scale)
        return None, _done(journal, f"{shown} struck of {name_of(shop.book, row)}", row.id, origin)


def observe_spare(
    shop: Shop,
    *,
    item_id: int,
    mark: Mark,
    is_fault: bool,
    value: str = "",
    unit: str = "",
    pins: str = "",
    stage: Stage = Stage.INCOMING,
    origin: str = "",
) -> tuple[int, Changes]:
    """Note a short, leakage, gas or the like of a spare; the technician says whether it is a fault."""
    number = parse_number(value, unit) if value.strip() else None
    seen = Observation(mark, is_fault, number, unit if number is not None else "", pins.strip())
    with shop.record.act("observation") as journal:
        row = _tube(shop, journal, item_id)
        observation_id = journal.insert(
            ObservationRow,
            item_id=item_id,
            job_socket_id=None,
            stage=str(stage),
            mark=str(mark),
            value=seen.value,
            unit=seen.unit,
            pins=seen.pins,
            is_fault=is_fault,
        )
        return observation_id, _done(
            journal, f"{mark_text(seen)}: {name_of(shop.book, row)}", item_id, origin
        )


def drop_spare_mark(shop: Shop, *, observation_id: int, origin: str = "") -> tuple[None, Changes]:
    """Strike a mark noted of a spare."""
    with shop.record.act("observation struck") as journal:
        seen = timeline.observation(journal.connection, observation_id)
        if seen is None or seen.job_socket_id is not None:
            raise UserError("That mark was struck already, or belongs to a job.")
        row = item_row(journal.connection, seen.item_id)
        journal.end(ObservationRow, observation_id)
        return None, _done(journal, f"{seen.mark} struck of {name_of(shop.book, row)}", row.id, origin)


def _tube(shop: Shop, journal: Journal, item_id: int) -> Row[Any]:
    """A single tube whose type is known, so that a reading has a line to belong to."""
    row = item_row(journal.connection, item_id)
    if row.lot:
        raise UserError(f"Tag a tube of {name_of(shop.book, row)} first: a reading belongs to one tube.")
    if row.type_id is None:
        raise UserError(
            f"Say first of what type {name_of(shop.book, row)} is: its type says what to dial in."
        )
    return row


def _done(journal: Journal, said: str, item_id: int, origin: str) -> Changes:
    journal.said = said
    return Changes(journal.act_id, f"Saved {said}", frozenset({(Kind.ITEM, item_id)}), origin)
