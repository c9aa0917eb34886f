"""Drawing in millimetres, black on white, on any paint device."""

from collections.abc import Iterable, Iterator
from contextlib import contextmanager

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QPaintDevice, QPainter, QPen

from tubeshelf.domain.errors import UserError
from tubeshelf.paper.text import UNITS, Flow

HAIRLINE = 0.12
"""Thickness of a rule in mm: the thinnest that a cheap printer and a fax keep."""


@contextmanager
def painting(device: QPaintDevice) -> Iterator[QPainter]:
    """A painter that is ended whatever happens: one left open takes the whole program down.

    Raises UserError if the device refuses to be drawn on.
    """
    painter = QPainter()
    if not painter.begin(device):
        raise UserError("The paper cannot be drawn: choose another printer or place and try again.")
    try:
        yield painter
    finally:
        painter.end()


class Canvas:
    """A page to draw on. Every length is in mm from the left upper corner of the sheet."""

    def __init__(self, painter: QPainter, dpi: float):
        painter.resetTransform()
        painter.scale(dpi / 25.4 / UNITS, dpi / 25.4 / UNITS)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        self._painter = painter
        self._ink(white=False)

    def flow(self, flow: Flow, x: float, y: float, first: int = 0, last: int | None = None) -> None:
        """Lines of text with the top of the first at ``y``."""
        flow.draw(self._painter, x, y, first, last)

    def white_flow(self, flow: Flow, x: float, y: float) -> None:
        """The same in white, for a filled ground."""
        self._ink(white=True)
        flow.draw(self._painter, x, y)
        self._ink(white=False)

    def stack(self, flows: Iterable[Flow], x: float, y: float) -> None:
        """Texts below each other."""
        for flow in flows:
            self.flow(flow, x, y)
            y += flow.height

    def rule(self, x: float, y: float, width: float, line: float = HAIRLINE) -> None:
        """A horizontal line."""
        self._painter.fillRect(QRectF(x * UNITS, (y - line / 2) * UNITS, width * UNITS, line * UNITS), _BLACK)

    def rectangle(
        self, x: float, y: float, width: float, height: float, *, line: float = 0.25, radius: float = 0.0
    ) -> None:
        """An outline, its corners rounded by ``radius``."""
        self._pen(line)
        rectangle = QRectF(x * UNITS, y * UNITS, width * UNITS, height * UNITS)
        self._painter.drawRoundedRect(rectangle, radius * UNITS, radius * UNITS)
        self._ink(white=False)

    def cut_line(self, x: float, y: float, width: float, height: float) -> None:
        """Where a small paper is cut out of the sheet."""
        self._pen(0.2, dashed=True)
        self._painter.drawRect(QRectF(x * UNITS, y * UNITS, width * UNITS, height * UNITS))
        self._ink(white=False)

    def tick_box(self, x: float, y: float, size: float, *, ticked: bool) -> None:
        """A box to tick by hand, or ticked."""
        self.rectangle(x, y, size, size)
        if ticked:
            self._pen(0.5)
            corners = ((0.18, 0.55), (0.42, 0.8), (0.85, 0.2))
            self._painter.drawPolyline(
                [QPointF((x + a * size) * UNITS, (y + b * size) * UNITS) for a, b in corners]
            )
            self._ink(white=False)

    def circle(
        self, x: float, y: float, radius: float, *, filled: bool = False, dashed: bool = False
    ) -> None:
        """A circle around (x, y)."""
        self._pen(0.3, dashed=dashed)
        self._painter.setBrush(QBrush(_BLACK) if filled else Qt.BrushStyle.NoBrush)
        self._painter.drawEllipse(QPointF(x * UNITS, y * UNITS), radius * UNITS, radius * UNITS)
        self._ink(white=False)

    def _pen(self, line: float, *, dashed: bool = False) -> None:
        pen = QPen(_BLACK, line * UNITS)
        if dashed:
            pen.setDashPattern([4.0, 3.0])
        self._painter.setPen(pen)
        self._painter.setBrush(Qt.BrushStyle.NoBrush)

    def _ink(self, *, white: bool) -> None:
        """Text takes the pen's colour; between two marks the pen is black."""
        self._painter.setPen(QColor(Qt.GlobalColor.white) if white else _BLACK)
        self._painter.setBrush(Qt.BrushStyle.NoBrush)


_BLACK = QColor(Qt.GlobalColor.black)
