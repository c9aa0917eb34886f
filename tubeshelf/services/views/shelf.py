"""Views of the shelf: spares, their counts, the life of one tube, what has to be ordered."""

from dataclasses import dataclass
from datetime import date, datetime

from tubeshelf.domain.judging import LineVerdict


@dataclass(frozen=True, slots=True)
class ItemView:
    """A tube or lot as a row of the shelf. Money in minor units; ``tag`` empty for a lot."""

    id: int
    tag: str
    lot: bool
    quantity: int
    type_id: int | None
    designation: str
    marked: str
    condition: str
    brand: str
    date_code: str
    reads: str
    verdict: str
    sure: bool | None
    verdict_note: str
    bin: str
    place: str
    promised: int
    promised_to: str
    matched_set: int | None
    premium: bool
    owner: str
    price: int | None
    cost: int | None
    note: str
    version: int
    construction: str = ""
    boxed: bool = False
    source: str = ""

    @property
    def doubt(self) -> str:
        """What makes the verdict less than sure, the first of its note; empty where nothing does."""
        return self.verdict_note.partition(" · ")[0] if self.sure is False else ""


@dataclass(frozen=True, slots=True)
class EventView:
    """One thing that happened to a tube, in words."""

    at: datetime
    text: str
    taken_back: bool = False


@dataclass(frozen=True, slots=True)
class ReadView:
    """The latest judged line of a tube: on which tester, what it read and how that was judged."""

    line: str
    section: str
    tester: str
    unit: str
    verdict: LineVerdict


@dataclass(frozen=True, slots=True)
class TypeCount:
    """How many of a type there are; ``substitutes`` counts free ones of types that may serve for it."""

    type_id: int
    designation: str
    on_hand: int
    promised: int
    free: int
    par: int | None
    substitutes: int
    substitute_names: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ShelfView:
    """The rows found, with the totals of the whole shelf."""

    rows: tuple[ItemView, ...]
    total: int
    tubes: int
    types: int
    promised: int


@dataclass(frozen=True, slots=True)
class ItemDetail:
    """One tube or lot with its type's counts, its readings and its time line, oldest first."""

    item: ItemView
    count: TypeCount | None
    readings: tuple[ReadView, ...]
    events: tuple[EventView, ...]


@dataclass(frozen=True, slots=True)
class OrderLine:
    """So many of a type to buy: for which jobs, by when, what else would do, whether they must match."""

    type_id: int
    designation: str
    quantity: int
    substitutes: tuple[str, ...]
    match: str
    jobs: tuple[int, ...]
    needed_by: date | None
    reason: str
