"""Small wording shared by the papers."""

from collections.abc import Iterable

from tubeshelf.domain.dates import format_date
from tubeshelf.services.views.papers import PaperHead

NO_PREDICTION = (
    "A test tells how a tube reads on one tester on one day. It cannot predict how long the tube will last."
)


def joined(parts: Iterable[str], by: str = ", ") -> str:
    """The parts that say anything, joined."""
    return by.join(part for part in parts if part.strip())


def sentence(text: str) -> str:
    """The text with a full stop, unless it ends in one."""
    text = text.strip()
    return text if not text or text[-1] in ".!?…" else text + "."


def sentences(texts: Iterable[str]) -> str:
    """Each text as a sentence, in one paragraph."""
    return " ".join(sentence(text) for text in texts if text.strip())


def serial(number: str) -> str:
    """A serial number with its word; nothing where there is none."""
    return f"serial {number}" if number.strip() else ""


def shop(head: PaperHead, *, address: bool) -> tuple[str, ...]:
    """Who and when, for the right of the head; the address for papers that leave the house."""
    where = [line.strip() for line in head.address.splitlines()] if address else []
    return tuple(line for line in (head.workshop, *where, format_date(head.on)) if line)
