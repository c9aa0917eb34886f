"""The one way a reading comes into the record: checked for a slip, stored, judged, the judgement stored."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from sqlalchemy import Connection, Row

from tubeshelf.domain.errors import UserError
from tubeshelf.domain.judging import DefaultRule, Limit, LineVerdict, Repeatability, Scale, Stage
from tubeshelf.domain.numbers import format_number, parse_number
from tubeshelf.domain.slips import Slip, likely_slip
from tubeshelf.domain.types import Section, TubeType
from tubeshelf.domain.verdict import default_limit, judge_line
from tubeshelf.store.queries import bench
from tubeshelf.store.tables import Judgement, Reading, SettingLine

if TYPE_CHECKING:
    from tubeshelf.store.journal import Journal


@dataclass(frozen=True, slots=True)
class ReadingTaken:
    """What came of a typed reading: stored and judged, or (with ``slip``) only asked about."""

    reading_id: int | None
    text: str
    verdict: LineVerdict | None
    slip: Slip | None = None


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
    row = bench.line_for_reading(connection, line_id)
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
    known = bench.line_of_section(journal.connection, type_id=type_id, tester_id=tester_id, section=section)
    if known is not None:
        return known
    position = bench.next_position(journal.connection, type_id=type_id, tester_id=tester_id)
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
    typed = text.strip()
    if not scale.words:
        return parse_number(typed, scale.unit)
    for place, word in enumerate(scale.words, start=1):
        if typed.casefold() == word.casefold():
            return float(place)
    if typed.isascii() and typed.isdigit() and 1 <= int(typed) <= len(scale.words):
        return float(typed)
    choices = ", ".join(f"{place} {word}" for place, word in enumerate(scale.words, start=1))
    raise UserError(f"This tester reads in words: {choices}.")


def value_text(value: float, scale: Scale) -> str:
    """A value as shown: the word, or the number without its unit."""
    if scale.words and value == int(value) and 1 <= value <= len(scale.words):
        return scale.words[int(value) - 1]
    return format_number(value)


def record_value(
    journal: Journal,
    *,
    item_id: int,
    job_socket_id: int | None,
    facts: LineFacts,
    stage: Stage,
    value: float,
    confirmed: str = "",
    line_v: float | None = None,
) -> tuple[int, LineVerdict]:
    """Store one reading and the judgement that now holds for its line; returns both."""
    reading_id = journal.insert(
        Reading,
        item_id=item_id,
        job_socket_id=job_socket_id,
        setting_line_id=facts.line_id,
        tester_id=facts.tester_id,
        stage=str(stage),
        value=value,
        unit=facts.scale.unit,
        settings=facts.dial,
        line_v=line_v,
        confirmed=confirmed,
    )
    verdict = judge_again(journal, item_id=item_id, job_socket_id=job_socket_id, facts=facts, stage=stage)
    if verdict is None:
        raise LookupError("the reading just stored is not there")
    return reading_id, verdict


def judge_again(
    journal: Journal, *, item_id: int, job_socket_id: int | None, facts: LineFacts, stage: Stage
) -> LineVerdict | None:
    """Supersede the judgement of a line by one over its live readings; ``None`` when none is left."""
    connection, place = journal.connection, job_socket_id or 0
    old = bench.live_judgement(
        connection, item_id=item_id, line_id=facts.line_id, stage=str(stage), place=place
    )
    if old is not None:
        journal.end(Judgement, old)
    readings = [
        row
        for row in bench.readings_of_line(connection, item_id=item_id, line_id=facts.line_id)
        if row.stage == stage and row.job_socket_id == job_socket_id
    ]
    if not readings:
        return None
    verdict = judge_line([row.value for row in readings], facts.limit, facts.repeatability)
    limit = verdict.limit
    journal.insert(
        Judgement,
        item_id=item_id,
        job_socket_id=job_socket_id,
        place=place,
        setting_line_id=facts.line_id,
        stage=str(stage),
        reading_ids=json.dumps([row.id for row in readings]),
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


def asked_about(
    connection: Connection, *, item_id: int | None, facts: LineFacts, value: float
) -> Slip | None:
    """Whether a value looks like a slip, given the line's scale, bogey and the tube's last reading."""
    last = None
    if item_id is not None:
        past = bench.readings_of_line(connection, item_id=item_id, line_id=facts.line_id)
        last = past[-1].value if past else None
    return likely_slip(value, scale=facts.scale, bogey=facts.bogey, last=last)
