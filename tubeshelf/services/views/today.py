"""Views of what today's limits would say of tubes that were read before."""

from dataclasses import dataclass

from tubeshelf.domain.jobs import Action
from tubeshelf.domain.judging import LineVerdict, Stage, TubeVerdict
from tubeshelf.services.views.bench import EstimateView


@dataclass(frozen=True, slots=True)
class LineToday:
    """A setting line as it was judged and as it would be today; ``words`` are those of a merit scale.

    ``label`` is empty for a tube with one line; ``unit`` that of both limits.
    """

    label: str
    tester: str
    unit: str
    words: tuple[str, ...]
    then: LineVerdict
    now: LineVerdict


@dataclass(frozen=True, slots=True)
class SocketToday:
    """A socket whose verdict or proposed action would be another, at the stage it was read at.

    ``lines`` are those of its lines whose limit or verdict differs. ``said`` is what the technician decided
    himself, which stands whatever is proposed; ``None`` where he went by the proposal. ``why`` tells of a
    proposal for another reason than the tube itself: its match group.
    """

    socket_id: int
    position: str
    role: str
    stage: Stage
    lines: tuple[LineToday, ...]
    then: TubeVerdict
    now: TubeVerdict
    then_text: str
    now_text: str
    proposed_then: Action
    proposed_now: Action
    said: Action | None
    why: str = ""


@dataclass(frozen=True, slots=True)
class JobToday:
    """What today's limits change of one job. ``moved`` counts further sockets that have other limits now
    while their verdict stands; the money is ``None`` where no proposal changes, and so neither does it."""

    job_id: int
    number: int
    title: str
    customer: str
    closed: bool
    sockets: tuple[SocketToday, ...]
    moved: int
    money_then: EstimateView | None = None
    money_now: EstimateView | None = None

    @property
    def changes(self) -> bool:
        """Whether anything would be judged by other figures than it was."""
        return bool(self.sockets) or self.moved > 0

    @property
    def more(self) -> int:
        """By how much the estimate would be higher, in minor units; less than nothing where it is lower."""
        if self.money_then is None or self.money_now is None:
            return 0
        return self.money_now.total - self.money_then.total


@dataclass(frozen=True, slots=True)
class TodayView:
    """What today's limits change of the jobs looked at; ``jobs`` are those of which they change anything."""

    looked_at: int
    jobs: tuple[JobToday, ...]

    @property
    def sockets(self) -> int:
        """How many verdicts or proposals would be others."""
        return sum(len(job.sockets) for job in self.jobs)

    @property
    def more(self) -> int:
        """By how much all estimates together would be higher, in minor units."""
        return sum(job.more for job in self.jobs)
