"""A tester in words: its scale, how well it repeats, its rule where a line has no limit."""

from tubeshelf.domain.dates import format_date
from tubeshelf.domain.numbers import format_number
from tubeshelf.services.figures import figure_text, percent_text
from tubeshelf.services.views.types import TesterDetail


def scale_words(tester: TesterDetail) -> str:
    """``µmho to 15,000``, or its merit words, worst first."""
    scale = tester.scale
    if scale.words:
        return ", ".join(scale.words)
    end = "" if scale.full_scale is None else f"to {format_number(scale.full_scale)}"
    return " ".join(part for part in (scale.unit, end) if part) or "no unit"


def repeat_words(tester: TesterDetail) -> str:
    """``± 3 % + 50``; a question mark where it is not known, since no reading is then sure."""
    relative, absolute = tester.repeatability.relative, tester.repeatability.absolute
    parts = [
        "" if relative is None else f"{percent_text(relative)} %",
        "" if absolute is None else f"{format_number(absolute)} {_step(tester)}".strip(),
    ]
    said = " and ".join(part for part in parts if part)
    return f"± {said}" if said else "not known"


def _step(tester: TesterDetail) -> str:
    return "of a word" if tester.scale.words else tester.scale.unit


def rule_words(tester: TesterDetail) -> str:
    """What holds for a line without a limit of its own."""
    rule, words = tester.default, tester.scale.words
    if rule.good_share is not None or rule.reject_share is not None:
        good, reject = percent_text(rule.good_share), percent_text(rule.reject_share)
        return _rule(f"{good} %" if good else "", f"{reject} %" if reject else "") + " of the bogey"
    if rule.good_from is not None or rule.reject_below is not None:
        return _rule(figure_text(rule.good_from, words), figure_text(rule.reject_below, words))
    return "none: a line without a limit stays unjudged"


def passes_words(tester: TesterDetail) -> str:
    """``leakage from 5 MΩ, gas up to 0.5 µA``; empty where nobody said."""
    passes = tester.passes
    gas = "" if passes.gas_most is None else f"{format_number(passes.gas_most)} {passes.gas_unit or 'µA'}"
    parts = (
        "" if passes.leakage_least is None else f"leakage from {format_number(passes.leakage_least)} MΩ",
        f"gas up to {gas}" if gas else "",
    )
    return ", ".join(part for part in parts if part)


def checked_words(tester: TesterDetail) -> str:
    """When it was checked last."""
    return "never" if tester.checked_on is None else format_date(tester.checked_on)


def _rule(good: str, reject: str) -> str:
    parts = (f"good from {good}" if good else "", f"reject below {reject}" if reject else "")
    return ", ".join(part for part in parts if part)
