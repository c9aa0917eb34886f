"""Readings that look like a slip of the finger or of the unit: asked about, never refused."""

from dataclasses import dataclass
from enum import StrEnum

from tubeshelf.domain.judging import Scale
from tubeshelf.domain.numbers import format_number


class SlipKind(StrEnum):
    """What a slip looks like."""

    OFF_SCALE = "off_scale"
    UNIT_SLIP = "unit_slip"
    TEN_TIMES_LAST = "ten_times_last"
    TENTH_OF_LAST = "tenth_of_last"
    ABOVE_TWICE_BOGEY = "above_twice_bogey"


ABOUT_TEN = (8.0, 12.5)
"""A slipped decimal point on a tube that has changed by up to a quarter since its last reading."""

UNIT_TIMES = (300.0, 3000.0)
"""µmho for mS is a thousand times; with room for a tube of a third to three times its bogey."""


@dataclass(frozen=True, slots=True)
class Slip:
    """What looks wrong about a value, and the question to put in the line."""

    kind: SlipKind
    question: str


def likely_slip(value: float, *, scale: Scale, bogey: float | None, last: float | None) -> Slip | None:
    """The first thing that makes a typed value look like a slip, ``None`` for a plausible one.

    ``bogey`` and ``last`` (the last reading of this line of this tube) are in the unit of the scale.
    Zero is a dead tube, not a slip: it is on every scale of numbers and a share of nothing.
    """
    return (
        _off_scale(value, scale)
        or _unit_slip(value, bogey, "the bogey")
        or _unit_slip(value, last, "the last reading")
        or _ten_times(value, last)
        or _above_bogey(value, bogey)
    )


def _off_scale(value: float, scale: Scale) -> Slip | None:
    shown = format_number(value)
    if scale.words:
        if value == int(value) and 1 <= value <= len(scale.words):
            return None
        names = ", ".join(scale.words)
        return Slip(SlipKind.OFF_SCALE, f"{shown} is off the scale, which has the words {names}: keep it?")
    if value < 0:
        return Slip(SlipKind.OFF_SCALE, f"{shown} is below zero: keep it?")
    if scale.full_scale is None or value <= scale.full_scale:
        return None
    end = format_number(scale.full_scale)
    return Slip(SlipKind.OFF_SCALE, f"{shown} is off the scale, which ends at {end}: keep it?")


def _unit_slip(value: float, reference: float | None, name: str) -> Slip | None:
    ratio = _ratio(value, reference)
    if ratio is None or reference is None:
        return None
    low, high = UNIT_TIMES
    if not low <= max(ratio, 1 / ratio) <= high:
        return None
    times = format_number(max(ratio, 1 / ratio), 2) + (" times" if ratio > 1 else " times less than")
    question = (
        f"{format_number(value)} is about {times} {name}, {format_number(reference)}: is the unit right?"
    )
    return Slip(SlipKind.UNIT_SLIP, question)


def _ten_times(value: float, last: float | None) -> Slip | None:
    ratio = _ratio(value, last)
    if ratio is None or last is None:
        return None
    low, high = ABOUT_TEN
    shown, known = format_number(value), format_number(last)
    if low <= ratio <= high:
        question = f"{shown} is about ten times the last reading, {known}: keep it?"
        return Slip(SlipKind.TEN_TIMES_LAST, question)
    if low <= 1 / ratio <= high:
        question = f"{shown} is about a tenth of the last reading, {known}: keep it?"
        return Slip(SlipKind.TENTH_OF_LAST, question)
    return None


def _above_bogey(value: float, bogey: float | None) -> Slip | None:
    if bogey is None or bogey <= 0 or value <= 2 * bogey:
        return None
    question = f"{format_number(value)} is more than twice the bogey, {format_number(bogey)}: keep it?"
    return Slip(SlipKind.ABOVE_TWICE_BOGEY, question)


def _ratio(value: float, reference: float | None) -> float | None:
    return value / reference if reference is not None and reference > 0 and value > 0 else None
