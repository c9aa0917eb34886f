"""Shop tags: the short number painted on a tube's base.

Shown as digits only; printed codes carry a letter in front, so that a scan into a field of readings is
never taken for a reading.
"""

import re

LETTER = "T"
"""The letter in front of a tag in a printed code."""

_TAG = re.compile(rf"{LETTER}?\s?([0-9]{{1,9}})", re.IGNORECASE)


def parse_tag(text: str) -> int | None:
    """The tag somebody typed or scanned (``412``, ``0412``, ``T0412``), ``None`` for anything else."""
    match = _TAG.fullmatch(text.strip())
    return (int(match.group(1)) or None) if match else None


def is_scanned_tag(text: str) -> bool:
    """Whether a text is a printed code, with its letter, rather than figures that may be a reading."""
    return text.strip()[:1].upper() == LETTER and parse_tag(text) is not None


def format_tag(tag: int) -> str:
    """A tag as it is painted and shown: at least four digits."""
    return f"{tag:04d}"


def printed_code(tag: int) -> str:
    """A tag as it is printed for a scanner, with its letter."""
    return f"{LETTER}{format_tag(tag)}"
