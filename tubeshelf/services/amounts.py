"""Amounts that a shop can have: of money, and of tubes."""

from tubeshelf.domain.errors import UserError
from tubeshelf.domain.money import MOST, format_money

MOST_TUBES = 100_000
"""Tubes of a lot, or wanted on hand, at most."""


def not_negative(what: str, amount: int | None) -> int | None:
    """An amount of money in minor units, or none."""
    if amount is not None and amount < 0:
        raise UserError(f"The {what} is below zero: type 0 or more, or leave it empty.")
    if amount is not None and amount > MOST:
        raise UserError(f"The {what} is more than can be kept: type at most {format_money(MOST)}.")
    return amount


def few_enough(quantity: int) -> None:
    """Refuse a number that no shelf holds: a slip, such as a tag typed where the quantity belongs."""
    if quantity > MOST_TUBES:
        raise UserError(f"{quantity:,} is more than a shelf holds: type at most {MOST_TUBES:,}.")
