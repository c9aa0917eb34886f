"""Views of where the tubes of a set are, and of its chassis tag."""

from dataclasses import dataclass
from datetime import date

from tubeshelf.domain.whereabouts import Where, empty_text
from tubeshelf.services.views.papers import PaperHead


@dataclass(frozen=True, slots=True)
class Whereabouts:
    """Where the tube of each position of a job is, in test order; none for a box of loose tubes.

    ``asks`` says that it has to be asked whether the empty sockets are so on purpose before the set is put
    aside. ``why`` is what was answered last, as long as it holds.
    """

    job_id: int
    number: int
    stands: tuple[tuple[str, Where], ...] = ()
    asks: bool = False
    why: str = ""

    @property
    def empty(self) -> tuple[str, ...]:
        """The positions that stand empty now."""
        return tuple(position for position, place in self.stands if place.is_empty)

    @property
    def out(self) -> tuple[str, ...]:
        """The positions whose tube is on the tester or the bench: one at most."""
        return tuple(position for position, place in self.stands if place is Where.OUT)

    @property
    def left_out(self) -> tuple[str, ...]:
        """The positions whose tube was on the tester or the bench when the set was put aside."""
        return tuple(position for position, place in self.stands if place is Where.ASIDE)

    @property
    def text(self) -> str:
        """Which sockets stand empty and where their tubes are; empty where none does."""
        return empty_text(self.stands)


@dataclass(frozen=True, slots=True)
class TagLine:
    """One empty socket on a chassis tag: what belongs there, where its tube is in words, and why."""

    position: str
    role: str
    belongs: str
    where: str
    why: str


@dataclass(frozen=True, slots=True)
class ChassisTag:
    """What hangs on a set that is put aside with sockets empty. ``why`` is what the technician said."""

    head: PaperHead
    number: int
    title: str
    customer: str
    serial: str
    promised_on: date | None
    lines: tuple[TagLine, ...]
    why: str
    warnings: tuple[str, ...] = ()
