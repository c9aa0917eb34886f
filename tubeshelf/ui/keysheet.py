"""F1: the keys of the page on show, over the window, gone with the next key."""

from collections.abc import Sequence

from PySide6.QtCore import QRectF, Qt, Signal
from PySide6.QtGui import QColor, QKeyEvent, QMouseEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QGridLayout, QVBoxLayout, QWidget

from tubeshelf.ui import tokens
from tubeshelf.ui.parts.buttons import Link
from tubeshelf.ui.parts.keys import keycap
from tubeshelf.ui.parts.sheet import Sheet, section
from tubeshelf.ui.parts.text import label

Group = tuple[str, Sequence[tuple[str, str]]]


class KeySheet(QWidget):
    """A sheet over the dimmed window. ``help_wanted`` when the help pages are asked for."""

    help_wanted = Signal()

    def __init__(self, parent: QWidget, groups: Sequence[Group]) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setAccessibleName("Keys")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setGeometry(parent.rect())
        sheet = Sheet("Keys")
        for title, keys in groups:
            if keys:
                sheet.body.addWidget(section(title))
                sheet.body.addLayout(_table(keys))
        more = Link("Open the help pages")
        more.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        more.clicked.connect(self.help_wanted)
        more.clicked.connect(self.close)
        sheet.body.addWidget(more, 0, Qt.AlignmentFlag.AlignLeft)
        column = QVBoxLayout(self)
        column.addStretch(1)
        column.addWidget(sheet, 0, Qt.AlignmentFlag.AlignHCenter)
        column.addStretch(1)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Any key ends it."""
        self.close()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """A click beside the sheet ends it."""
        self.close()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Dim what is behind."""
        shade = QColor(tokens.DARK.bg)
        shade.setAlpha(150)
        with QPainter(self) as painter:
            painter.fillRect(QRectF(self.rect()), shade)


def _table(keys: Sequence[tuple[str, str]]) -> QGridLayout:
    """Two pairs to a line."""
    grid = QGridLayout()
    grid.setHorizontalSpacing(tokens.GAP)
    grid.setVerticalSpacing(8)
    for i, (key, words) in enumerate(keys):
        row, column = i // 2, (i % 2) * 3
        grid.addWidget(keycap(key), row, column, Qt.AlignmentFlag.AlignRight)
        grid.addWidget(label(words), row, column + 1)
    grid.setColumnMinimumWidth(2, tokens.MARGIN)
    return grid
