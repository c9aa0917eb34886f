"""Money: whole minor units (cents) of the record's one currency, never a fraction of them."""

import re

from tubeshelf.domain.errors import UserError

MOST = 2**31 - 1
"""Minor units of the largest amount: what a column of a record holds, in a file and on a server."""

_SHAPE = re.compile(r"([+-]?)([0-9]{1,12})(?:[.,]([0-9]*))?")
_CURRENCY = re.compile(r"^\s*(?:[^\W\d]{3}\b|[$£€¥])|(?:\b[^\W\d]{3}|[$£€¥])\s*$")


def parse_money(text: str, currency_digits: int = 2) -> int:
    """The amount somebody typed, in minor units: ``12`` is 1200, ``12.5`` and ``12,50`` are 1250.

    No grouping; a currency sign or a code of three letters before or behind is dropped. Raises
    ``UserError`` with what to type instead; ``currency_digits`` is how many decimals the currency has.
    """
    shown = text.strip() if len(text.strip()) <= 20 else f"{text.strip()[:20]}…"
    bare = _CURRENCY.sub("", text.replace("\N{MINUS SIGN}", "-"), count=1).strip()
    match = _SHAPE.fullmatch(bare)
    example = "1234" if currency_digits == 0 else f"1234.{'50'.ljust(currency_digits, '0')[:currency_digits]}"
    if match is None:
        raise UserError(
            f"“{shown}” is not an amount: type it without a separator for thousands, such as {example}."
        )
    sign, whole, decimals = match.groups(default="")
    if len(decimals) > currency_digits:
        raise UserError(
            f"“{shown}” has more decimals than the currency: type an amount such as {example}, "
            "without a separator for thousands."
        )
    minor = int(whole + decimals.ljust(currency_digits, "0"))
    if minor > MOST:
        raise UserError(
            f"“{shown}” is more than can be kept: at most {format_money(MOST, '', currency_digits)}."
        )
    return -minor if sign == "-" else minor


def format_money(minor: int, currency: str = "", currency_digits: int = 2) -> str:
    """An amount for screen and paper: ``EUR 1,234.50``; without a currency, the figures alone."""
    whole, rest = divmod(abs(minor), 10**currency_digits)
    figures = f"{whole:,}" + (f".{rest:0{currency_digits}d}" if currency_digits else "")
    return f"{currency} {'−' if minor < 0 else ''}{figures}".strip()
