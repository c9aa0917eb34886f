"""Views of a comeback: an earlier job of a unit beside this one."""

from dataclasses import dataclass
from datetime import date

from tubeshelf.domain.comeback import SameTube


@dataclass(frozen=True, slots=True)
class StoodView:
    """What stood in a place: the type as marked, its tag, how it came to be there, what it read."""

    name: str
    tag: str = ""
    how: str = ""
    reads: str = ""
    verdict: str = ""


@dataclass(frozen=True, slots=True)
class PlaceView:
    """One socket of this job. ``left`` is what the earlier job left there, ``now`` what was found since.

    ``proposed`` is the answer that follows from what was found, with why; ``None`` if nothing does.
    ``taken_for_it`` says that the record takes the tube found for the one left, since it is of that type.
    """

    socket_id: int
    position: str
    role: str
    left: StoodView | None
    now: StoodView | None
    answer: SameTube | None = None
    note: str = ""
    proposed: SameTube | None = None
    why: str = ""
    taken_for_it: bool = False


@dataclass(frozen=True, slots=True)
class CoverView:
    """Whether a comeback is covered, and why."""

    covered: bool
    why: str


@dataclass(frozen=True, slots=True)
class Promise:
    """What the shop promised with a job, for how many days; ``by_today`` where only the settings tell."""

    words: str
    days: int | None
    by_today: bool


@dataclass(frozen=True, slots=True)
class EarlierView:
    """A job of the same unit that this one may be set beside."""

    id: int
    number: int
    received_on: date
    closed_on: date | None
    promise: Promise


@dataclass(frozen=True, slots=True)
class ComebackView:
    """This job beside an earlier one; ``alone`` when it is told of itself, as the last that was left.

    ``promise`` is what the shop promised with the earlier job, ``term`` what its term says of the day when
    this job came in; ``until`` and ``within`` are ``None`` where no term runs.
    """

    job_id: int
    number: int
    title: str
    customer: str
    serial: str
    received_on: date
    open: bool
    note: str
    earlier: EarlierView
    choices: tuple[EarlierView, ...]
    promise: str
    term: str
    until: date | None
    within: bool | None
    places: tuple[PlaceView, ...]
    cover: CoverView | None

    @property
    def alone(self) -> bool:
        """Whether there is no second job beside it."""
        return self.earlier.id == self.job_id
