"""A job as it stands after one reading, made of what the service wrote and what was on show before it.

To read a whole job again takes longer than a key may: the page shows this at once, and the job read afresh,
with spares, sums and what other benches wrote, in the turn after it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from tubeshelf.domain.jobs import Action, propose_for_groups
from tubeshelf.domain.judging import Stage
from tubeshelf.domain.verdict_words import line_text
from tubeshelf.services.sockets import alone_proposed, decided, tube_verdict
from tubeshelf.services.views.bench import JobView, LineView, ReadingView, SocketView

if TYPE_CHECKING:
    from tubeshelf.services.recording import ReadingTaken
    from tubeshelf.services.shop import Shop


def with_reading(shop: Shop, job: JobView, *, socket_id: int, line: LineView, taken: ReadingTaken) -> JobView:
    """The job with a reading of this line of a socket; spares, counts and sums are those from before."""
    socket = job.socket(socket_id)
    read = _read(shop, socket, line, _line(line, job.stage, taken), job.stage)
    group = [s for s in job.sockets if s.match_group and s.match_group == read.match_group]
    proposed = _proposed([read if s.id == read.id else s for s in group] or [read])
    patched = {s.id: decided(read if s.id == read.id else s, proposed[s.id]) for s in (*group, read)}
    return replace(job, sockets=tuple([patched.get(s.id, s) for s in job.sockets]))


def _line(line: LineView, stage: Stage, taken: ReadingTaken) -> LineView:
    stored, verdict = taken.stored, taken.verdict
    if stored is None or verdict is None:
        raise ValueError("nothing was stored, so nothing can be shown of it")
    reading = ReadingView(
        id=stored.id,
        value=stored.value,
        text=taken.text,
        unit=line.tester.scale.unit,
        tester=line.tester.name,
        stage=stage,
        at=stored.at,
        settings=stored.settings,
    )
    unlimited = verdict.limit.good_from is None and verdict.limit.reject_below is None
    verdict = replace(verdict, limit=replace(verdict.limit, unit=line.tester.scale.unit))
    return replace(
        line,
        line_id=stored.line_id,
        readings=(*line.readings, reading),
        verdict=verdict,
        limit=line.limit if unlimited else verdict.limit,
        text=line_text(verdict, line.tester.scale.words),
    )


def _read(shop: Shop, socket: SocketView, old: LineView, new: LineView, stage: Stage) -> SocketView:
    """The socket with another line in place of one, before it is said what becomes of its tube."""
    tested = _with(socket.tested, old, new)
    lines = _with(socket.lines, old, new)
    if stage is Stage.AS_LEFT:
        as_left = tuple([line for line in tested if line.verdict is not None])
        return replace(socket, tested=tested, lines=lines, as_left=as_left)
    noted = [seen for _, at, seen in socket.observations if at is Stage.AS_FOUND]
    found = socket.intended_type_id if socket.found.type_id is None else socket.found.type_id
    verdict, text = tube_verdict(tested, noted, shop.book.type(found))
    return replace(socket, tested=tested, lines=lines, verdict=verdict, verdict_text=text)


def _with(lines: Sequence[LineView], old: LineView, new: LineView) -> tuple[LineView, ...]:
    return tuple([new if line is old or line == old else line for line in lines])


def _proposed(sockets: Sequence[SocketView]) -> dict[int, Action]:
    """What is proposed for sockets that are one match group, or for one that is in none."""
    alone = {s.position: alone_proposed(s) for s in sockets}
    together = propose_for_groups(alone, {s.position: s.match_group or None for s in sockets})
    return {s.id: together[s.position] for s in sockets}
