"""Where the tubes of a set are, derived from what is entered anyway: which sockets stand empty now."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import StrEnum

from tubeshelf.domain.jobs import Disposition, FoundState
from tubeshelf.domain.places import Place


class Where(StrEnum):
    """What is known of the tube of a socket, in the words that follow its position."""

    UNKNOWN = "not looked yet"
    IN_PLACE = "in its place"
    INSTALLED = "installed"
    OUT = "on the tester or the bench"
    BAG = "in the job's bag"
    AWAY = "no longer with the set"
    FOUND_EMPTY = "found empty"
    ASIDE = "out since the set was put aside"
    ON_PURPOSE = "empty on purpose"

    @property
    def is_empty(self) -> bool:
        """Whether the socket stands empty; of one that nobody has looked at, that is not said."""
        return self not in (Where.UNKNOWN, Where.IN_PLACE, Where.INSTALLED)

    @property
    def asks(self) -> bool:
        """Whether a set that is put aside so is asked about: what is said to be on purpose is not."""
        return self.is_empty and self is not Where.ON_PURPOSE


@dataclass(frozen=True, slots=True)
class Seen:
    """What the record holds of one socket that tells where its tube is.

    ``place`` is where the tube that was found is now, ``None`` if none was; ``here`` that it is this socket.
    ``entered`` and ``aside`` are the acts (growing numbers, 0 for none) of the last finding, reading or mark
    at it, and of putting the set aside with this socket named.
    """

    position: str
    found: FoundState = FoundState.NOT_LOOKED
    place: Place | None = None
    here: bool = True
    disposition: Disposition | None = None
    installed: bool = False
    entered: int = 0
    aside: int = 0


def where(seen: Seen, *, in_hand: bool = False) -> Where:
    """Where the tube of one socket is. Nothing has to be typed for it, and no more is said than is known:

    - *Empty on purpose* holds whatever else is known, since somebody said it.
    - A tube that was pulled is *in the bag* or, given back or kept by the shop, *no longer with the set*:
      its socket stands empty until another tube is installed.
    - ``in_hand`` says that the tube is under way at the bench, as ``under_way`` decides: it is *out*, one
      tube at most. As soon as the hand goes on to another socket, it is taken as back.
    - A tube that this job put in is *installed*.
    - A socket that was found empty stands so until a tube is installed.
    - A socket named when the set was put aside stands empty until something is entered at it, or the set is
      said to be whole.
    - Any other tube is *in its place*; where nobody has looked, nothing is said.
    """
    if seen.disposition is Disposition.EMPTY_ON_PURPOSE:
        return Where.ON_PURPOSE
    if not seen.installed and seen.place is Place.BAG:
        return Where.BAG
    if not seen.installed and seen.place is not None and not (seen.place is Place.SOCKET and seen.here):
        return Where.AWAY
    if in_hand:
        return Where.OUT
    if seen.installed:
        return Where.INSTALLED
    if seen.found is FoundState.NOT_LOOKED:
        return Where.UNKNOWN
    if seen.found is FoundState.EMPTY:
        return Where.FOUND_EMPTY
    return Where.ASIDE if seen.aside > seen.entered else Where.IN_PLACE


def under_way(sockets: Sequence[Seen], position: str, *, reading_due: bool) -> bool:
    """Whether the tube of the socket in hand is taken as out of it.

    It is while the last thing entered for the whole set was entered at this socket, since the set was put
    aside with it, and a reading is still due there; read through, it is taken as going back, though nobody
    has said so.
    """
    last = max(sockets, key=lambda seen: seen.entered, default=None)
    return reading_due and last is not None and last.entered > last.aside and last.position == position


def whereabouts(
    sockets: Sequence[Seen], *, in_hand: str = "", reading_due: bool = False
) -> tuple[tuple[str, Where], ...]:
    """Each position with where its tube is. ``in_hand`` is the position that the entry stands at, if any."""
    out = bool(in_hand) and under_way(sockets, in_hand, reading_due=reading_due)
    return tuple((seen.position, where(seen, in_hand=out and seen.position == in_hand)) for seen in sockets)


def is_answered(stands: Iterable[tuple[str, Where]], said_of: Iterable[str]) -> bool:
    """Whether nobody need be asked: nothing stands empty but on purpose, or the answer named these sockets.

    The answer stands until the empty sockets are others than it was given for.
    """
    empty = [(position, place) for position, place in stands if place.is_empty]
    if not any(place.asks for _, place in empty):
        return True
    return {position for position, _ in empty} == set(said_of)


def positions_text(positions: Sequence[str]) -> str:
    """Positions as they are said: ``V1``, ``V1 and V2``, ``V1, V2 and V3``."""
    *first, last = positions
    return f"{', '.join(first)} and {last}" if first else last


def empty_text(stands: Iterable[tuple[str, Where]]) -> str:
    """Which sockets stand empty, with where their tubes are; empty text where none does."""
    empty = [(position, place) for position, place in stands if place.is_empty]
    if not empty:
        return ""
    verb = "stands" if len(empty) == 1 else "stand"
    by_place: dict[Where, list[str]] = {}
    for position, place in empty:
        by_place.setdefault(place, []).append(position)
    if len(by_place) == 1:
        (place,) = by_place
        return f"{positions_text(by_place[place])} {verb} empty ({place})"
    each = "; ".join(f"{positions_text(of)} {place}" for place, of in by_place.items())
    return f"{positions_text([position for position, _ in empty])} {verb} empty ({each})"
