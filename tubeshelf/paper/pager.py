"""Puts a document on pages and draws them: the one way to preview, PDF and printer."""

from dataclasses import dataclass, field

from PySide6.QtGui import QPagedPaintDevice, QPainter

from tubeshelf.paper.app import ensure_gui, paper_family
from tubeshelf.paper.blocks import Block, Frame, Piece, pieces_of
from tubeshelf.paper.canvas import Canvas, painting
from tubeshelf.paper.text import Flow, Style

CAUTION = (
    "Lethal voltage, also after unplugging: discharge and measure. First power with the current limited. "
    "Follow your local codes; where the law asks for a qualified or licensed person, that person decides."
)

MARGIN = 15.0
"""White on all four sides, in mm: no common printer needs more."""

_FOOT = 11.0
_PAGE_NUMBER = 36.0
_FINE = Style(points=7.0)


@dataclass(frozen=True, slots=True)
class Document:
    """A paper as values: ``title`` names the PDF, ``running`` identifies each single page."""

    title: str
    running: str
    blocks: tuple[Block, ...]
    caution: str = CAUTION


@dataclass(frozen=True, slots=True)
class Sheet:
    """A sheet of paper, upright or across, in mm."""

    width: float
    height: float


@dataclass(slots=True)
class _Page:
    """What a page holds so far: pieces with their distance from the top of the frame."""

    placed: list[tuple[float, Piece]] = field(default_factory=list)
    filled: float = 0.0

    def room_for(self, pieces: list[Piece], height: float) -> bool:
        needed = sum(piece.gap + piece.height for piece in pieces)
        return self.filled + needed - (0.0 if self.placed else pieces[0].gap) <= height

    def put(self, piece: Piece) -> None:
        if not self.placed and piece.heading is not None:
            self._add(piece.heading, 0.0)
        self._add(piece, piece.gap if self.placed else 0.0)

    def _add(self, piece: Piece, gap: float) -> None:
        self.placed.append((self.filled + gap, piece))
        self.filled += gap + piece.height


class Pager:
    """A document laid out for one size of sheet. Starts a QGuiApplication if there is none."""

    def __init__(self, document: Document, sheet: Sheet):
        self._app = ensure_gui()
        paper_family(self._app)
        self.document = document
        self.sheet = sheet
        self.frame = Frame(sheet.width - 2 * MARGIN, sheet.height - 2 * MARGIN - _FOOT)
        self._pages = _paged(pieces_of(document.blocks, self.frame), self.frame.height)

    @property
    def pages(self) -> int:
        """How many pages there are, at least one."""
        return len(self._pages)

    def paint(self, device: QPagedPaintDevice, first: int = 1, last: int | None = None) -> None:
        """Draw the pages ``first`` to ``last``, counted from 1; the device's origin is the sheet's corner."""
        chosen = range(first, min(last or self.pages, self.pages) + 1)
        with painting(device) as painter:
            for number in chosen:
                if number != first:
                    device.newPage()
                self.paint_page(painter, number, device.logicalDpiX())

    def paint_page(self, painter: QPainter, number: int, dpi: float) -> None:
        """Draw one page, counted from 1."""
        canvas = Canvas(painter, dpi)
        for top, piece in self._pages[number - 1].placed:
            piece.draw(canvas, MARGIN, MARGIN + top)
        self._foot(canvas, number)

    def _foot(self, canvas: Canvas, number: int) -> None:
        top = self.sheet.height - MARGIN - _FOOT + 3.0
        canvas.rule(MARGIN, top, self.frame.width)
        caution = Flow(self.document.caution, self.frame.width - _PAGE_NUMBER - 4.0, _FINE)
        canvas.flow(caution, MARGIN, top + 1.2)
        right = MARGIN + self.frame.width - _PAGE_NUMBER
        running = Flow(self.document.running, _PAGE_NUMBER, _FINE, right=True)
        count = Flow(f"page {number} of {self.pages}", _PAGE_NUMBER, _FINE, right=True)
        canvas.flow(running, right, top + 1.2, 0, 1)
        canvas.flow(count, right, top + 1.2 + _FINE.leading)


def _paged(pieces: list[Piece], height: float) -> list[_Page]:
    """Pieces on pages; what belongs together moves together, unless it is higher than a page."""
    pages = [_Page()]
    for group in _groups(pieces):
        if not pages[-1].room_for(group, height) and _Page().room_for(group, height):
            pages.append(_Page())
        for piece in group:
            if pages[-1].placed and not pages[-1].room_for([piece], height):
                pages.append(_Page())
            pages[-1].put(piece)
    return pages


def _groups(pieces: list[Piece]) -> list[list[Piece]]:
    groups: list[list[Piece]] = []
    joined = False
    for piece in pieces:
        if joined:
            groups[-1].append(piece)
        else:
            groups.append([piece])
        joined = piece.with_next
    return groups
