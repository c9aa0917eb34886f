"""The pages of a paper on the screen, one below the other, drawn as far as they can be seen."""

from functools import lru_cache

from PySide6.QtCore import QRect, QSize, Qt
from PySide6.QtGui import QColor, QImage, QKeyEvent, QPainter, QPaintEvent, QPen, QResizeEvent
from PySide6.QtWidgets import QAbstractScrollArea, QFrame

from tubeshelf.paper.canvas import painting
from tubeshelf.paper.pager import Pager
from tubeshelf.ui import tokens

_GAP = 16
_KEPT_PAGES = 6
_MM = 25.4
_STEPS = {Qt.Key.Key_Down: 60, Qt.Key.Key_Up: -60}


class PaperPages(QAbstractScrollArea):
    """Shows what a ``Pager`` would print. ``zoom`` 1.0 fits the width of the page to that of the view."""

    def __init__(self) -> None:
        super().__init__()
        self._pager: Pager | None = None
        self._zoom = 1.0
        self._picture = lru_cache(maxsize=_KEPT_PAGES)(self._drawn)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName("Pages")

    @property
    def count(self) -> int:
        """How many pages there are."""
        return 0 if self._pager is None else self._pager.pages

    @property
    def page(self) -> int:
        """The page in the middle of the view, counted from 1."""
        height = self._size().height() + _GAP
        at = self.verticalScrollBar().value() + self.viewport().height() // 2
        return min(max(at // height + 1, 1), max(self.count, 1))

    def show_pages(self, pager: Pager) -> None:
        """Show these pages from the first one on."""
        self._pager = pager
        self._picture.cache_clear()
        self.setAccessibleDescription(f"{pager.document.title}, {pager.pages} pages")
        self.verticalScrollBar().setValue(0)
        self._measure()

    def set_zoom(self, zoom: float) -> None:
        """Show larger or smaller, within a half and four times the width of the view."""
        self._zoom = min(max(zoom, 0.5), 4.0)
        self._measure()

    @property
    def zoom(self) -> float:
        """How much larger than the width of the view."""
        return self._zoom

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Fit anew."""
        super().resizeEvent(event)
        self._measure()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Walk through the paper."""
        bar = self.verticalScrollBar()
        key = Qt.Key(event.key())
        if key in _STEPS:
            bar.setValue(bar.value() + _STEPS[key])
        elif key in (Qt.Key.Key_PageDown, Qt.Key.Key_Space):
            bar.setValue(bar.value() + bar.pageStep())
        elif key == Qt.Key.Key_PageUp:
            bar.setValue(bar.value() - bar.pageStep())
        elif key == Qt.Key.Key_Home:
            bar.setValue(0)
        elif key == Qt.Key.Key_End:
            bar.setValue(bar.maximum())
        else:
            super().keyPressEvent(event)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the pages that can be seen."""
        palette = tokens.palette_now()
        with QPainter(self.viewport()) as painter:
            painter.fillRect(event.rect(), QColor(palette.bg))
            painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
            for number in range(1, self.count + 1):
                sheet = self._place(number)
                if not sheet.intersects(event.rect()):
                    continue
                ratio = self.devicePixelRatioF()
                painter.drawImage(sheet, self._picture(number, round(sheet.width() * ratio)))
                painter.setPen(QPen(QColor(palette.line), 1))
                painter.drawRect(sheet.adjusted(0, 0, -1, -1))

    def _drawn(self, number: int, pixels: int) -> QImage:
        """One page, drawn as on a printer of as many dots an inch as the screen has room for."""
        assert self._pager is not None
        sheet = self._pager.sheet
        dpi = pixels * _MM / sheet.width
        image = QImage(pixels, round(sheet.height * dpi / _MM), QImage.Format.Format_RGB32)
        image.fill(Qt.GlobalColor.white)
        with painting(image) as painter:
            self._pager.paint_page(painter, number, dpi)
        return image

    def _size(self) -> QSize:
        """A page on the screen, in logical pixels."""
        if self._pager is None:
            return QSize(1, 1)
        width = max(round((self.viewport().width() - 2 * _GAP) * self._zoom), 50)
        return QSize(width, round(width * self._pager.sheet.height / self._pager.sheet.width))

    def _place(self, number: int) -> QRect:
        size = self._size()
        free = self.viewport().width() - size.width()
        left = free // 2 if free > 0 else _GAP - self.horizontalScrollBar().value()
        top = _GAP + (number - 1) * (size.height() + _GAP) - self.verticalScrollBar().value()
        return QRect(left, top, size.width(), size.height())

    def _measure(self) -> None:
        size, view = self._size(), self.viewport().size()
        down, across = self.verticalScrollBar(), self.horizontalScrollBar()
        share = down.value() / max(down.maximum(), 1)
        down.setRange(0, max(self.count * (size.height() + _GAP) + _GAP - view.height(), 0))
        down.setPageStep(view.height())
        down.setSingleStep(_GAP * 2)
        down.setValue(round(share * down.maximum()))
        across.setRange(0, max(size.width() + 2 * _GAP - view.width(), 0))
        across.setPageStep(view.width())
        self.viewport().update()
