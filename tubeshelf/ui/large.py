"""The large-figure view: a window legible at two metres, beside the one that the keyboard belongs to."""

from PySide6.QtCore import QByteArray, QSettings, Qt, Signal
from PySide6.QtGui import (
    QAccessible,
    QAccessibleEvent,
    QCloseEvent,
    QColor,
    QGuiApplication,
    QPainter,
    QPaintEvent,
    QScreen,
)
from PySide6.QtWidgets import QWidget

from tubeshelf.ui import icons, tokens
from tubeshelf.ui.largelayout import HEIGHT, WIDTH, Figures, Placed, font_of, placed


class LargeView(QWidget):
    """Shows ``Figures`` and takes no keys. ``put_away`` when the user closes it.

    It opens where it stood last with as many screens as there are now; else it fills a second screen, or
    stands at its usual size on the only one.
    """

    put_away = Signal()

    def __init__(self, settings: QSettings, beside: QWidget) -> None:
        # The keyboard stays with the entry: a view that took it by a click would swallow the next reading.
        super().__init__(beside, Qt.WindowType.Window | Qt.WindowType.WindowDoesNotAcceptFocus)
        self.setAttribute(Qt.WidgetAttribute.WA_ShowWithoutActivating)
        self.setWindowTitle("Large figures – tubeshelf")
        self.setAccessibleName("Large figures")
        self.setMinimumSize(320, 200)
        self._settings, self._beside = settings, beside
        self.figures = Figures()

    def show_figures(self, figures: Figures) -> None:
        """Show these, and say them to a screen reader."""
        if figures == self.figures:
            return
        self.figures = figures
        self.setAccessibleDescription(figures.spoken)
        QAccessible.updateAccessibility(QAccessibleEvent(self, QAccessible.Event.DescriptionChanged))
        self.update()

    def open(self) -> None:
        """Show it in its place."""
        kept = self._settings.value(_place())
        if not isinstance(kept, QByteArray) or not self.restoreGeometry(kept):
            screen = other_screen(self._beside)
            if screen is not None:
                self.setGeometry(screen.availableGeometry())
            else:
                self.resize(WIDTH, HEIGHT)
        had_keyboard = self._beside.isActiveWindow()
        self.show()
        if had_keyboard:  # not every desktop heeds that the view wants none
            self._beside.activateWindow()

    def keep_place(self) -> None:
        """Remember where it stands."""
        self._settings.setValue(_place(), self.saveGeometry())

    def closeEvent(self, event: QCloseEvent) -> None:
        """Closed by the user, it stays so; its window, closed before it, only hides it."""
        self.keep_place()
        super().closeEvent(event)
        self.put_away.emit()

    def paintEvent(self, event: QPaintEvent) -> None:
        """All of it anew: it changes with a key press, not with a frame."""
        palette = tokens.palette_now()
        with QPainter(self) as painter:
            painter.fillRect(self.rect(), QColor(palette.panel))
            for one in placed(self.figures, self.width(), self.height(), self.font()):
                self._paint(painter, one, palette.tone(one.tone))

    def _paint(self, painter: QPainter, one: Placed, colour: str) -> None:
        if one.icon:
            icons.paint_mark(painter, one.box, one.icon, colour)
            return
        painter.setPen(QColor(colour))
        painter.setFont(font_of(one, self.font(), one.pixels))
        flags = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter | Qt.TextFlag.TextSingleLine
        painter.drawText(one.box.adjusted(0, 0, 2, 0), int(flags), one.text)


def other_screen(beside: QWidget) -> QScreen | None:
    """A screen that the window does not stand on; None if there is only one."""
    return next((s for s in QGuiApplication.screens() if s is not beside.screen()), None)


def _place() -> str:
    return f"large/place-{len(QGuiApplication.screens())}"
