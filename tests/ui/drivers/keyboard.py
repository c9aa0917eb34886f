"""What the drivers of the quiet pages have in common: keys, typing, and the page in its window."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Generic, TypeVar

from PySide6.QtCore import QSettings
from PySide6.QtGui import QKeySequence
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLabel, QWidget
from pytestqt.qtbot import QtBot

from tubeshelf.services.shop import Shop
from tubeshelf.ui.page import Page
from tubeshelf.ui.window import MainWindow, PageSpec

P = TypeVar("P", bound=Page)


@dataclass
class Driver(Generic[P]):
    """A page, its window and its record."""

    shop: Shop
    window: MainWindow
    page: P
    qtbot: QtBot

    def press(self, keys: str, times: int = 1) -> None:
        """Press a key or a chord such as ``Ctrl+N`` where the focus is."""
        chord = QKeySequence(keys)[0]
        for _ in range(times):
            QTest.keyClick(self.focus, chord.key(), chord.keyboardModifiers())
        QApplication.processEvents()

    def write(self, text: str) -> None:
        """Type where the focus is, which the first figure typed on a list or a cell moves."""
        for sign in text:
            QTest.keyClicks(self.focus, sign)

    def fill(self, widget: QWidget, text: str) -> None:
        """Go to a field and type over what it holds."""
        widget.setFocus()
        self.press("Ctrl+A")
        self.press("Delete")
        self.write(text)

    @property
    def focus(self) -> QWidget:
        """The widget that the keys go to."""
        found = QApplication.focusWidget()
        assert found is not None, "nothing has the focus"
        return found

    @property
    def on_field(self) -> str:
        """How the field in focus is called."""
        return self.focus.accessibleName()

    def texts(self, within: QWidget | None = None) -> str:
        """All that can be read on a part of the page, a label a line."""
        self.qtbot.wait(10)  # labels that were just made are shown by an event of their own
        labels = (within or self.page).findChildren(QLabel)
        return "\n".join(
            x.text().replace("\N{NO-BREAK SPACE}", " ")
            for x in labels
            if x.text() and x.isVisibleTo(self.page)
        )

    def errors(self) -> list[str]:
        """The sentences that stand beside fields now."""
        labels = self.page.findChildren(QLabel)
        return [x.text() for x in labels if x.property("role") == "error" and x.isVisible() and x.text()]


def in_window(
    name: str,
    make: Callable[[MainWindow], P],
    qtbot: QtBot,
    shown: Callable[..., QWidget],
    settings: QSettings,
    width: int = 1366,
) -> tuple[MainWindow, P]:
    """The window with one page on show."""
    made: list[P] = []

    def build() -> Page:
        made.append(make(window))
        return made[0]

    window = MainWindow((PageSpec(name, f"&{name.capitalize()}", build),), settings=settings)
    shown(window, width, 768 if width > 1100 else 640)
    qtbot.waitUntil(lambda: bool(made) and made[0].isVisible())
    return window, made[0]
