"""The decision sheet of a job: socket by socket what is proposed, why, at which price, and the answer."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from tubeshelf.domain.dates import format_date
from tubeshelf.domain.jobs import Action, Answer, Disposition
from tubeshelf.services.decide import gets_tube, price_of
from tubeshelf.services.jobstate import takes_tubes
from tubeshelf.services.papers import found_text, why_parts
from tubeshelf.services.views.bench import JobView, SocketView, SpareView


@dataclass(frozen=True, slots=True)
class DecisionLine:
    """One socket of the sheet; ``why`` is what there is to say beside the verdict.

    ``proposed`` is the type that goes in or would, ``tube`` the very one that is on hand. ``price`` is in
    minor units, ``None`` where no tube has one. ``charged`` says that it is part of the total, ``asked``
    that the customer is to be asked about this socket.
    """

    socket_id: int
    position: str
    role: str
    match_group: str
    found: str
    verdict: str
    why: str
    action: Action
    proposed: str
    tube: SpareView | None
    fitted: bool
    empty: bool
    price: int | None
    charged: bool
    asked: bool
    answer: Answer | None
    answer_how: str
    answer_on: date | None


def decision_lines(job: JobView) -> tuple[DecisionLine, ...]:
    """The sheet of a job, in test order."""
    closed = not takes_tubes(job.status, job.equipment_id)
    return tuple(_line(socket, closed=closed) for socket in job.sockets)


def _line(socket: SocketView, *, closed: bool) -> DecisionLine:
    tube = socket.fitted or socket.spare
    empty = socket.disposition is Disposition.EMPTY_ON_PURPOSE
    return DecisionLine(
        socket_id=socket.id,
        position=socket.position,
        role=socket.role,
        match_group=socket.match_group,
        found=found_text(socket),
        verdict=socket.verdict_text,
        why="; ".join(part for part in why_parts(socket) if part != socket.verdict_text),
        action=socket.action,
        proposed=socket.intended if tube is None else tube.designation,
        tube=tube,
        fitted=socket.fitted is not None,
        empty=empty,
        price=price_of(socket),
        charged=gets_tube(socket, closed=closed),
        asked=not empty and (socket.action is not Action.KEEP or socket.answer is not None),
        answer=socket.answer,
        answer_how=socket.answer_how,
        answer_on=socket.answer_on,
    )


def proposal_text(line: DecisionLine) -> str:
    """What is proposed for a socket, or was done with it."""
    if line.fitted:
        return f"{line.proposed} put in"
    if line.empty:
        return "stays empty on purpose"
    match line.action:
        case Action.REPLACE:
            return f"replace with {line.proposed}"
        case Action.KEEP:
            return "keep"
    return f"not decided; {line.proposed} if replaced"


def answer_text(line: DecisionLine) -> str:
    """What the customer said of a socket, when and how; empty if nobody asked yet."""
    if line.answer is None:
        return ""
    day = "" if line.answer_on is None else f"on {format_date(line.answer_on)}"
    return " ".join(part for part in (str(line.answer), line.answer_how, day) if part)


def to_ask_too(lines: Sequence[DecisionLine], socket_id: int) -> tuple[DecisionLine, ...]:
    """The other sockets of its match group about which the customer is to be asked."""
    line = next(line for line in lines if line.socket_id == socket_id)
    return tuple(
        other
        for other in lines
        if line.match_group and other.match_group == line.match_group and other.asked and other != line
    )


def decided_apart(lines: Iterable[DecisionLine]) -> tuple[str, ...]:
    """A sentence for each match group that does not get its tubes as a whole, or was answered in parts."""
    groups: dict[str, list[DecisionLine]] = {}
    for line in lines:
        if line.match_group:
            groups.setdefault(line.match_group, []).append(line)
    return tuple(
        f"{_listed(group)} are a matched group and decided apart."
        for group in groups.values()
        if len({(line.charged, line.answer) for line in group}) > 1
    )


def _listed(lines: Sequence[DecisionLine]) -> str:
    positions = [line.position for line in lines]
    return f"{', '.join(positions[:-1])} and {positions[-1]}"
