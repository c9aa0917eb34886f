"""Small buttons, which the frame of the window has too: an icon with a name, and words that lead on."""

from PySide6.QtCore import QEvent, QSize, Qt
from PySide6.QtGui import QKeySequence
from PySide6.QtWidgets import QPushButton, QToolButton, QWidget

from tubeshelf.ui import icons, tokens


class IconButton(QToolButton):
    """A button without words; its name is spoken and shown as the tooltip."""

    def __init__(self, icon: str, name: str, shortcut: str = "", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._name = icon
        self.setProperty("role", "icon")
        self.setAccessibleName(name)
        self.setToolTip(f"{name}  {shown_keys(shortcut)}".strip())
        self.setIconSize(QSize(20, 20))
        if shortcut:
            self.setShortcut(QKeySequence(shortcut))
        self._colour_icon()

    def changeEvent(self, event: QEvent) -> None:
        """Follow light and dark."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.PaletteChange:
            self._colour_icon()

    def _colour_icon(self) -> None:
        self.setIcon(icons.icon(self._name, tokens.palette_now().ink))


class Link(QPushButton):
    """Words in the accent colour that lead somewhere."""

    def __init__(self, words: str, parent: QWidget | None = None) -> None:
        super().__init__(words, parent)
        self.setProperty("role", "link")
        self.setCursor(Qt.CursorShape.PointingHandCursor)


def shown_keys(shortcut: str) -> str:
    """A shortcut as it is written beside its words: ``Ctrl P``."""
    return QKeySequence(shortcut).toString(QKeySequence.SequenceFormat.NativeText).replace("+", " ").strip()
