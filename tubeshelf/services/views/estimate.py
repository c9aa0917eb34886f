"""View of the estimate that a customer is given."""

from dataclasses import dataclass
from datetime import date

from tubeshelf.domain.jobs import Answer
from tubeshelf.services.views.papers import PaperHead


@dataclass(frozen=True, slots=True)
class EstimateLine:
    """One socket. ``claimed`` is what is said of the tube's origin, ``reads`` what it reads.

    ``price`` is text in the record's currency; ``asked`` says that the customer is to answer.
    """

    position: str
    role: str
    found: str
    reading: str
    verdict: str
    proposed: str
    claimed: str
    reads: str
    why: str
    price: str
    asked: bool
    answer: Answer | None = None
    answered: str = ""


@dataclass(frozen=True, slots=True)
class EstimatePaper:
    """The estimate of one job. ``valid_until`` is ``None`` where the shop has no term; sums are texts."""

    head: PaperHead
    number: int
    title: str
    customer: str
    contact: str
    serial: str
    complaint: str
    scope: str
    received_on: date
    tester: str
    warnings: tuple[str, ...]
    lines: tuple[EstimateLine, ...]
    tubes: str
    labour: str
    total: str
    ceiling: str
    over: str
    valid_until: date | None
    approval: str
    notes: tuple[str, ...]
    cautions: tuple[str, ...]
