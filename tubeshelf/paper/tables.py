"""Tables over several pages: headings repeated, long cells wrapped, rows kept whole where possible."""

from dataclasses import dataclass, replace
from enum import Enum

from tubeshelf.paper.blocks import Draw, Frame, Piece
from tubeshelf.paper.canvas import Canvas
from tubeshelf.paper.text import BODY, SMALL, SMALL_STRONG, STRONG, Flow, longest_word, width_of

_BETWEEN = 3.2
_TICK = 3.9
_BOX = 3.0
_Boxes = tuple[float, int, int | None]
_FAIR = 0.28
"""The share of the room that stretching columns get before the others may have their text on one line."""

_SHARE = 0.24
"""The most of the room that a column without stretch takes before the others are served."""

_SLACK = 0.3
"""Added to measured widths, so that text which just fits is not wrapped by rounding."""


class Tick(Enum):
    """What stands in the column of boxes."""

    NONE = "none"
    OPEN = "open"
    DONE = "done"


@dataclass(frozen=True, slots=True)
class Column:
    """A column: ``stretch`` is its share of room left over; ``least`` mm are kept, as for handwriting.

    With ``boxes`` each line of a cell has a box before it, to tick by hand.
    """

    title: str
    right: bool = False
    stretch: float = 0.0
    least: float = 0.0
    boxes: bool = False

    @property
    def indent(self) -> float:
        """The room that boxes take before the text, in mm."""
        return _BOX + 1.4 if self.boxes else 0.0


@dataclass(frozen=True, slots=True)
class Cell:
    """Text with an optional bold part before it; ``ticked`` is the line whose box is ticked already."""

    text: str = ""
    lead: str = ""
    ticked: int | None = None


@dataclass(frozen=True, slots=True)
class Row:
    """The cells of a row; ``note`` goes below them across the whole width."""

    cells: tuple[Cell, ...]
    note: str = ""
    tick: Tick = Tick.NONE


@dataclass(frozen=True, slots=True)
class Table:
    """Rows under headings; with ``ticks``, a column of boxes stands before them. Lengths in mm."""

    columns: tuple[Column, ...]
    rows: tuple[Row, ...]
    ticks: bool = False
    gap: float = 5.0
    row_height: float = 7.5

    def pieces(self, frame: Frame) -> list[Piece]:
        """The headings and each row as a piece of its own."""
        left = 9.0 if self.ticks else 0.0
        widths = column_widths(self.columns, self.rows, frame.width - left)
        head = self._headings(frame, left, widths)
        room = frame.height - head.height
        rows = [p for row in self.rows for p in self._row(row, frame, left, widths, room, head)]
        return [head, *rows] if rows else []

    def _headings(self, frame: Frame, left: float, widths: list[float]) -> Piece:
        flows = [
            Flow(c.title, w, SMALL_STRONG, right=c.right) for c, w in zip(self.columns, widths, strict=True)
        ]
        height = max(flow.height for flow in flows) + 2.6

        def draw(canvas: Canvas, x: float, y: float) -> None:
            at = x + left
            for flow, width in zip(flows, widths, strict=True):
                canvas.flow(flow, at, y + height - 1.6 - flow.height)
                at += width + _BETWEEN
            canvas.rule(x, y + height, frame.width, 0.35)

        return Piece(height, draw, gap=self.gap, with_next=True)

    def _row(
        self, row: Row, frame: Frame, left: float, widths: list[float], room: float, head: Piece
    ) -> list[Piece]:
        """The row as one piece, or as several where it is higher than a page."""
        flows = [
            Flow(cell.text, width - column.indent, BODY, lead=cell.lead, right=column.right)
            for cell, width, column in zip(row.cells, widths, self.columns, strict=True)
        ]
        note = Flow(row.note, frame.width - left, SMALL)
        places = [
            left + sum(widths[:i]) + i * _BETWEEN + column.indent for i, column in enumerate(self.columns)
        ]
        boxed = _boxed(row.cells, self.columns, flows, places)
        pad = (self.row_height - BODY.leading) / 2
        below = 0.0 if note.lines else pad
        deepest = max(1, *(flow.lines for flow in flows))
        parts = []
        for first, last in _chunks(deepest, (room - pad - below) / BODY.leading):
            draw = _cells(flows, places, pad, first, last, row.tick if first == 0 else Tick.NONE, boxed)
            parts.append(Piece((last - first) * BODY.leading + pad + below, draw, heading=head))
        for first, last in _chunks(note.lines, (room - pad - 0.6) / SMALL.leading):
            draw = _cells([note], [left], 0.6, first, last, Tick.NONE)
            parts.append(Piece((last - first) * SMALL.leading + pad + 0.6, draw, heading=head))
        if sum(part.height for part in parts) <= room:
            parts = [replace(part, with_next=True) for part in parts[:-1]] + parts[-1:]
        return [*parts[:-1], _ruled(parts[-1], frame.width)]


def _chunks(lines: int, each: float) -> list[tuple[int, int]]:
    """First and last line of the parts that ``lines`` are cut into, ``each`` at most in one."""
    step = max(1, int(each))
    return [(first, min(first + step, lines)) for first in range(0, lines, step)]


def _cells(
    flows: list[Flow],
    places: list[float],
    pad: float,
    first: int,
    last: int,
    tick: Tick,
    boxed: list[_Boxes] | None = None,
) -> Draw:
    def draw(canvas: Canvas, x: float, y: float) -> None:
        if tick is not Tick.NONE:
            top = y + pad + (BODY.leading - _TICK) / 2
            canvas.tick_box(x + 1.5, top, _TICK, ticked=tick is Tick.DONE)
        for place, lines, ticked in boxed or ():
            for line in range(first, min(last, lines)):
                top = y + pad + (line - first) * BODY.leading + (BODY.leading - _BOX) / 2
                canvas.tick_box(x + place, top, _BOX, ticked=line == ticked)
        for flow, place in zip(flows, places, strict=True):
            canvas.flow(flow, x + place, y + pad, first, last)

    return draw


def _boxed(
    cells: tuple[Cell, ...], columns: tuple[Column, ...], flows: list[Flow], places: list[float]
) -> list[_Boxes]:
    """The boxes of a row: at which distance from the left, how many, and which is ticked."""
    return [
        (place - column.indent, flow.lines, cell.ticked)
        for cell, column, flow, place in zip(cells, columns, flows, places, strict=True)
        if column.boxes and cell.text
    ]


def _ruled(piece: Piece, width: float) -> Piece:
    def draw(canvas: Canvas, x: float, y: float) -> None:
        piece.draw(canvas, x, y)
        canvas.rule(x, y + piece.height, width)

    return replace(piece, draw=draw)


def column_widths(columns: tuple[Column, ...], rows: tuple[Row, ...], total: float) -> list[float]:
    """The width of each column in mm, together with the room between them exactly ``total``.

    Served in turn for as long as there is room: the longest word of each column; a fair share for those
    that stretch; types, tags and dates on one line; everything on one line; and the rest to stretch.
    """
    room = total - _BETWEEN * (len(columns) - 1)
    cells = [[row.cells[i] for row in rows] for i in range(len(columns))]
    wishes = [_wish(column, own) for column, own in zip(columns, cells, strict=True)]
    words = [_need(column, own, room / len(columns)) for column, own in zip(columns, cells, strict=True)]
    needs = [min(pair) for pair in zip(words, wishes, strict=True)]
    if sum(needs) > room:
        return [need * room / sum(needs) for need in needs]
    stretching = sum(1 for column in columns if column.stretch)
    shares = [_FAIR / stretching * room if column.stretch else 0.0 for column in columns]
    one_line = [0.0 if column.stretch else _SHARE * room for column in columns]
    widths = needs
    for most in (shares, one_line, wishes):
        targets = [max(w, min(wish, m)) for w, wish, m in zip(widths, wishes, most, strict=True)]
        widths = _poured(widths, targets, room)
    spare = room - sum(widths)
    parts = [column.stretch if stretching else 1.0 for column in columns]
    return [width + spare * part / sum(parts) for width, part in zip(widths, parts, strict=True)]


def _poured(widths: list[float], targets: list[float], room: float) -> list[float]:
    """Widths raised towards their targets, those that lack least filled first, until the room is used up."""
    filled = list(widths)
    spare = room - sum(widths)
    lacking = sorted(
        (target - width, i) for i, (width, target) in enumerate(zip(widths, targets, strict=True))
    )
    for number, (lack, i) in enumerate(lacking):
        given = min(lack, spare / (len(lacking) - number))
        filled[i] += given
        spare -= given
    return filled


def _wish(column: Column, cells: list[Cell]) -> float:
    widest = max((_cell_width(cell) for cell in cells), default=0.0) + column.indent
    return max(widest, width_of(column.title, SMALL_STRONG), column.least) + _SLACK


def _cell_width(cell: Cell) -> float:
    if not cell.lead:
        return width_of(cell.text, BODY)
    gap = width_of(" ", BODY) if cell.text else 0.0
    return width_of(cell.lead, STRONG) + gap + width_of(cell.text, BODY)


def _need(column: Column, cells: list[Cell], most: float) -> float:
    """The longest word, but no more than ``most``: one endless word must not starve the other columns."""
    words = (max(longest_word(cell.text, BODY), longest_word(cell.lead, STRONG)) for cell in cells)
    widest = min(max(words, default=0.0) + column.indent, most)
    return max(widest, longest_word(column.title, SMALL_STRONG), column.least) + _SLACK
