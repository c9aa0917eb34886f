"""Setting lines as views: those written down for a type, those its sections imply, and what was read."""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import Any

from sqlalchemy import Row

from tubeshelf.domain.judging import Repeatability, Stage
from tubeshelf.domain.types import TubeType
from tubeshelf.domain.verdict import judge_line
from tubeshelf.domain.verdict_words import line_text
from tubeshelf.services.recording import implied_limit, limit_of, passes_of, rule_of, scale_of, value_text
from tubeshelf.services.spare_verdict import is_chart, judged_line
from tubeshelf.services.views.bench import LineView, ReadingView, TesterView


def tester_view(row: Row[Any]) -> TesterView:
    """A tester's row as a choice."""
    repeats = Repeatability(row.relative, row.absolute)
    return TesterView(row.id, row.name, row.method, scale_of(row), repeats, passes_of(row))


def lines_of(
    tube: TubeType | None, tester_row: Row[Any], written: Iterable[Row[Any]]
) -> tuple[LineView, ...]:
    """The lines that a type is tested with on a tester: the chart that somebody wrote down, else one a
    readable section, of which those that were read have come into being."""
    view = tester_view(tester_row)
    rows = [row for row in written if row.tester_id == view.id]
    lines = [_written(tube, view, tester_row, row) for row in rows]
    if is_chart(rows):
        return tuple(lines)
    by_section = {line.section: line for line in lines}
    readable = _readable(tube)
    ordered = [by_section.get(s) or _implied(tube, view, tester_row, s) for s in readable]
    return (*ordered, *(line for line in lines if line.section not in readable))


def _written(tube: TubeType | None, view: TesterView, tester_row: Row[Any], row: Row[Any]) -> LineView:
    return LineView(
        line_id=row.id,
        tester=view,
        label=row.label or _label(tube, row.section),
        section=row.section,
        quantity=row.quantity,
        dial=tuple(zip(tester_row.field_names, row.fields, strict=False)),
        limit=limit_of(row, view.scale, rule_of(tester_row), view.method, view.name, tube),
    )


def _readable(tube: TubeType | None) -> tuple[str, ...]:
    if tube is None:
        return ("1",)
    return tuple(s.name for s in tube.sections if s.readable) or ("1",)


def _label(tube: TubeType | None, section: str) -> str:
    return f"section {section}" if section and len(_readable(tube)) > 1 else ""


def _implied(tube: TubeType | None, view: TesterView, tester_row: Row[Any], section: str) -> LineView:
    limit = implied_limit(section, view.scale, rule_of(tester_row), view.method, view.name, tube)
    return LineView(None, view, _label(tube, section), section, "", (), limit)


def with_readings(
    lines: Sequence[LineView],
    readings: Iterable[Row[Any]],
    judgements: Iterable[Row[Any]],
    stage: Stage,
    *,
    afresh: bool = False,
) -> tuple[LineView, ...]:
    """The lines with what was read at a stage and how that was judged, or (``afresh``) would be today."""
    read: dict[int, list[Row[Any]]] = {}
    for row in readings:
        if row.stage == stage:
            read.setdefault(row.setting_line_id, []).append(row)
    judged = {row.setting_line_id: row for row in judgements if row.stage == stage}
    return tuple(
        line
        if line.line_id is None or line.line_id not in judged
        else _judged(line, read.get(line.line_id, []), judged[line.line_id], afresh)
        for line in lines
    )


def _judged(line: LineView, readings: list[Row[Any]], row: Row[Any], afresh: bool) -> LineView:
    verdict = judged_line(row)
    if afresh:
        meant = set(json.loads(row.reading_ids))
        values = [r.value for r in readings if r.id in meant]
        verdict = judge_line(
            values, line.limit, line.tester.repeatability, by_word=bool(line.tester.scale.words)
        )
    unlimited = verdict.limit.good_from is None and verdict.limit.reject_below is None
    return replace(
        line,
        readings=tuple(_reading(r, line) for r in readings),
        verdict=verdict,
        limit=line.limit if unlimited else verdict.limit,
        text=line_text(verdict, line.tester.scale.words),
    )


def _reading(row: Row[Any], line: LineView) -> ReadingView:
    return ReadingView(
        id=row.id,
        value=row.value,
        text=value_text(row.value, line.tester.scale),
        unit=row.unit,
        tester=line.tester.name,
        stage=Stage(row.stage),
        at=row.at,
        settings=row.settings,
        line_v=row.line_v,
    )
