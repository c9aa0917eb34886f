"""Views of a job on the bench: its sockets, readings, flags, spares."""

from dataclasses import dataclass
from datetime import date, datetime

from tubeshelf.domain.fitting import Outcome
from tubeshelf.domain.jobs import Action, Answer, Disposition, FoundState, JobStatus
from tubeshelf.domain.judging import (
    NO_PASS_LIMITS,
    Limit,
    LineVerdict,
    Observation,
    PassLimits,
    Repeatability,
    Scale,
    Stage,
    TubeVerdict,
)
from tubeshelf.domain.written_facts import NOTHING_WRITTEN, WrittenFacts


@dataclass(frozen=True, slots=True)
class TesterView:
    """A tester as a choice: its name, method, scale, how well it repeats, what leakage and gas may pass."""

    id: int
    name: str
    method: str
    scale: Scale
    repeatability: Repeatability
    passes: PassLimits = NO_PASS_LIMITS


@dataclass(frozen=True, slots=True)
class ReadingView:
    """One reading; ``text`` is the value as shown (a word on a scale of words)."""

    id: int
    value: float
    text: str
    unit: str
    tester: str
    stage: Stage
    at: datetime
    settings: tuple[str, ...] = ()
    line_v: float | None = None


@dataclass(frozen=True, slots=True)
class LineView:
    """One setting line of the tube in a socket: what to dial in, what was read, how it was judged.

    ``line_id`` is ``None`` for a line that nobody has written down yet: it comes into being with its
    first reading. ``dial`` pairs the tester's own field names with what to set them to.
    """

    line_id: int | None
    tester: TesterView
    label: str
    section: str
    quantity: str
    dial: tuple[tuple[str, str], ...]
    limit: Limit | None
    readings: tuple[ReadingView, ...] = ()
    verdict: LineVerdict | None = None
    text: str = ""


@dataclass(frozen=True, slots=True)
class FoundView:
    """What was in the socket: the mark as read, the type as believed and why, and which tube it is.

    ``place`` is where that tube is now: ``socket``, ``bag``, ``customer``, ``shelf`` …, empty if unknown.
    """

    state: FoundState
    marked: str = ""
    designation: str = ""
    type_id: int | None = None
    reason: str = ""
    item_id: int | None = None
    tag: str = ""
    place: str = ""


@dataclass(frozen=True, slots=True)
class ReasonView:
    """A rule's code and its sentence."""

    rule: str
    text: str


@dataclass(frozen=True, slots=True)
class FitView:
    """The fit of what was found, with every reason, worst first, and its conditions."""

    outcome: Outcome
    word: str
    reasons: tuple[ReasonView, ...] = ()
    conditions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class SpareView:
    """A tube or lot for a socket: where it lies and what it reads. ``tag`` is empty for a lot.

    ``verdict`` is the word of its last readings or ``not read``; ``here`` that it is promised to this socket.
    """

    item_id: int
    tag: str
    designation: str
    bin: str
    reads: str
    verdict: str
    sure: bool | None
    condition: str
    price: int | None
    quantity: int
    matched_set: int | None = None
    premium: bool = False
    outcome: Outcome = Outcome.RIGHT_TYPE
    conditions: tuple[str, ...] = ()
    here: bool = False


@dataclass(frozen=True, slots=True)
class PastView:
    """What this place held at an earlier job."""

    job_number: int
    on: date
    designation: str
    tag: str
    reads: str
    verdict: str
    fitted: bool


@dataclass(frozen=True, slots=True)
class SocketView:
    """One socket of a job, or one loose tube, with everything said about it.

    ``lines`` are those of the chosen tester at the chosen stage; ``other_lines`` what was read on other
    testers or at other stages. ``spare`` is the best free one (or the promised one), ``fitted`` what this
    job put in. ``action`` is what holds: the technician's where he said so (``action_said``), else the
    proposal. ``written`` is what is written down of the socket beside its type, ``unused`` the sections that
    the set has nothing on: they have no lines. ``tested`` are the lines of every tester at the chosen stage,
    ``action_note`` is why the technician decided as he did.
    """

    id: int
    position: str
    role: str
    designed: str
    intended: str
    intended_type_id: int
    modified: bool
    match_group: str
    circuit: str
    found: FoundView
    lines: tuple[LineView, ...]
    other_lines: tuple[LineView, ...]
    observations: tuple[tuple[int, Stage, Observation], ...]
    verdict: TubeVerdict
    verdict_text: str
    fit: FitView | None
    proposed: Action
    action: Action
    action_said: bool
    action_why: str
    answer: Answer | None
    disposition: Disposition | None
    spare: SpareView | None
    fitted: SpareView | None
    as_left: tuple[LineView, ...] = ()
    answer_how: str = ""
    answer_on: date | None = None
    written: WrittenFacts = NOTHING_WRITTEN
    unused: tuple[str, ...] = ()
    tested: tuple[LineView, ...] = ()
    action_note: str = ""
    version: int = 1


@dataclass(frozen=True, slots=True)
class ApprovalView:
    """Who approved the estimate, when, how and up to how much (minor units)."""

    who: str
    on: date
    how: str
    ceiling: int | None
    note: str = ""


@dataclass(frozen=True, slots=True)
class EstimateView:
    """What the proposed work comes to, in minor units; ``unpriced`` counts tubes without a price."""

    tubes: int
    labour: int
    total: int
    unpriced: int
    declined: tuple[str, ...]
    approval: ApprovalView | None

    @property
    def over(self) -> int:
        """By how much the total is over what was agreed; 0 while it is not, or nothing was agreed."""
        agreed = None if self.approval is None else self.approval.ceiling
        return 0 if agreed is None else max(0, self.total - agreed)


@dataclass(frozen=True, slots=True)
class JobHead:
    """A job in a list, with what it waits for."""

    id: int
    number: int
    title: str
    customer: str
    serial: str
    complaint: str
    status: JobStatus
    received_on: date
    promised_on: date | None
    waits_for: str
    sockets: int
    read: int
    to_replace: int
    harm: bool
    closed: bool
    loose: bool


@dataclass(frozen=True, slots=True)
class JobView:
    """A whole job on the bench at one stage and tester.

    ``harm`` says why nobody must power the set, a (position, sentence) each, empty when there is none or it
    is resolved; ``swaps`` are sentences about tubes that stand in each other's places.
    """

    id: int
    number: int
    title: str
    customer: str
    customer_id: int
    equipment: str
    serial: str
    equipment_id: int | None
    model_id: int | None
    complaint: str
    scope: str
    intake: str
    status: JobStatus
    received_on: date
    promised_on: date | None
    closed_on: date | None
    stage: Stage
    tester: TesterView | None
    testers: tuple[TesterView, ...]
    sockets: tuple[SocketView, ...]
    harm: tuple[tuple[str, str], ...]
    swaps: tuple[str, ...]
    to_replace: int
    undecided: int
    not_on_hand: int
    waits_for: str
    estimate: EstimateView
    comeback_of: int | None = None
    comeback_note: str = ""
    version: int = 1

    def socket(self, socket_id: int) -> SocketView:
        """The socket with this id; KeyError if the job has none such."""
        for socket in self.sockets:
            if socket.id == socket_id:
                return socket
        raise KeyError(socket_id)
