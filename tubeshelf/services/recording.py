"""The one way a reading comes into the record: checked for a slip, stored, judged, the judgement stored."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING, Any

from sqlalchemy import Connection, Row

from tubeshelf.domain.errors import UserError
from tubeshelf.domain.judging import DefaultRule, Limit, LineVerdict, PassLimits, Repeatability, Scale, Stage
from tubeshelf.domain.numbers import format_number, parse_number
from tubeshelf.domain.slips import Slip, likely_slip
from tubeshelf.domain.types import Section, TubeType
from tubeshelf.domain.verdict import default_limit, judge_line
from tubeshelf.domain.verdict_words import merit_place
from tubeshelf.store.queries import reading
from tubeshelf.store.tables import Judgement, Reading, SettingLine

if TYPE_CHECKING:
    from tubeshelf.store.journal import Journal


@dataclass(frozen=True, slots=True)
class Stored:
    """A reading as it was stored."""

    id: int
    line_id: int
    value: float
    at: datetime
    settings: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ReadingTaken:
    """What came of a typed reading: stored and judged, or (with ``slip``) only asked about."""

    reading_id: int | None
    text: str
    verdict: LineVerdict | None
    slip: Slip | None = None
    stored: Stored | None = None


@dataclass(frozen=True, slots=True)
class LineFacts:
    """A setting line as a reading is judged by it."""

    line_id: int
    label: str
    section: str
    tester_id: int
    tester: str
    scale: Scale
    repeatability: Repeatability
    limit: Limit | None
    bogey: float | None
    dial: tuple[str, ...]


def scale_of(row: Row[Any]) -> Scale:
    """The scale in a row that has a tester's columns."""
    return Scale(unit=row.unit, full_scale=row.full_scale, words=row.words)


def passes_of(row: Row[Any]) -> PassLimits:
    """What leakage and gas a tester's own limits let pass, in a row that has a tester's columns."""
    return PassLimits(row.leakage_least, row.gas_most, row.gas_unit)


def rule_of(row: Row[Any]) -> DefaultRule:
    """The default rule in a row that has a tester's columns."""
    return DefaultRule(
        good_from=row.default_good_from,
        reject_below=row.default_reject_below,
        good_share=row.default_good_share,
        reject_share=row.default_reject_share,
    )


def bogey_of(tube: TubeType | None, section: str, method: str) -> tuple[float | None, str]:
    """The data sheet's figure of a section for what a tester of this method reads, with its unit."""
    if tube is None:
        return None, ""
    part = next((s for s in tube.sections if s.name == section), None) or _only(tube.sections)
    if part is None:
        return None, ""
    if method == "transconductance":
        return part.gm_umho, "µmho"
    if method == "plate current":
        return part.plate_ma, "mA"
    return None, ""


def _only(sections: Sequence[Section]) -> Section | None:
    return sections[0] if len(sections) == 1 else None


def limit_of(
    row: Row[Any], scale: Scale, rule: DefaultRule, method: str, tester: str, tube: TubeType | None
) -> Limit | None:
    """The limit entered for a line, else the one that the tester's default rule makes, else ``None``."""
    if row.limit_id is not None:
        return Limit(
            good_from=row.good_from,
            reject_below=row.reject_below,
            bogey=row.bogey,
            above=row.above,
            unit=scale.unit,
            source=row.source,
            dated=row.dated,
        )
    return implied_limit(row.section, scale, rule, method, tester, tube)


def implied_limit(
    section: str, scale: Scale, rule: DefaultRule, method: str, tester: str, tube: TubeType | None
) -> Limit | None:
    """The limit that a tester's default rule makes for a section, ``None`` if it makes none."""
    bogey, unit = bogey_of(tube, section, method)
    return default_limit(rule, scale=scale, bogey=bogey, bogey_unit=unit, tester=tester)


def line_facts(connection: Connection, *, line_id: int, tube: TubeType | None) -> LineFacts:
    """Everything a reading of a setting line is judged by."""
    row = reading.line_for_reading(connection, line_id)
    if row is None:
        raise UserError("That setting line is gone; reload the page and read again.")
    scale = scale_of(row)
    limit = limit_of(row, scale, rule_of(row), row.method, row.tester, tube)
    bogey = limit.bogey if limit is not None and limit.bogey is not None else None
    if bogey is None:
        figure, unit = bogey_of(tube, row.section, row.method)
        bogey = figure if unit == row.unit else None
    return LineFacts(
        line_id=row.id,
        label=row.label,
        section=row.section,
        tester_id=row.tester_id,
        tester=row.tester,
        scale=scale,
        repeatability=Repeatability(row.relative, row.absolute),
        limit=limit,
        bogey=bogey,
        dial=row.fields,
    )


def new_line(journal: Journal, *, type_id: int, tester_id: int, section: str) -> int:
    """Write down a line that was only implied by the type's sections, so that a reading can refer to it.

    A line that another reading of this section has brought into being meanwhile serves as well.
    """
    known = reading.line_of_section(journal.connection, type_id=type_id, tester_id=tester_id, section=section)
    if known is not None:
        return known
    position = reading.next_position(journal.connection, type_id=type_id, tester_id=tester_id)
    return journal.insert(
        SettingLine,
        type_id=type_id,
        tester_id=tester_id,
        position=position,
        label="",
        section=section,
        quantity="",
        fields=(),
        retired=False,
    )


def parse_value(text: str, scale: Scale) -> float:
    """The value typed: a number, or on a scale of words a word or its place, worst first."""
    return merit_place(text, scale.words) if scale.words else parse_number(text.strip(), scale.unit)


def value_text(value: float, scale: Scale) -> str:
    """A value as shown: the word, or the number without its unit."""
    if scale.words and value == int(value) and 1 <= value <= len(scale.words):
        return scale.words[int(value) - 1]
    return format_number(value)


class Asked(Exception):  # noqa: N818 - it rolls the act back; a question is no error
    """A value that looks like a slip: ``taken`` carries the question, and nothing is written."""

    def __init__(self, taken: ReadingTaken) -> None:
        super().__init__(taken.text)
        self.taken = taken


@dataclass(frozen=True, slots=True)
class Visit:
    """Of which tube, in which socket of a job (``None`` for a spare), at which stage lines are read."""

    item_id: int
    job_socket_id: int | None
    stage: Stage


def take(journal: Journal, visit: Visit, facts: LineFacts, *, text: str, confirmed: bool) -> ReadingTaken:
    """Store a reading as typed, with the judgement that now holds for its line.

    Raises Asked for a likely slip that is not confirmed, UserError for text that is no reading.
    """
    value = parse_value(text, facts.scale)
    shown = value_text(value, facts.scale)
    past = reading.readings_of_line(journal.connection, item_id=visit.item_id, line_id=facts.line_id)
    last = past[-1].value if past else None
    slip = likely_slip(value, scale=facts.scale, bogey=facts.bogey, last=last)
    if slip is not None and not confirmed:
        raise Asked(ReadingTaken(None, shown, None, slip))
    reading_id = journal.insert(
        Reading,
        item_id=visit.item_id,
        job_socket_id=visit.job_socket_id,
        setting_line_id=facts.line_id,
        tester_id=facts.tester_id,
        stage=str(visit.stage),
        value=value,
        unit=facts.scale.unit,
        settings=facts.dial,
        line_v=None,
        confirmed="" if slip is None else str(slip.kind),
    )
    before = _of_visit(visit, past)
    if before:
        _end_judgement(journal, visit, facts)
    verdict = _judge(journal, visit, facts, [*before, (reading_id, value)])
    stored = Stored(reading_id, facts.line_id, value, journal.at, facts.dial)
    return ReadingTaken(reading_id, shown, verdict, stored=stored)


def judge_again(journal: Journal, visit: Visit, facts: LineFacts) -> None:
    """Supersede the judgement of a line by one over the readings that are left, if any are."""
    rows = reading.readings_of_line(journal.connection, item_id=visit.item_id, line_id=facts.line_id)
    _end_judgement(journal, visit, facts)
    if left := _of_visit(visit, rows):
        _judge(journal, visit, facts, left)


def _of_visit(visit: Visit, rows: Sequence[Row[Any]]) -> list[tuple[int, float]]:
    """The readings of a line, id and value, that were taken at this visit: the repeats of each other."""
    return [
        (row.id, row.value)
        for row in rows
        if row.stage == visit.stage and row.job_socket_id == visit.job_socket_id
    ]


def _end_judgement(journal: Journal, visit: Visit, facts: LineFacts) -> None:
    old = reading.live_judgement(
        journal.connection,
        item_id=visit.item_id,
        line_id=facts.line_id,
        stage=str(visit.stage),
        place=visit.job_socket_id or 0,
    )
    if old is not None:
        journal.end(Judgement, old)


def _judge(
    journal: Journal, visit: Visit, facts: LineFacts, readings: list[tuple[int, float]]
) -> LineVerdict:
    """Store the judgement of a line over its repeats, with the limits as they are now."""
    values = [value for _, value in readings]
    verdict = judge_line(values, facts.limit, facts.repeatability, by_word=bool(facts.scale.words))
    limit = verdict.limit
    journal.insert(
        Judgement,
        item_id=visit.item_id,
        job_socket_id=visit.job_socket_id,
        place=visit.job_socket_id or 0,
        setting_line_id=facts.line_id,
        stage=str(visit.stage),
        reading_ids=json.dumps([reading_id for reading_id, _ in readings]),
        mean=verdict.mean,
        n=verdict.n,
        u=verdict.u,
        zone=str(verdict.zone),
        sure=verdict.sure,
        probability=verdict.probability,
        above=verdict.above,
        bogey=limit.bogey,
        good_from=limit.good_from,
        reject_below=limit.reject_below,
        above_limit=limit.above,
        unit=facts.scale.unit,
        source=limit.source,
        dated=limit.dated,
        derived=limit.derived,
    )
    return verdict
