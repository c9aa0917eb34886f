"""Places labels beside a line so that none lies on another."""

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Tag:
    """A label wanted at ``at``, ``width`` wide, in pixels; ``weight`` higher is placed first."""

    text: str
    at: float
    width: float
    weight: int = 0


@dataclass(frozen=True, slots=True)
class Placed:
    """A label with its left edge and its line, 0 being nearest to the drawing."""

    tag: Tag
    left: float
    level: int


def place(tags: Sequence[Tag], left: float, right: float, *, gap: float = 8) -> list[Placed]:
    """Place every label within left … right as near to where it belongs as can be.

    A label that would touch one placed before it moves aside by at most half its width, else to the
    next line.
    """
    placed: list[Placed] = []
    for tag in sorted(tags, key=lambda t: -t.weight):
        level = 0
        while (at := _room(tag, [p for p in placed if p.level == level], left, right, gap)) is None:
            level += 1
        placed.append(Placed(tag, at, level))
    return placed


def _room(tag: Tag, others: Sequence[Placed], left: float, right: float, gap: float) -> float | None:
    """The nearest left edge at which ``tag`` is clear of the others on its line, if one is near enough."""
    highest = max(right - tag.width, left)
    ideal = min(max(tag.at - tag.width / 2, left), highest)
    beside = [p.left + p.tag.width + gap for p in others] + [p.left - gap - tag.width for p in others]
    for x in sorted([ideal, *beside], key=lambda x: abs(x - ideal)):
        near = abs(x - ideal) <= tag.width / 2 and left <= x <= highest
        clear = all(
            x + tag.width + gap <= p.left + 0.01 or p.left + p.tag.width + gap <= x + 0.01 for p in others
        )
        if near and clear:
            return x
    return None
