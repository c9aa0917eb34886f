"""A set that comes back: is it the tube that was left, and does the shop still stand by its work?"""

from datetime import date, timedelta
from enum import StrEnum

from tubeshelf.domain.dates import format_date
from tubeshelf.domain.errors import UserError
from tubeshelf.domain.tags import parse_tag


class SameTube(StrEnum):
    """Whether the tube found at a comeback is the one that was left in its place."""

    YES = "yes"
    NO = "no"
    CANT_TELL = "can't tell"


def same_by_tag(left: str, read: str) -> SameTube:
    """What the tag on the base says, typed or scanned, against the tag of the tube that was left.

    UserError where what was read is no tag.
    """
    number = parse_tag(read)
    if number is None:
        raise UserError(f"“{read.strip()}” is no tag: type the figures painted on the base, such as 0412.")
    return SameTube.YES if number == parse_tag(left) else SameTube.NO


def term_end(closed_on: date | None, days: int | None) -> date | None:
    """The last day of the shop's term, counted from the day a job was closed; ``None`` if there is none."""
    return None if closed_on is None or days is None else closed_on + timedelta(days=days)


def term_text(number: int, closed_on: date | None, days: int | None, came_on: date) -> str:
    """What the shop's term says of a set that came in on a day, after job ``number`` was closed."""
    if closed_on is None:
        return f"Job {number} is not closed: no term runs yet."
    end = term_end(closed_on, days)
    if end is None:
        return f"No term was set. Job {number} was closed on {format_date(closed_on)}."
    start = f"{_days(days or 0)} from {format_date(closed_on)}, until {format_date(end)}"
    left = (end - came_on).days
    if left < 0:
        return f"Out of the term: {start}; it came in {_days(-left)} later."
    return f"Within the term: {start}; it came in with {_days(left)} left."


def _days(days: int) -> str:
    return f"{days:,} {'day' if days == 1 else 'days'}"
