"""Figures as texts of a form: numbers, per cent, and the words of a merit scale as positions."""

from tubeshelf.domain.errors import UserError
from tubeshelf.domain.judging import Limit, Scale
from tubeshelf.domain.numbers import format_number, parse_number, plain_number


def number_text(x: float | None) -> str:
    """A figure as text to edit, empty for none."""
    return "" if x is None else plain_number(x)


def percent_text(share: float | None) -> str:
    """A share as per cent to edit: 0.65 is ``65``; empty for none."""
    return "" if share is None else plain_number(float(f"{100 * share:.10g}"))


def figure_text(x: float | None, words: tuple[str, ...]) -> str:
    """A figure of a scale as text to edit; on a scale of words the word at that position."""
    if x is not None and words and x in range(1, len(words) + 1):
        return words[int(x) - 1]
    return number_text(x)


def figure_words(value: float, limit: Limit, scale: Scale) -> str:
    """A figure of a limit, or its word; of the default rule to four figures, since it is a product."""
    if scale.words:
        return figure_text(value, scale.words)
    return format_number(value, 4 if limit.derived else 10)


def position(text: str, words: tuple[str, ...]) -> float:
    """The position of a word in a merit scale, worst first, counted from 1; UserError for another word."""
    for place, word in enumerate(words, start=1):
        if word.casefold() == text.casefold():
            return float(place)
    raise UserError(f"“{text}” is none of its words: {', '.join(words)}.")


def not_negative(text: str) -> float:
    """A number of 0 or more."""
    number = parse_number(text)
    if number < 0:
        raise UserError("Type 0 or more.")
    return number


def above_zero(text: str) -> float:
    """The end of a scale."""
    number = parse_number(text)
    if number <= 0:
        raise UserError("The scale ends above 0: type its highest figure.")
    return number


def share_of_percent(text: str) -> float:
    """A share from per cent: ``65`` is 0.65, to ten figures so that it reads back as it was typed."""
    percent = parse_number(text, "%")
    if not 0 <= percent <= 200:
        raise UserError("Type per cent, from 0 to 200.")
    return float(f"{percent / 100:.10g}")
