"""Giving the verdicts of a job anew, by the limits of today, as one act that can be taken back."""

from __future__ import annotations

import json
from collections import defaultdict
from typing import TYPE_CHECKING, Any

from sqlalchemy import Connection, Row

from tubeshelf.domain.errors import UserError
from tubeshelf.domain.judging import Stage
from tubeshelf.domain.verdict import judge_line
from tubeshelf.services.changes import Changes, Kind
from tubeshelf.services.jobdata import JobData, load_job_data
from tubeshelf.services.recording import LineFacts, Visit, judge_again, line_facts
from tubeshelf.services.spare_verdict import judged_line
from tubeshelf.services.today import differs
from tubeshelf.store.queries import bench, shelf

if TYPE_CHECKING:
    from tubeshelf.services.shop import Shop


def judge_by_today(shop: Shop, *, job_id: int, origin: str = "") -> tuple[int, Changes]:
    """Judge an open job's readings by today's limits; how many lines got a new judgement.

    Lines that were read together are judged together, so that they stay one testing. A tube that was
    judged somewhere else since, as on the shelf, keeps its old verdict: what it read last still speaks.
    """
    with shop.record.act("judged again") as journal:
        connection = journal.connection
        job = bench.job_row(connection, job_id=job_id)
        if job is None:
            raise UserError("That job is gone; reload the page.")
        if job.closed_on is not None:
            raise UserError(f"Job {job.number} is closed: it keeps the verdicts that it was closed with.")
        data = load_job_data(shop, connection, [job_id])
        lines = 0
        items: set[int] = set()
        for visit, judgements in _visits(connection, data).items():
            facts = [_facts(shop, connection, data, row) for row in judgements]
            if any(_differs(data, row, by) for row, by in zip(judgements, facts, strict=True)):
                for by in facts:
                    judge_again(journal, visit, by)
                lines += len(facts)
                items.add(visit.item_id)
        if not lines:
            raise UserError(f"Today's limits change no verdict of job {job.number}.")
        what = "one setting line" if lines == 1 else f"{lines} setting lines"
        journal.said = f"Job {job.number}: {what} judged again by today's limits"
        things = {(Kind.JOB, job_id), *((Kind.ITEM, item_id) for item_id in items)}
        return lines, Changes(journal.act_id, journal.said, frozenset(things), origin)


def _visits(connection: Connection, data: JobData) -> dict[Visit, list[Row[Any]]]:
    """The judgements of a job in the order they were made, by the testing that they belong to."""
    rows = sorted((row for rows in data.judgements.values() for row in rows), key=lambda row: row.id)
    here = {row.id for row in rows}
    last = {row.item_id: 0 for row in rows}
    for row in shelf.judged_lines(connection, last):
        last[row.item_id] = max(last[row.item_id], row.id)
    visits: dict[Visit, list[Row[Any]]] = defaultdict(list)
    for row in rows:
        if last[row.item_id] in here:
            visits[Visit(row.item_id, row.job_socket_id, Stage(row.stage))].append(row)
    return visits


def _facts(shop: Shop, connection: Connection, data: JobData, judgement: Row[Any]) -> LineFacts:
    """What a judgement's line would be judged by today."""
    line_id = judgement.setting_line_id
    type_id = next(
        type_id for type_id, lines in data.lines.items() if any(row.id == line_id for row in lines)
    )
    return line_facts(connection, line_id=line_id, tube=shop.book.type(type_id))


def _differs(data: JobData, judgement: Row[Any], facts: LineFacts) -> bool:
    meant = set(json.loads(judgement.reading_ids))
    values = [row.value for row in data.readings[judgement.job_socket_id] if row.id in meant]
    now = judge_line(values, facts.limit, facts.repeatability, by_word=bool(facts.scale.words))
    return differs(judged_line(judgement), now)
