"""What a document is made of: blocks that lay themselves out as pieces, which the pager puts on pages."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Protocol

from tubeshelf.paper.canvas import Canvas
from tubeshelf.paper.text import BODY, SMALL, STRONG, TITLE, Flow, Style

Draw = Callable[[Canvas, float, float], None]
"""Draws on a canvas with its left upper corner at (x, y), in mm."""


@dataclass(frozen=True, slots=True)
class Frame:
    """The room for the blocks of a page, in mm."""

    width: float
    height: float


@dataclass(frozen=True, slots=True)
class Piece:
    """A part of a block that stays on one page; lengths in mm.

    ``gap`` is kept before it, except at the top of a page. ``heading`` is drawn again where the piece comes
    first on a page. ``with_next`` keeps it on the page of the piece that follows.
    """

    height: float
    draw: Draw
    gap: float = 0.0
    heading: "Piece | None" = None
    with_next: bool = False


class Block(Protocol):
    """Anything that can lay itself out for a frame."""

    def pieces(self, frame: Frame) -> list[Piece]:
        """Its pieces from top to bottom, none higher than the frame."""
        ...


@dataclass(frozen=True, slots=True)
class Head:
    """The head of a paper: its title with the facts that identify it, and at the right who and when."""

    title: str
    facts: tuple[str, ...]
    right: tuple[str, ...]

    def pieces(self, frame: Frame) -> list[Piece]:
        """One piece of two columns; plain paragraphs where somebody typed a page of text as a name."""
        share = 0.6 * frame.width
        left = [Flow(self.title, share, TITLE), *(Flow(fact, share) for fact in self.facts)]
        right = [Flow(line, frame.width - share - 4, right=True) for line in self.right]
        height = max(sum(f.height for f in left), sum(f.height for f in right) + 1.2)
        if height > frame.height / 2:
            return pieces_of([Paragraph(line) for line in (self.title, *self.facts, *self.right)], frame)

        def draw(canvas: Canvas, x: float, y: float) -> None:
            canvas.stack(left, x, y)
            canvas.stack(right, x + share + 4, y + 1.2)

        return [Piece(height, draw)]


@dataclass(frozen=True, slots=True)
class Paragraph:
    """Running text, its ``lead`` in bold; breaks between lines, never leaving a single one alone."""

    text: str
    lead: str = ""
    style: Style = BODY
    gap: float = 0.8
    right: bool = False
    with_next: bool = False

    def pieces(self, frame: Frame) -> list[Piece]:
        """One piece a line."""
        flow = Flow(self.text, frame.width, self.style, lead=self.lead, right=self.right)

        def line(number: int) -> Piece:
            def draw(canvas: Canvas, x: float, y: float) -> None:
                canvas.flow(flow, x, y, number, number + 1)

            paired = number in (0, flow.lines - 2) and number < flow.lines - 1
            last = number == flow.lines - 1
            return Piece(
                self.style.leading,
                draw,
                gap=0.0 if number else self.gap,
                with_next=paired or (last and self.with_next),
            )

        return [line(number) for number in range(flow.lines)]


def heading(text: str, gap: float = 5.0) -> Paragraph:
    """A heading that stays with what follows."""
    return Paragraph(text, style=STRONG, gap=gap, with_next=True)


@dataclass(frozen=True, slots=True)
class Box:
    """A framed warning: a word in bold and sentences. Over several pages each part has its own frame."""

    lead: str
    text: str
    gap: float = 6.0

    def pieces(self, frame: Frame) -> list[Piece]:
        """One piece for each page it needs."""
        pad = 3.0
        flow = Flow(self.text, frame.width - 2 * pad, lead=self.lead)
        each = max(1, int((frame.height - 2 * pad) / flow.style.leading))

        def part(first: int) -> Piece:
            last = min(first + each, flow.lines)
            height = (last - first) * flow.style.leading + 2 * pad

            def draw(canvas: Canvas, x: float, y: float) -> None:
                canvas.rectangle(x, y, frame.width, height, line=0.35, radius=1.0)
                canvas.flow(flow, x + pad, y + pad, first, last)

            return Piece(height, draw, gap=self.gap)

        return [part(first) for first in range(0, flow.lines, each)]


@dataclass(frozen=True, slots=True)
class Amounts:
    """Sums at the right edge, one a line, the last in bold."""

    lines: tuple[tuple[str, str], ...]

    def pieces(self, frame: Frame) -> list[Piece]:
        """One piece a line, kept together."""
        last = len(self.lines) - 1

        def line(number: int) -> Piece:
            style = STRONG if number == last else BODY
            words, amount = self.lines[number]
            left = Flow(words, frame.width - 42, style, right=True)
            right = Flow(amount, 40, style, right=True)

            def draw(canvas: Canvas, x: float, y: float) -> None:
                canvas.flow(left, x, y)
                canvas.flow(right, x + frame.width - 40, y)

            height = max(left.height, right.height) + 0.8
            return Piece(height, draw, gap=0.0 if number else 3.0, with_next=number != last)

        return [line(number) for number in range(len(self.lines))]


@dataclass(frozen=True, slots=True)
class Beside:
    """Two columns side by side where a page holds them; below each other, full width, where it does not."""

    left: tuple[Block, ...]
    right: tuple[Block, ...]
    gap: float = 6.0
    between: float = 7.0

    def pieces(self, frame: Frame) -> list[Piece]:
        """One piece, or all pieces of the left blocks and then of the right ones."""
        column = Frame((frame.width - self.between) / 2, frame.height)
        left, right = pieces_of(self.left, column), pieces_of(self.right, column)
        height = max(_height(left), _height(right))
        if not left or not right or height > frame.height:
            return pieces_of((*self.left, *self.right), frame)

        def draw(canvas: Canvas, x: float, y: float) -> None:
            _draw_stack(left, canvas, x, y)
            _draw_stack(right, canvas, x + column.width + self.between, y)

        return [Piece(height, draw, gap=self.gap)]


def pieces_of(blocks: Sequence[Block], frame: Frame) -> list[Piece]:
    """All pieces of the blocks, in order."""
    return [piece for block in blocks for piece in block.pieces(frame)]


def small(text: str, gap: float = 1.0) -> Paragraph:
    """A remark in small type."""
    return Paragraph(text, style=SMALL, gap=gap)


def _height(pieces: Sequence[Piece]) -> float:
    return sum(p.height for p in pieces) + sum(after.gap for _, after in pairwise(pieces))


def _draw_stack(pieces: Sequence[Piece], canvas: Canvas, x: float, y: float) -> None:
    for number, piece in enumerate(pieces):
        y += piece.gap if number else 0.0
        piece.draw(canvas, x, y)
        y += piece.height
