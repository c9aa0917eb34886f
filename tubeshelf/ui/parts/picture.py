"""Pictures: one canvas for matplotlib's figures, and the window that shows and exports one."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QSize, Qt, QTimer
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QScrollArea, QVBoxLayout, QWidget

from tubeshelf.charts.figures import save, settle
from tubeshelf.domain.errors import UserError
from tubeshelf.domain.palette import LIGHT, Palette
from tubeshelf.ui import tokens
from tubeshelf.ui.parts.ask_file import ask_where
from tubeshelf.ui.parts.buttons import Act, IconButton
from tubeshelf.ui.parts.head import TitleLine
from tubeshelf.ui.parts.notice import Notice

if TYPE_CHECKING:
    from matplotlib.backends.backend_qtagg import FigureCanvasQTAgg
    from matplotlib.figure import Figure

Maker = Callable[[Palette], "Figure"]
"""Draws a figure in the colours of a palette."""

_KINDS = {"png": "Picture", "svg": "Drawing"}
_PAUSE_MS = 120


class Picture(QScrollArea):
    """Shows figures on one canvas that is kept, as high as each wants to be and as wide as there is room.

    matplotlib comes in with the first of them.
    """

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._make: Maker | None = None
        self._canvas: FigureCanvasQTAgg | None = None
        self._settling = QTimer(self, singleShot=True, interval=_PAUSE_MS)
        self._settling.timeout.connect(self._settle)
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)

    def show_picture(self, make: Maker, words: str) -> None:
        """Show what ``make`` draws; ``words`` say it to who cannot see it."""
        self._make = make
        self.setAccessibleName(words)
        self._draw()

    def export(self, path: Path) -> None:
        """Write the picture in the light colours, PNG or SVG by its ending. UserError if that fails."""
        assert self._make is not None
        save(self._make(LIGHT), path)

    def changeEvent(self, event: QEvent) -> None:
        """Follow light and dark."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.PaletteChange and self._canvas is not None:
            self._draw()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Lay the picture out anew once the size has come to rest."""
        super().resizeEvent(event)
        self._settling.start()

    def _draw(self) -> None:
        assert self._make is not None
        figure = self._make(tokens.palette_now())
        height = round(figure.get_figheight() * figure.dpi)
        # The Qt backend of matplotlib says nothing about types.
        if self._canvas is None:
            from matplotlib.backends.backend_qtagg import FigureCanvasQTAgg

            self._canvas = FigureCanvasQTAgg(figure)  # type: ignore[no-untyped-call]
            self._canvas.setFocusPolicy(Qt.FocusPolicy.NoFocus)
            self.setWidget(self._canvas)
        else:
            # The canvas stays and takes on the figure: a new one would cost a widget and its buffers.
            canvas, ratio = self._canvas, self._canvas.devicePixelRatioF()
            figure.set_dpi(figure.dpi * ratio)
            size = canvas.width() * ratio / figure.dpi, canvas.height() * ratio / figure.dpi
            figure.set_size_inches(*size, forward=False)
            figure.set_canvas(canvas)
            canvas.figure = figure
            canvas.draw_idle()  # type: ignore[no-untyped-call]
        self._canvas.setMinimumHeight(height)
        self._settling.start()

    def _settle(self) -> None:
        if self._canvas is not None:
            settle(self._canvas.figure)
            self._canvas.draw_idle()  # type: ignore[no-untyped-call]


class PictureWindow(QWidget):
    """A picture in a window beside the main one. ``name`` is what its file is called, without the ending."""

    def __init__(self, title: str, name: str, make: Maker, parent: QWidget | None = None) -> None:
        super().__init__(parent, Qt.WindowType.Window)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self._name = name
        self.setWindowTitle(f"{title} – tubeshelf")
        self.head = TitleLine()
        self.head.show_title(title)
        self.notice = Notice()
        self.picture = Picture()
        self.picture.show_picture(make, title)
        save = Act("Save picture", "Ctrl+S", primary=True, icon="save")
        save.clicked.connect(self.ask_for_file)
        close = IconButton("close", "Close", "Esc")
        close.clicked.connect(self.close)
        self.head.add(save, close)
        column = QVBoxLayout(self)
        column.setContentsMargins(tokens.MARGIN, tokens.GAP, tokens.MARGIN, tokens.MARGIN)
        top = QHBoxLayout()
        top.addWidget(self.head)
        column.addLayout(top)
        column.addWidget(self.notice)
        column.addWidget(self.picture, 1)
        self.resize(self.sizeHint())

    def sizeHint(self) -> QSize:
        """Wide, as far as the screen has room."""
        room = self.screen().availableSize() * 0.92
        return QSize(1060, 680).boundedTo(room)

    def ask_for_file(self) -> None:
        """Ask where the picture is to be kept, and as what."""
        ask_where(self, "Save picture", f"{self._name}.png", _KINDS, self.save)

    def save(self, path: Path) -> None:
        """Write the picture, and say so or what kept it."""
        try:
            self.picture.export(path)
        except UserError as error:
            self.notice.fail(error.sentence)
        else:
            self.notice.tell(f"Saved {path}.")
