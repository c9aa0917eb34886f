"""Sockets of a job as views: readings, verdict, fit, what is proposed. Spares are added by ``jobs``."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from types import MappingProxyType
from typing import TYPE_CHECKING, Any

from sqlalchemy import Row

from tubeshelf.domain.fitting import Outcome
from tubeshelf.domain.jobs import (
    Action,
    Answer,
    Disposition,
    FoundState,
    propose_action,
    propose_for_groups,
)
from tubeshelf.domain.judging import NOT_READ, Mark, Observation, Stage, TubeVerdict, Zone
from tubeshelf.domain.tags import format_tag
from tubeshelf.domain.types import TubeType
from tubeshelf.domain.verdict import judge_tube, like_sections
from tubeshelf.domain.verdict_words import mark_text, tube_text
from tubeshelf.domain.words import outcome_word
from tubeshelf.services.lines import lines_of, with_readings
from tubeshelf.services.socket_facts import intended_id, written_of
from tubeshelf.services.views.bench import FitView, FoundView, LineView, ReasonView, SocketView

if TYPE_CHECKING:
    from tubeshelf.services.jobdata import JobData
    from tubeshelf.services.shop import Shop

NO_OWN: Mapping[int, int] = MappingProxyType({})
"""Every socket on the tester of its job."""


def build_sockets(
    shop: Shop,
    data: JobData,
    rows: Iterable[Row[Any]],
    *,
    tester_id: int | None,
    stage: Stage,
    own_testers: Mapping[int, int] = NO_OWN,
    afresh: bool = False,
) -> tuple[SocketView, ...]:
    """The sockets of one job as seen on a tester at a stage, with whole match groups proposed together.

    ``own_testers`` names another tester for a socket, by its id. ``afresh`` tells what today's limits would
    make of the readings, in place of the verdicts that were given.
    """
    views = [
        _build(shop, data, row, tester_id=own_testers.get(row.id, tester_id), stage=stage, afresh=afresh)
        for row in rows
    ]
    proposed = propose_for_groups(
        {view.position: view.proposed for view in views},
        {view.position: view.match_group or None for view in views},
    )
    return tuple(
        _with_action(view, proposed[view.position], row) for view, row in zip(views, rows, strict=True)
    )


def _with_action(view: SocketView, proposed: Action, row: Row[Any]) -> SocketView:
    said = bool(row.action)
    action = Action(row.action) if said else proposed
    view = replace(view, action=action, action_said=said, action_note=row.action_note)
    return decided(view, proposed)


def decided(view: SocketView, proposed: Action) -> SocketView:
    """A socket with what is proposed for all of its group; what was said at the bench holds anyway."""
    why = view.action_note
    if not view.action_said and proposed is not alone_proposed(view):
        why = f"matched with the rest of group {view.match_group}"
    action = view.action if view.action_said else proposed
    return replace(view, proposed=proposed, action=action, action_why=why)


def alone_proposed(view: SocketView) -> Action:
    """What would be proposed for a socket if it were in no match group."""
    return propose_action(view.verdict, None if view.fit is None else view.fit.outcome, view.found.state)


def _build(
    shop: Shop, data: JobData, row: Row[Any], *, tester_id: int | None, stage: Stage, afresh: bool
) -> SocketView:
    book = shop.book
    intended = intended_id(row)
    found_type = intended if row.found_type_id is None else row.found_type_id
    fitted = data.items.get(row.fitted_item_id)
    now_type = found_type if fitted is None or fitted.type_id is None else fitted.type_id
    everything = _all_lines(data, row, found_type, book.type(found_type), Stage.AS_FOUND, afresh)
    as_left = _all_lines(data, row, now_type, book.type(now_type), Stage.AS_LEFT, afresh)
    shown = as_left if stage is Stage.AS_LEFT else everything
    found = _found(book.designation(row.found_type_id), row, data.items.get(row.found_item_id))
    fit = _fit(row)
    observations = tuple(
        (o.id, Stage(o.stage), Observation(Mark(o.mark), o.is_fault, o.value, o.unit, o.pins))
        for o in data.observations.get(row.id, ())
    )
    as_found = [o for _, at, o in observations if at is Stage.AS_FOUND]
    verdict, text = tube_verdict(everything, as_found, book.type(found_type))
    proposed = propose_action(verdict, None if fit is None else fit.outcome, found.state)
    circuit = data.circuits.get(row.heater_circuit_id)
    return SocketView(
        id=row.id,
        position=row.position,
        role=row.role,
        designed=book.designation(row.designed_type_id),
        intended=book.designation(intended),
        intended_type_id=intended,
        modified=row.modified_type_id is not None,
        match_group=row.match_group,
        circuit="" if circuit is None else circuit.name,
        found=found,
        lines=tuple(line for line in shown if line.tester.id == tester_id),
        other_lines=tuple(
            line
            for line in everything
            if line.verdict is not None and (stage is Stage.AS_LEFT or line.tester.id != tester_id)
        ),
        observations=observations,
        verdict=verdict,
        verdict_text=text,
        fit=fit,
        proposed=proposed,
        action=proposed,
        action_said=False,
        action_why="",
        answer=Answer(row.answer) if row.answer else None,
        answer_how=row.answer_how or "",
        answer_on=row.answer_on,
        disposition=Disposition(row.disposition) if row.disposition else None,
        spare=None,
        fitted=None,
        as_left=tuple(line for line in as_left if line.verdict is not None),
        written=written_of(row),
        unused=tuple(row.unused_sections.split()),
        tested=shown,
        version=row.version,
    )


def _all_lines(
    data: JobData, row: Row[Any], type_id: int, tube: TubeType | None, stage: Stage, afresh: bool
) -> tuple[LineView, ...]:
    """The lines of a type on every tester, and those of another type that were read here all the same.

    A section that the set does not use has none; where a tube has no other section it is read all the same.
    """
    readings, judgements = data.readings.get(row.id, []), data.judgements.get(row.id, [])
    unused = row.unused_sections.split()
    lines: list[LineView] = []
    for tester_row in data.testers.values():
        written = [row for row in data.lines.get(type_id, []) if row.tester_id == tester_row.id]
        of_tester = lines_of(tube, tester_row, written)
        used = [line for line in of_tester if line.section not in unused]
        lines.extend(used or of_tester)
    return with_readings(lines, readings, judgements, stage, afresh=afresh)


def tube_verdict(
    lines: Sequence[LineView], observations: Sequence[Observation], tube: TubeType | None
) -> tuple[TubeVerdict, str]:
    """What a tube is worth by all testers it was read on, and in words: the worst of them decides."""
    alike = {} if tube is None else like_sections(tube.sections)
    verdicts: list[tuple[TubeVerdict, str]] = []
    for tester in dict.fromkeys(line.tester for line in lines):
        of_tester = [line for line in lines if line.tester == tester]
        read = [(line.label, line.section, line.verdict) for line in of_tester if line.verdict is not None]
        if read:
            verdict = judge_tube(read, observations, len(of_tester), alike)
            verdicts.append((verdict, tube_text(verdict, tester.method)))
    if not verdicts:
        verdict = judge_tube((), observations)
        verdicts.append((verdict, tube_text(verdict)))
    worst, text = min(verdicts, key=lambda pair: _rank(pair[0]))
    fault = next((o for o in observations if o.is_fault and str(o.mark) == worst.word), None)
    return worst, text if fault is None else mark_text(fault)


def _rank(verdict: TubeVerdict) -> int:
    """Faults first; a tester that was only begun on says less than one that was read through."""
    order = (Zone.REJECT, Zone.WEAK, Zone.GOOD, Zone.UNJUDGED, NOT_READ)
    return order.index(verdict.word) if verdict.word in order else -1


def _found(designation: str, row: Row[Any], item: Row[Any] | None) -> FoundView:
    if row.state is None:
        return FoundView(FoundState.NOT_LOOKED)
    return FoundView(
        state=FoundState(row.state),
        marked=row.marked,
        designation=designation,
        type_id=row.found_type_id,
        reason=row.reason,
        item_id=row.found_item_id,
        tag="" if item is None or item.tag is None else format_tag(item.tag),
        place="" if item is None else item.place,
    )


def _fit(row: Row[Any]) -> FitView | None:
    if row.outcome is None:
        return None
    outcome = Outcome(row.outcome)
    reasons = tuple(ReasonView(rule, text) for rule, text in json.loads(row.reasons))
    return FitView(outcome, outcome_word(outcome), reasons, row.conditions)
