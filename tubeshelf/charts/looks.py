"""The look of all charts: colours from a palette, one font, names taken literally."""

from collections.abc import Iterator
from contextlib import contextmanager, suppress
from io import BytesIO
from pathlib import Path
from typing import TYPE_CHECKING

from tubeshelf.domain.errors import UserError
from tubeshelf.domain.judging import Zone
from tubeshelf.domain.palette import Palette

if TYPE_CHECKING:  # matplotlib takes longer to import than the window to show: on first use
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

SMALL = 7.5

PAPER = Palette(
    name="paper",
    bg="#FFFFFF",
    panel="#FFFFFF",
    ink="#000000",
    soft="#444444",
    line="#999999",
    control="#777777",
    selected="#EEEEEE",
    accent="#000000",
    accent_ground="#EEEEEE",
    accent_deep="#000000",
    on_accent="#FFFFFF",
    good="#000000",
    weak="#000000",
    reject="#000000",
    again="#000000",
    zone_reject="#B4B4B4",
    zone_weak="#DADADA",
    zone_good="#F6F6F6",
)
"""Black on white: the zones are told apart by grey, reject being the darkest."""


def zone_colour(palette: Palette, zone: Zone) -> str:
    """The ground of a zone; plain where nothing is judged."""
    grounds = {
        Zone.REJECT: palette.zone_reject,
        Zone.WEAK: palette.zone_weak,
        Zone.GOOD: palette.zone_good,
        Zone.UNJUDGED: palette.selected if palette is PAPER else palette.bg,
    }
    return grounds[zone]


@contextmanager
def styled(palette: Palette) -> Iterator[None]:
    """Everything drawn within has the palette's ink; a $ in a name is a $, not the start of a formula."""
    from matplotlib import rc_context

    with rc_context(
        {
            "font.family": ["DejaVu Sans"],
            "font.size": 9.0,
            "text.color": palette.ink,
            "text.parse_math": False,
            "text.usetex": False,
            "axes.labelcolor": palette.soft,
            "axes.edgecolor": palette.line,
            "axes.facecolor": palette.panel,
            "xtick.color": palette.soft,
            "ytick.color": palette.soft,
            "figure.facecolor": palette.panel,
            "figure.edgecolor": palette.panel,
            "savefig.facecolor": "auto",
        }
    ):
        yield


def new_figure(width: float, height: float) -> tuple["Figure", "Axes"]:
    """A figure of so many inches with one bare axes."""
    from matplotlib.figure import Figure

    figure = Figure(figsize=(width, height), layout="constrained")
    axes = figure.add_subplot()
    for side in axes.spines.values():
        side.set_visible(False)
    axes.tick_params(length=0)
    return figure, axes


def settle(figure: "Figure") -> "Figure":
    """Lay the figure out once and freeze it: laying out on each draw doubles its cost.

    Call it again when the figure has got another size.
    """
    figure.set_layout_engine("constrained")
    figure.draw_without_rendering()
    figure.set_layout_engine("none")
    return figure


def sentence_figure(sentence: str, palette: Palette) -> "Figure":
    """A figure that says why there is nothing to see."""
    with styled(palette):
        figure, axes = new_figure(8.6, 1.2)
        axes.set_xticks([])
        axes.set_yticks([])
        axes.text(0.5, 0.5, sentence, ha="center", va="center", color=palette.soft, transform=axes.transAxes)
        return settle(figure)


def save(figure: "Figure", path: Path, dpi: int = 160) -> None:
    """Write a figure as PNG or SVG, by the ending of the name; the same figure gives the same file.

    A picture already there is replaced only by a complete one. Raises UserError for another ending, or where
    the file cannot be written.
    """
    from matplotlib import rc_context

    kind = path.suffix.lower().lstrip(".")
    if kind not in ("png", "svg"):
        raise UserError(f"{path.name} cannot be written: end the name in .png or .svg.")
    metadata = {"Date": None} if kind == "svg" else {"Software": None}
    picture = BytesIO()
    with rc_context({"svg.fonttype": "none", "svg.hashsalt": "tubeshelf"}):
        figure.savefig(picture, format=kind, dpi=dpi, metadata=metadata)
    part = path.with_name(f".{path.name}.part")
    try:
        part.write_bytes(picture.getvalue())
        part.replace(path)
    except OSError as error:
        with suppress(OSError):
            part.unlink(missing_ok=True)
        reason = error.strerror or "the place does not take it"
        raise UserError(f"{path.name} could not be written ({reason}): choose another folder.") from error
