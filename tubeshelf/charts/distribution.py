"""The picture of a type: how the readings of its tubes lie against the limit."""

from collections import Counter
from collections.abc import Sequence
from math import ceil, floor
from typing import TYPE_CHECKING

from tubeshelf.charts.looks import SMALL, new_figure, sentence_figure, settle, styled, zone_colour
from tubeshelf.domain.judging import Limit, Zone
from tubeshelf.domain.numbers import format_number
from tubeshelf.domain.palette import Palette
from tubeshelf.domain.verdict import between_words

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

_WIDTH, _HEIGHT = 6.4, 2.9
_CELLS = 28
_HIGHEST = 9
"""Dots in one stack; higher ones become bars with a scale."""


def distribution_figure(
    values: Sequence[float],
    *,
    limit: Limit | None,
    unit: str,
    title: str,
    palette: Palette,
    words: Sequence[str] = (),
) -> "Figure":
    """A dot for each tube over the zones of the limit, or bars where there are many.

    ``title`` names tester and setting line; ``words`` are those of a scale of words, worst first.
    """
    if not values:
        return sentence_figure("No tube of this type has been read on this line yet.", palette)
    with styled(palette):
        figure, axes = new_figure(_WIDTH, _HEIGHT)
        low, high = _range(values, limit, words)
        axes.set_xlim(low, high)
        if limit is not None and words:
            limit = between_words(limit)
        _tubes(axes, values, limit, palette, bool(words))
        _zones(axes, limit, low, high, palette)
        _limit_lines(axes, limit, words, palette)
        _scale(axes, words)
        count = f"{len(values)} {'tube' if len(values) == 1 else 'tubes'}"
        axes.set_xlabel(f"{title}, {unit}" if unit else title, fontsize=SMALL)
        axes.set_title(count, loc="left", fontsize=9, fontweight="bold", color=palette.ink, pad=26)
        return settle(figure)


def _range(values: Sequence[float], limit: Limit | None, words: Sequence[str]) -> tuple[float, float]:
    """From 0, or below it if a value is, to a little over the highest value or figure of the limit."""
    if words:
        return 0.5, len(words) + 0.5
    figures = (limit.reject_below, limit.good_from, limit.bogey) if limit is not None else ()
    shown = [*values, *(figure for figure in figures if figure is not None)]
    low, high = min(0.0, *shown), max(0.0, *shown)
    margin = (high - low) * 0.06 or 1.0
    return (low - margin if low < 0 else 0.0), high + margin


def _tubes(axes: "Axes", values: Sequence[float], limit: Limit | None, palette: Palette, words: bool) -> None:
    """A dot a tube at its own value, those close together above each other; bars where stacks get high."""
    low, high = axes.get_xlim()
    cell, start = (1.0, 0.5) if words else cells(limit, low, high)
    dots: list[tuple[float, int]] = []
    stacks: Counter[int] = Counter()
    for value in sorted(values):
        number = floor((value - start) / cell)
        dots.append((value, stacks[number]))
        stacks[number] += 1
    highest = max(stacks.values())
    if highest <= _HIGHEST:
        xs, ys = [value for value, _ in dots], [level + 0.6 for _, level in dots]
        axes.scatter(xs, ys, s=46, color=palette.ink, linewidths=0, zorder=3, gid="tubes")
        axes.set_ylim(0, _HIGHEST + 0.4)
        axes.set_yticks([])
        return
    middles = [start + (number + 0.5) * cell for number in stacks]
    axes.bar(middles, list(stacks.values()), cell * 0.86, color=palette.ink, zorder=3)
    axes.set_ylim(0, highest * 1.08)
    axes.locator_params(axis="y", integer=True, nbins=5)
    axes.set_ylabel("tubes", fontsize=SMALL)
    axes.tick_params(labelsize=SMALL)


def cells(limit: Limit | None, low: float, high: float) -> tuple[float, float]:
    """Width and start of the cells of the axis: no cell spans a figure of the limit, where that can be."""
    usual = (high - low) / _CELLS
    reject = limit.reject_below if limit is not None else None
    good = limit.good_from if limit is not None else None
    edges = [edge for edge in (good, reject) if edge is not None]
    if not edges:
        return usual, low
    apart = abs(edges[0] - edges[-1])
    return (apart / round(apart / usual) if apart > usual / 2 else usual), edges[0]


def _zones(axes: "Axes", limit: Limit | None, low: float, high: float, palette: Palette) -> None:
    for zone, start, end in zone_ranges(limit, low, high):
        axes.axvspan(start, end, color=zone_colour(palette, zone), linewidth=0, zorder=0, gid=f"zone:{zone}")


def zone_ranges(limit: Limit | None, low: float, high: float) -> list[tuple[Zone, float, float]]:
    """The zones of a limit between two values of its own scale; none of no width."""
    reject = limit.reject_below if limit is not None else None
    good = limit.good_from if limit is not None else None
    if reject is None and good is None:
        return [(Zone.UNJUDGED, low, high)]
    below = low if reject is None else min(max(reject, low), high)
    weak = below if good is None else min(max(good, below), high)
    ranges = [(Zone.REJECT, low, below), (Zone.WEAK, below, weak), (Zone.GOOD, weak, high)]
    return [(zone, start, end) for zone, start, end in ranges if end > start]


def _limit_lines(axes: "Axes", limit: Limit | None, words: Sequence[str], palette: Palette) -> None:
    """Lines with their words above the picture; the bogey higher up, for it may stand close to a limit."""
    if limit is None:
        return
    for name, value, side, level, colour in (
        ("reject below", limit.reject_below, "right", 3, palette.reject),
        ("good from", limit.good_from, "left", 3, palette.good),
        ("bogey", limit.bogey, "center", 14, palette.soft),
    ):
        if value is None:
            continue
        axes.axvline(value, color=colour, linewidth=1.2, linestyle=":" if name == "bogey" else "-", zorder=2)
        figure = words[ceil(value) - 1] if words else format_number(value, 4)
        axes.annotate(
            f"{name} {figure}",
            (value, 1.0),
            xycoords=("data", "axes fraction"),
            xytext=(0, level),
            textcoords="offset points",
            ha=side,
            va="bottom",
            color=colour,
            fontsize=SMALL,
        )


def _scale(axes: "Axes", words: Sequence[str]) -> None:
    from matplotlib.ticker import FuncFormatter, MaxNLocator

    if words:
        axes.set_xticks(range(1, len(words) + 1), labels=list(words))
    else:
        axes.xaxis.set_major_locator(MaxNLocator(nbins=7))
        axes.xaxis.set_major_formatter(FuncFormatter(lambda value, _: format_number(value, 4)))
    axes.tick_params(axis="x", labelsize=SMALL)
