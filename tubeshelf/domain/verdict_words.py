"""Judged readings in words, for screen and paper alike."""

import re
from collections.abc import Sequence

from tubeshelf.domain.errors import UserError
from tubeshelf.domain.judging import Limit, LineVerdict, Observation, TubeVerdict, Zone
from tubeshelf.domain.numbers import format_number
from tubeshelf.domain.verdict import GUARD, asks_again, between_words, nearest_limit, repeat_spread

AFTER_DO_NOT_POWER = (
    "Take the tube out, repeat the short check on its replacement, and first power the set with the current "
    "limited."
)
"""What to do after a do-not-power; never that the set is safe."""


def line_text(verdict: LineVerdict, words: tuple[str, ...] = ()) -> str:
    """A judged line against the limit it is nearest to: ``6,900 ± 350, good from 7,000``.

    The figure after ± is 1.645·u to two significant figures: what the guard band is made of. With the
    ``words`` of a merit scale, positions are said as words: ``doubtful, good from good``.
    """
    if words:
        shown = merit_word(verdict.mean, words)
    else:
        shown = format_number(verdict.mean, 10 if verdict.n == 1 else 5)
        if verdict.u:
            shown += f" ± {format_number(GUARD * verdict.u, 2)}"
        if verdict.n > 1:
            shown += f" of {_count(verdict.n)}"
    parts = [shown, limit_text(verdict.mean, verdict.limit, words)]
    if verdict.above and verdict.limit.above is not None:
        above = verdict.limit.above
        parts.append(f"above {merit_word(above, words) if words else format_number(above)}")
    if verdict.zone is Zone.REJECT and verdict.mean <= 0:
        parts.append("dead")
    return ", ".join(parts)


def _count(n: int) -> str:
    return ("two", "three")[n - 2] if n in (2, 3) else str(n)


def repeat_text(verdict: LineVerdict, words: tuple[str, ...] = ()) -> str:
    """Whether a line is settled, after each reading of it: ``6,900 ± 200 of three: weak``.

    ``5,900 ± 350 of two: read again`` while another repeat may settle it; after three it is left to the
    technician: ``6,950 ± 200 of three: weak, too close to call: you decide``.
    """
    shown = line_text(verdict, words).split(", ")[0]
    if asks_again(verdict):
        return f"{shown}: read again"
    decided = "" if verdict.sure is not False else ", too close to call: you decide"
    return f"{shown}: {verdict.zone}{decided}"


def spread_text(values: Sequence[float]) -> str:
    """How far repeats lie apart, (max − min)/mean: ``spread of the repeats 2.9 %``; empty for one."""
    spread = repeat_spread(values)
    return "" if spread is None else f"spread of the repeats {format_number(100 * spread, 2)} %"


def limit_text(x: float, limit: Limit, words: tuple[str, ...] = ()) -> str:
    """The figure of a limit that matters to ``x``, labelled where a default rule made it."""
    borders = between_words(limit) if words else limit
    edge = nearest_limit(x, borders)
    if edge is None:
        return "no limit"
    figure = merit_word(edge + 0.5, words) if words else format_number(edge)
    text = f"good from {figure}" if edge == borders.good_from else f"reject below {figure}"
    return f"{text} (shop default)" if limit.derived else text


def merit_word(position: float, words: tuple[str, ...]) -> str:
    """The word at a position counted from 1, worst first; between two for a mean that falls between."""
    below = min(max(int(position), 1), len(words))
    if position == below or below == len(words) or position < 1:
        return words[below - 1]
    return f"between {words[below - 1]} and {words[below]}"


def merit_place(text: str, words: tuple[str, ...]) -> float:
    """The place of a word typed, or of its number, worst first from 1; UserError for neither."""
    typed = text.strip()
    for place, word in enumerate(words, start=1):
        if typed.casefold() == word.casefold():
            return float(place)
    if typed.isascii() and typed.isdigit() and 1 <= int(typed) <= len(words):
        return float(typed)
    choices = ", ".join(f"{place} {word}" for place, word in enumerate(words, start=1))
    raise UserError(f"This tester reads in words: {choices}.")


def tube_text(verdict: TubeVerdict, method: str = "") -> str:
    """A tube's verdict with the method it stands on: ``weak, emission, gm 2, read again``.

    The deciding line is named where it tells something: a fall below good on one of several lines.
    """
    parts = [verdict.word]
    if _judged(verdict) and method:
        parts.append(method)
    if verdict.word in (Zone.WEAK, Zone.REJECT) and max(verdict.lines_read, verdict.lines_expected or 0) > 1:
        parts.append(verdict.decided_by)
    if verdict.lines_expected is not None and 0 < verdict.lines_read < verdict.lines_expected:
        parts.append(f"{verdict.lines_read} of {verdict.lines_expected} lines read")
    parts.append(doubt_text(verdict))
    return ", ".join(part for part in parts if part)


def doubt_text(verdict: TubeVerdict | LineVerdict) -> str:
    """What stands beside the word of a verdict that is not sure; empty for one that is."""
    again = verdict.read_again if isinstance(verdict, TubeVerdict) else asks_again(verdict)
    if again:
        return "read again"
    return "too close to call" if verdict.sure is False else ""


def _judged(verdict: TubeVerdict) -> bool:
    """Whether the word stands on readings; a fault's word and ``not read`` do not."""
    return verdict.lines_read > 0 and verdict.word in set(Zone)


def mark_text(observation: Observation) -> str:
    """What a technician noted: ``short, pins 2–3`` or ``leakage 0.4 MΩ, heater to cathode``.

    Noise has the ordinal 0 to 3 of the bench as its value and no unit.
    """
    text = str(observation.mark)
    if observation.value is not None:
        text += f" {format_number(observation.value)} {observation.unit}".rstrip()
    return f"{text}, {place}" if (place := pins_text(observation.pins)) else text


def pins_text(pins: str) -> str:
    """Where an observation was made: pins by number, elements by name."""
    parts = [part for part in re.split(r"\s*[-–,+/]\s*|\s+(?:to|and)\s+|\s+", pins.strip()) if part]
    if not parts:
        return ""
    if all(re.fullmatch(r"[0-9]{1,2}|cap", part) for part in parts):
        return f"pin {parts[0]}" if len(parts) == 1 else f"pins {'–'.join(parts)}"
    return re.sub(r"\s*[-–]\s*", " to ", pins.strip())
