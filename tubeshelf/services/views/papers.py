"""Views of what goes on paper: the retube list, the order list, the statement for the customer."""

from dataclasses import dataclass
from datetime import date

from tubeshelf.domain.chassis import Seat
from tubeshelf.services.views.shelf import OrderLine


@dataclass(frozen=True, slots=True)
class PaperHead:
    """What stands at the head of each paper."""

    workshop: str
    address: str
    on: date
    bench: str


@dataclass(frozen=True, slots=True)
class RetubeLine:
    """One socket of the retube list: what comes out and why, which tag from which bin goes in.

    ``tag`` is empty for a lot; ``bin`` is ``order`` where nothing is on hand. ``note`` carries the conditions
    of a substitute; ``declined`` that the customer said no.
    """

    position: str
    role: str
    take_out: str
    why: str
    put_in: str
    tag: str
    bin: str
    reads: str
    done: bool = False
    note: str = ""
    declined: bool = False


@dataclass(frozen=True, slots=True)
class KeepLine:
    """A socket whose tube stays."""

    position: str
    role: str
    designation: str
    reads: str
    verdict: str


@dataclass(frozen=True, slots=True)
class MapPlace:
    """A socket on the chassis with its verdict in words, and its fit where that is not right.

    What is not ``saved`` is a proposed place.
    """

    position: str
    seat: Seat
    verdict: str
    fit: str = ""
    saved: bool = True


@dataclass(frozen=True, slots=True)
class RetubeList:
    """The bench's paper of one job.

    ``loose`` is a box of loose tubes: nothing is put in and there is no chassis, so no ``places``.
    ``checks`` are lamps and the like, to be looked at before the set goes back.
    """

    head: PaperHead
    number: int
    title: str
    customer: str
    serial: str
    stage: str
    tester: str
    promised_on: date | None
    warnings: tuple[str, ...]
    replace: tuple[RetubeLine, ...]
    undecided: tuple[RetubeLine, ...]
    keep: tuple[KeepLine, ...]
    to_order: tuple[str, ...]
    notes: tuple[str, ...]
    loose: bool = False
    places: tuple[MapPlace, ...] = ()
    checks: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class OrderPaper:
    """The supplier's paper, merged over all open jobs."""

    head: PaperHead
    lines: tuple[OrderLine, ...]


@dataclass(frozen=True, slots=True)
class StatementLine:
    """One socket of the customer's paper. Money is text in the record's currency, empty if unpriced."""

    position: str
    role: str
    found: str
    reading: str
    verdict: str
    done: str
    fitted: str
    fitted_condition: str
    fitted_reading: str
    why: str
    price: str


@dataclass(frozen=True, slots=True)
class Statement:
    """The customer's paper of one job; ``measured`` pairs what was measured in the set with its values."""

    head: PaperHead
    number: int
    title: str
    customer: str
    contact: str
    serial: str
    complaint: str
    received_on: date
    closed_on: date | None
    tester: str
    warnings: tuple[str, ...]
    lines: tuple[StatementLine, ...]
    tubes_total: str
    labour: str
    total: str
    approval: str
    declined: tuple[str, ...]
    old_tubes: str
    warranty: str
    notes: tuple[str, ...]
    measured: tuple[tuple[str, str], ...] = ()
