"""The top bar: wordmark, the pages, one search field, and the menu of what is needed seldom."""

from collections.abc import Callable, Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QAction, QFont, QFontMetrics
from PySide6.QtWidgets import QButtonGroup, QHBoxLayout, QMenu, QPushButton, QToolButton, QWidget

from tubeshelf.ui import tokens
from tubeshelf.ui.parts.framebuttons import IconButton
from tubeshelf.ui.parts.search import Finder
from tubeshelf.ui.parts.text import label
from tubeshelf.ui.place import Hit

_HEIGHT = 44


class TopBar(QWidget):
    """``picked`` carries the name of the page that was asked for."""

    picked = Signal(str)

    def __init__(
        self, pages: Sequence[tuple[str, str]], find: Callable[[str], Sequence[Hit]], menu: Sequence[QAction]
    ) -> None:
        super().__init__()
        self.setProperty("role", "topbar")
        self.setAttribute(Qt.WidgetAttribute.WA_StyledBackground)
        self.setFixedHeight(_HEIGHT)
        row = QHBoxLayout(self)
        row.setContentsMargins(tokens.MARGIN, 0, tokens.MARGIN - 4, 0)
        row.setSpacing(2)
        row.addWidget(label("tubeshelf", "wordmark"))
        row.addSpacing(tokens.MARGIN)
        self._group = QButtonGroup(self)
        self._buttons: dict[str, QPushButton] = {}
        for number, (name, title) in enumerate(pages, start=1):
            row.addWidget(self._page_button(name, title, number))
        row.addStretch(1)
        self.finder = Finder(find, "Find a tag, type, bin, job, customer", "Ctrl+F")
        self.finder.setFixedWidth(360)
        row.addWidget(self.finder)
        row.addSpacing(4)
        row.addWidget(_more(self, menu))

    def show_current(self, name: str) -> None:
        """Mark the page that is on show; one that has no button leaves none marked."""
        self._group.setExclusive(False)
        for page, button in self._buttons.items():
            button.setChecked(page == name)
        self._group.setExclusive(name in self._buttons)

    def _page_button(self, name: str, title: str, number: int) -> QPushButton:
        button = QPushButton(title)
        button.setProperty("role", "page")
        button.setCheckable(True)
        # The page on show is written in bold: keep its room, so that nothing moves and nothing is cut.
        bold = QFont(button.font())
        bold.setBold(True)
        button.setMinimumWidth(QFontMetrics(bold).horizontalAdvance(title.replace("&", "")) + 30)
        button.setToolTip(f"{title.replace('&', '')}  Ctrl {number}")
        button.clicked.connect(lambda: self.picked.emit(name))
        self._group.addButton(button)
        self._buttons[name] = button
        return button


def _more(parent: QWidget, actions: Sequence[QAction]) -> IconButton:
    button = IconButton("more", "More", "Alt+M", parent)
    menu = QMenu(button)
    menu.addActions(list(actions))
    button.setMenu(menu)
    button.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
    return button
