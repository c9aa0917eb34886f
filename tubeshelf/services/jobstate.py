"""What its sockets say of a job as a whole: what it waits for, why nobody must power the set, swaps."""

from collections.abc import Sequence

from tubeshelf.domain.fitting import Outcome
from tubeshelf.domain.jobs import (
    Action,
    Answer,
    FoundState,
    JobStatus,
    SocketFinding,
    do_not_power,
    find_swaps,
)
from tubeshelf.domain.judging import NOT_READ, Stage
from tubeshelf.services.views.bench import SocketView


def looked_at(socket: SocketView) -> bool:
    """Whether nothing is left to read: empty, or read (a fault counts), or about to go for another reason."""
    if socket.found.state is FoundState.NOT_LOOKED:
        return False
    return socket.found.state is FoundState.EMPTY or socket.verdict.word != NOT_READ


def takes_tubes(status: JobStatus, equipment_id: int | None) -> bool:
    """Whether tubes may still go into a job: it is open, and no box of loose tubes."""
    return status.is_open and equipment_id is not None


def waits_for(status: JobStatus, sockets: Sequence[SocketView], *, loose: bool) -> str:
    """What a job waits for, in words: the first thing that somebody has to do; loose tubes need none."""
    if not status.is_open:
        return ""
    if first := waits_first_for(status, sockets):
        return first
    if loose:
        return "handing back"
    missing = dict.fromkeys(s.intended for s in sockets if not_on_hand(s))
    if missing:
        return f"{', '.join(missing)} to order"
    if any(
        s.action is Action.REPLACE and s.fitted is None and s.answer is not Answer.DECLINED for s in sockets
    ):
        return "retubing"
    return "handing back"


def waits_first_for(status: JobStatus, sockets: Sequence[SocketView]) -> str:
    """What comes before any tube can be put in; empty if nothing does."""
    unread = sum(not looked_at(s) and s.action is not Action.REPLACE for s in sockets)
    if unread:
        return "readings"
    if any(s.action is Action.UNDECIDED and s.answer is None for s in sockets):
        return "a decision"
    if any(s.answer is Answer.ASK_AGAIN for s in sockets) or status is JobStatus.WAITING_CUSTOMER:
        return "the customer"
    return ""


def not_on_hand(socket: SocketView) -> bool:
    """Whether a tube is to be put in here and none on the shelf may serve."""
    wanted = socket.action is Action.REPLACE and socket.fitted is None and socket.disposition is None
    return wanted and socket.answer is not Answer.DECLINED and socket.spare is None


def _finding(socket: SocketView) -> SocketFinding:
    return SocketFinding(
        position=socket.position,
        intended=socket.intended,
        found_state=socket.found.state,
        found=socket.found.designation or socket.found.marked or None,
        outcome=None if socket.fit is None else socket.fit.outcome,
        observations=tuple(o for _, at, o in socket.observations if at is Stage.AS_FOUND),
        left=tuple(o for _, at, o in socket.observations if at is Stage.AS_LEFT),
        disposition=socket.disposition,
        installed_outcome=None if socket.fitted is None else socket.fitted.outcome,
    )


def harm_of(sockets: Sequence[SocketView]) -> tuple[tuple[str, str], ...]:
    """Why nobody must power the set, a position and a sentence each, with the numbers of the fit."""
    harm = []
    for position, why in do_not_power([_finding(socket) for socket in sockets]):
        socket = next(s for s in sockets if s.position == position)
        fit = socket.fit
        if fit is not None and fit.outcome is Outcome.HARMFUL and not why.startswith("short"):
            name = socket.found.designation or socket.found.marked
            why = f"a {name} {fit.reasons[0].text}"
        harm.append((position, why))
    return tuple(harm)


def swaps_of(sockets: Sequence[SocketView]) -> tuple[str, ...]:
    """A sentence for each two tubes that stand in each other's places."""
    by_position = {socket.position: socket for socket in sockets}
    sentences = []
    for one, other in find_swaps([_finding(socket) for socket in sockets]):
        first, second = by_position[one].found.designation, by_position[other].found.designation
        sentences.append(
            f"{one} and {other} are swapped: the {first} belongs in {other}, the {second} in {one}."
        )
    return tuple(sentences)
