"""Values and rules of a job: what was found, what is proposed, when nobody must power the set."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

from tubeshelf.domain.fitting import Outcome
from tubeshelf.domain.judging import NOT_READ, Mark, Observation, TubeVerdict, Zone
from tubeshelf.domain.verdict_words import mark_text


class JobStatus(StrEnum):
    """Where a job stands, in the shop's own words."""

    RECEIVED = "received"
    READING = "being read"
    WAITING_CUSTOMER = "waiting for the customer"
    WAITING_TUBES = "waiting for tubes"
    RETUBING = "being retubed"
    FINISHED = "finished"
    HANDED_BACK = "handed back"

    @property
    def is_open(self) -> bool:
        """Whether tubes are still to be read, bought or installed."""
        return self not in (JobStatus.FINISHED, JobStatus.HANDED_BACK)


class FoundState(StrEnum):
    """What the technician saw in the socket; never assumed."""

    NOT_LOOKED = "not looked yet"
    EMPTY = "empty"
    UNREADABLE = "unreadable"
    TYPE = "type"


class Action(StrEnum):
    """What is to be done with the tube of a socket."""

    KEEP = "keep"
    REPLACE = "replace"
    UNDECIDED = "undecided"


class Answer(StrEnum):
    """What the customer said to a proposed replacement."""

    AGREED = "agreed"
    DECLINED = "declined"
    ASK_AGAIN = "ask again"


class Disposition(StrEnum):
    """How a socket ends."""

    REFITTED = "refitted"
    INSTALLED = "installed"
    EMPTY_ON_PURPOSE = "empty on purpose"


class Condition(StrEnum):
    """What somebody claims about a tube's origin; never a reading."""

    NOS = "NOS"
    NEW_IN_BOX = "new in box"
    UNUSED_NO_BOX = "unused, no box"
    USED_TESTED = "used, tested"
    PULL = "pull"
    WEAK_BUT_USABLE = "weak but usable"
    SUSPECT = "suspect"
    DEAD = "dead"
    REFERENCE = "reference"


@dataclass(frozen=True, slots=True)
class SocketFinding:
    """What the rules over a whole set need of one socket; types are keys of the type table.

    ``outcome`` is the fit of what was found, ``installed_outcome`` that of a tube put in since, ``left`` what
    was noted of the tube that stands there as left.
    """

    position: str
    intended: str | None
    found_state: FoundState = FoundState.NOT_LOOKED
    found: str | None = None
    outcome: Outcome | None = None
    observations: tuple[Observation, ...] = ()
    disposition: Disposition | None = None
    installed_outcome: Outcome | None = None
    left: tuple[Observation, ...] = ()


_MUST_GO = (Outcome.HARMFUL, Outcome.WRONG_TYPE, Outcome.CANNOT_SEAT)
_NO_FAULT = frozenset(map(str, Zone)) | {NOT_READ}


def propose_action(verdict: TubeVerdict | None, outcome: Outcome | None, found_state: FoundState) -> Action:
    """Replace for a fault, a reject, and a tube that does not belong; an empty socket wants a tube.

    Undecided where somebody has to look, read (again) or judge first: not looked, unreadable, unknown
    type, not read, unjudged, weak, or too close to call. Keep is only ever said of a tube that read good.
    """
    if found_state is FoundState.NOT_LOOKED:
        return Action.UNDECIDED
    if found_state is FoundState.EMPTY or outcome in _MUST_GO:
        return Action.REPLACE
    if verdict is None or verdict.sure is False:
        return Action.UNDECIDED
    if verdict.word == Zone.REJECT or verdict.word not in _NO_FAULT:
        return Action.REPLACE
    known = found_state is FoundState.TYPE and outcome in (Outcome.RIGHT_TYPE, Outcome.ACCEPTED_SUBSTITUTE)
    return Action.KEEP if known and verdict.word == Zone.GOOD else Action.UNDECIDED


def propose_for_groups(actions: Mapping[str, Action], groups: Mapping[str, str | None]) -> dict[str, Action]:
    """The actions by position, with the whole of a match group replaced where one of it is.

    ``groups`` names the match group of a position, ``None`` or nothing for none.
    """
    whole = {groups.get(position) for position, action in actions.items() if action is Action.REPLACE}
    whole.discard(None)
    return {
        position: Action.REPLACE if groups.get(position) in whole else action
        for position, action in actions.items()
    }


def find_swaps(sockets: Sequence[SocketFinding]) -> tuple[tuple[str, str], ...]:
    """Pairs of positions whose found types are each other's intended types; a socket is in one pair only."""
    pairs: list[tuple[str, str]] = []
    taken: set[str] = set()
    for i, one in enumerate(sockets):
        for other in sockets[i + 1 :]:
            if taken.isdisjoint((one.position, other.position)) and _swapped(one, other):
                pairs.append((one.position, other.position))
                taken.update(pairs[-1])
    return tuple(pairs)


def _swapped(one: SocketFinding, other: SocketFinding) -> bool:
    if one.intended is None or other.intended is None or one.intended == other.intended:
        return False
    return one.found == other.intended and other.found == one.intended


def do_not_power(sockets: Iterable[SocketFinding]) -> tuple[tuple[str, str], ...]:
    """The positions for which nobody must power the set, each with why, until resolved.

    A harmful fit and a short each count; another tube installed or the socket left empty on purpose
    resolves what was found. An empty answer is no statement that the set is safe.
    """
    return tuple((socket.position, why) for socket in sockets for why in _dangers(socket))


def _dangers(socket: SocketFinding) -> list[str]:
    if socket.disposition is Disposition.EMPTY_ON_PURPOSE:
        return []
    if socket.disposition is Disposition.INSTALLED:
        harmful = socket.installed_outcome is Outcome.HARMFUL
        return [*(["the tube installed is harmful here"] if harmful else []), *_shorts(socket.left)]
    dangers = []
    if socket.outcome is Outcome.HARMFUL:
        dangers.append(f"{socket.found} is harmful where {socket.intended} belongs")
    return [*dangers, *_shorts((*socket.observations, *socket.left))]


def _shorts(observations: Iterable[Observation]) -> list[str]:
    return [mark_text(o) for o in observations if o.mark is Mark.SHORT and o.is_fault]
