"""Civil dates as people type and read them, the same in every locale."""

import re
from datetime import date

from tubeshelf.domain.errors import UserError

MONTHS = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)

FIRST_YEAR, LAST_YEAR = 1900, 2199
"""Years a shop can mean; anything else is a slip."""

_ISO = re.compile(r"([0-9]{4})-([0-9]{1,2})-([0-9]{1,2})")
_WORDS = re.compile(r"([0-9]{1,2})\.?\s+([A-Za-z]{3,9})\.?,?\s+([0-9]{4})")
_HOW = "type it as 2 Dec 2026 or 2026-12-02"


def parse_date(text: str) -> date:
    """A date typed as ``2 Dec 2026`` or ``2026-12-02``.

    Figures alone (2/12/2026) are refused, for they mean two dates. Raises ``UserError``.
    """
    typed = " ".join(text.split())
    shown = typed if len(typed) <= 20 else f"{typed[:20]}…"
    if match := _ISO.fullmatch(typed):
        year, month, day = map(int, match.groups())
    elif match := _WORDS.fullmatch(typed):
        day, month, year = int(match.group(1)), _month(match.group(2)), int(match.group(3))
    else:
        raise UserError(f"“{shown}” is not a date: {_HOW}.")
    if not FIRST_YEAR <= year <= LAST_YEAR:
        raise UserError(f"The year of “{shown}” is not between {FIRST_YEAR} and {LAST_YEAR}: {_HOW}.")
    try:
        return date(year, month, day)
    except ValueError:
        raise UserError(f"There is no day “{shown}”: {_HOW}.") from None


def _month(name: str) -> int:
    """The number of a month from its name or the beginning of it, 0 for none."""
    found = [i for i, month in enumerate(MONTHS, 1) if month.casefold().startswith(name.casefold())]
    return found[0] if found else 0


def format_date(day: date) -> str:
    """A date for screen and paper: ``2 Dec 2026``."""
    return f"{day.day} {MONTHS[day.month - 1][:3]} {day.year}"
