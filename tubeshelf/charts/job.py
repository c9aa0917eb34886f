"""The picture of a job: every reading within the zones of its own limit, as found and as left."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from tubeshelf.charts.looks import SMALL, new_figure, sentence_figure, settle, styled, zone_colour
from tubeshelf.charts.values import ChartLine
from tubeshelf.charts.zones import LENGTH, Row, row
from tubeshelf.domain.judging import NOT_READ, Limit, Zone
from tubeshelf.domain.numbers import format_number
from tubeshelf.domain.palette import Palette
from tubeshelf.domain.verdict import between_words
from tubeshelf.domain.verdict_words import merit_word

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

_WIDTH = 8.6
_ROW = 0.5
_BAR = 0.46
_FOUND_AT, _LEFT_AT, _UNIT_AT, _END = 3.55, 4.1, 4.15, 4.5
_LONGEST = 30


def job_figure(lines: Sequence[ChartLine], palette: Palette) -> "Figure":
    """One row a setting line, in the order given: zones, an open ring as found, a dot as left, the values.

    The rings and dots carry the ids ``found`` and ``left``, the bars ``zone:reject`` and so on.
    """
    if not lines:
        return sentence_figure("This job has no sockets yet: their readings will show here.", palette)
    with styled(palette):
        figure, axes = new_figure(_WIDTH, 0.9 + _ROW * len(lines))
        axes.set_xlim(0, _END)
        axes.set_ylim(len(lines) - 0.4, -0.75)
        axes.set_xticks([])
        axes.set_yticks([])
        _headings(axes, palette)
        for number, line in enumerate(lines):
            _label(axes, line, number, palette)
            _values(axes, line, number, palette)
            _bar(axes, line, number, palette)
        _legend(axes, palette)
        return settle(figure)


def _headings(axes: "Axes", palette: Palette) -> None:
    for word, at, colour in (
        ("reject", 0.5, palette.reject),
        ("weak", 1.5, palette.weak),
        ("good", 2.5, palette.good),
    ):
        axes.text(at, -0.5, word, ha="center", va="center", color=colour, fontsize=SMALL, fontweight="bold")
    for words, at in (("as found", _FOUND_AT), ("as left", _LEFT_AT)):
        axes.text(at, -0.5, words, ha="right", va="center", color=palette.soft, fontsize=SMALL)


def _label(axes: "Axes", line: ChartLine, y: int, palette: Palette) -> None:
    label, sub = _short(line.label), _short(line.sub)
    middle = y if not sub else y - 0.13
    axes.text(-0.08, middle, label, ha="right", va="center", fontweight="bold", clip_on=False)
    axes.text(-0.08, y + 0.2, sub, ha="right", va="center", color=palette.soft, fontsize=SMALL)


def _values(axes: "Axes", line: ChartLine, y: int, palette: Palette) -> None:
    for value, at in ((line.value_as_found, _FOUND_AT), (line.value_as_left, _LEFT_AT)):
        colour = palette.soft if value is None else palette.ink
        axes.text(at, y, _shown(value, line), ha="right", va="center", color=colour)
    axes.text(_UNIT_AT, y, line.unit, ha="left", va="center", color=palette.soft, fontsize=SMALL)


def _bar(axes: "Axes", line: ChartLine, y: int, palette: Palette) -> None:
    values = [value for value in (line.value_as_found, line.value_as_left) if value is not None]
    if not values:
        axes.barh(
            y, LENGTH, _BAR, fill=False, edgecolor=palette.control, linestyle=":", linewidth=1.1, gid="unread"
        )
        axes.text(LENGTH / 2, y, NOT_READ, ha="center", va="center", color=palette.soft, fontsize=SMALL)
        return
    axis = row(_limit(line), values)
    for span in axis.spans:
        axes.barh(
            y,
            span.end - span.start,
            _BAR,
            left=span.start,
            color=zone_colour(palette, span.zone),
            edgecolor=palette.line,
            linewidth=0.8,
            gid=f"zone:{span.zone}",
        )
    _limits(axes, line, axis, y, palette)
    _markers(axes, line, axis, y, palette)


def _limit(line: ChartLine) -> Limit | None:
    return between_words(line.limit) if line.limit is not None and line.words else line.limit


def _limits(axes: "Axes", line: ChartLine, axis: Row, y: int, palette: Palette) -> None:
    """The figures of the limit under the borders of its zones; in words where there is none."""
    below = y + _BAR / 2 + 0.04
    if axis.spans[0].zone is Zone.UNJUDGED:
        axes.text(LENGTH / 2, below, "no limit", ha="center", va="top", color=palette.soft, fontsize=6.5)
        return
    borders = len(axis.spans) - 1
    for number, (value, at) in enumerate(axis.points[1:-1]):
        bogey = number >= borders
        style = ":" if bogey else "-"
        axes.vlines(at, y - _BAR / 2, y + _BAR / 2, color=palette.soft, linewidth=0.9, linestyle=style)
        shown = _shown(value + 0.5 if line.words and not bogey else value, line)
        text = f"bogey {shown}" if bogey else shown
        axes.text(at, below, text, ha="center", va="top", color=palette.soft, fontsize=6.5)


def _markers(axes: "Axes", line: ChartLine, axis: Row, y: int, palette: Palette) -> None:
    """The ring is wider than the dot, so that both are seen where nothing has changed."""
    found, left = line.value_as_found, line.value_as_left
    if found is not None and left is not None:
        ends = axis.place(found), axis.place(left)
        axes.plot(ends, (y, y), color=palette.ink, linewidth=1.0, solid_capstyle="butt", zorder=3)
    if found is not None:
        axes.plot(
            axis.place(found),
            y,
            marker="o",
            markersize=9,
            markerfacecolor=palette.panel,
            markeredgecolor=palette.ink,
            markeredgewidth=1.5,
            linestyle="none",
            zorder=4,
            clip_on=False,
            gid="found",
        )
    if left is not None:
        axes.plot(
            axis.place(left),
            y,
            marker="o",
            markersize=5,
            color=palette.ink,
            linestyle="none",
            zorder=5,
            clip_on=False,
            gid="left",
        )


def _legend(axes: "Axes", palette: Palette) -> None:
    from matplotlib.lines import Line2D

    ring = Line2D(
        [], [], marker="o", markersize=8, markerfacecolor=palette.panel, color=palette.ink, linestyle="none"
    )
    dot = Line2D([], [], marker="o", markersize=5, color=palette.ink, linestyle="none")
    axes.legend(
        [ring, dot],
        ["as found", "as left"],
        loc="upper left",
        bbox_to_anchor=(0, 0),
        ncols=2,
        frameon=False,
        fontsize=SMALL,
        borderaxespad=0.2,
        handletextpad=0.3,
    )


def _shown(value: float | None, line: ChartLine) -> str:
    if value is None:
        return "–"
    return merit_word(value, line.words) if line.words else format_number(value, 4)


def _short(text: str) -> str:
    return text if len(text) <= _LONGEST else text[: _LONGEST - 1].rstrip() + "…"
