"""What the drivers of pages have in common: keys, typing, and the page in its window."""

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


class Keyboard:
    """Keys and typing, wherever the focus is."""

    @property
    def focus(self) -> QWidget:
        """The widget that the keys go to."""
        found = QApplication.focusWidget()
        assert found is not None, "nothing has the focus"
        return found

    def is_on(self, widget: QWidget) -> bool:
        """Whether the keys go to this widget."""
        return self.focus is widget

    @property
    def on_field(self) -> str:
        """How the field in focus is called; one within another is called as the outer."""
        around = self.focus.parentWidget()
        return self.focus.accessibleName() or (around.accessibleName() if around else "")

    def press(self, keys: str, times: int = 1) -> None:
        """Press a key or a chord such as ``Ctrl+N`` where the focus is."""
        chord = QKeySequence(keys)[0]
        for _ in range(times):
            QTest.keyClick(self.focus, chord.key(), chord.keyboardModifiers())
        QApplication.processEvents()

    def write(self, text: str) -> None:
        """Type where the focus is, which a first figure on a list may move; a new line is Enter."""
        for sign in text:
            if sign == "\n":
                self.press("Return")
            else:
                QTest.keyClicks(self.focus, sign)
        QApplication.processEvents()

    def fill(self, widget: QWidget, text: str) -> None:
        """Go to a field and type over what it holds."""
        widget.setFocus()
        self.press("Ctrl+A")
        self.press("Delete")
        self.write(text)


@dataclass
class Driver(Keyboard, Generic[P]):
    """A page, its window and its record."""

    shop: Shop
    window: MainWindow
    page: P
    qtbot: QtBot

    def texts(self, within: QWidget | None = None) -> str:
        """All that can be read on a part of the page, a label a line."""
        self.qtbot.wait(10)  # labels that were just made are shown by an event of their own
        labels = (within or self.page).findChildren(QLabel)
        return "\n".join(
            x.text().replace("\N{NO-BREAK SPACE}", " ")
            for x in labels
            if x.text() and x.isVisibleTo(self.page)
        )

    def errors(self, within: QWidget | None = None) -> list[str]:
        """The sentences that stand beside fields now."""
        labels = (within or self.page).findChildren(QLabel)
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
