"""What may go into a socket: a list that opens in place, the best first, with what is on the shelf."""

from functools import partial

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QFrame, QGridLayout, QHBoxLayout, QVBoxLayout, QWidget

from tubeshelf.domain.ranking import Standing
from tubeshelf.services.may_go import MayGo, MayGoRow
from tubeshelf.ui.parts.buttons import Act, Link
from tubeshelf.ui.parts.form import Tick
from tubeshelf.ui.parts.text import label

FIRST = 12
"""Rows on show until all are asked for."""

_HINT = (
    "Right: the type itself. As good, serves, in a pinch: listed. Compare: not listed, no difference that "
    "matters in the table. With a check: a wrong type until that is checked."
)
_NONE = "None of what may go there is on the shelf."


class MayGoPanel(QFrame):
    """``left`` when it is done with, ``type_wanted`` carries the name of a type to look at."""

    left = Signal()
    type_wanted = Signal(str)

    def __init__(self) -> None:
        super().__init__()
        self.setProperty("role", "box")
        self._may_go = MayGo("", ())
        self._all = False
        self.title = label("", "strong", wrap=True)
        self.on_shelf = Tick("Only what is on the shelf")
        self.on_shelf.toggled.connect(lambda: self._fill())
        self.close_act = Act("Close", shown="Esc")
        self.close_act.clicked.connect(self.left)
        self._rows = QWidget()
        self.more = Link("Show all")
        self.more.clicked.connect(self._show_all)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(12, 8, 12, 10)
        self._column.setSpacing(6)
        first = QHBoxLayout()
        first.addWidget(self.on_shelf)
        first.addStretch(1)
        first.addWidget(self.close_act)
        self._column.addWidget(self.title)
        self._column.addLayout(first)
        self._column.addWidget(self._rows)
        self._column.addWidget(self.more, 0, Qt.AlignmentFlag.AlignLeft)
        self._column.addWidget(label(_HINT, "small", wrap=True))
        self.hide()

    def show_types(self, may_go: MayGo) -> None:
        """Show these, and take the keyboard."""
        self._may_go, self._all = may_go, False
        self.title.setText(f"What may go into {may_go.where}")
        self._fill()
        self.show()
        self.on_shelf.setFocus()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Escape leaves."""
        if event.key() == Qt.Key.Key_Escape:
            self.left.emit()
        else:
            super().keyPressEvent(event)

    def _show_all(self) -> None:
        self._all = True
        self._fill()

    def _fill(self) -> None:
        wanted = [row for row in self._may_go.rows if row.free > 0 or not self.on_shelf.isChecked()]
        shown = wanted if self._all else wanted[:FIRST]
        self._column.removeWidget(self._rows)
        self._rows.hide()
        self._rows.deleteLater()
        self._rows = (
            _table(shown) if shown else label("None of what may go there is on the shelf.", "soft", wrap=True)
        )
        for link in self._rows.findChildren(Link):
            link.clicked.connect(partial(self.type_wanted.emit, link.text()))
        self._column.insertWidget(2, self._rows)
        self.more.setText(f"Show all {len(wanted):,}")
        self.more.setVisible(len(shown) < len(wanted))


def _table(rows: list[MayGoRow]) -> QWidget:
    """A line a type, and below it, over the whole width, what to mind."""
    table = QWidget()
    grid = QGridLayout(table)
    grid.setContentsMargins(0, 0, 0, 0)
    grid.setHorizontalSpacing(10)
    grid.setVerticalSpacing(0)
    grid.setColumnStretch(1, 1)
    for at, row in enumerate(rows):
        go = Link(row.designation)
        go.setAccessibleName(f"{row.designation}, {row.standing}, {_shelf_words(row)}")
        tone = "weak" if row.standing in (Standing.WITH_A_CHECK, Standing.COMPARE) else ""
        shelf = label(_shelf_words(row), "strong" if row.free else "small")
        grid.addWidget(go, 2 * at, 0, Qt.AlignmentFlag.AlignLeft)
        grid.addWidget(label(str(row.standing), tone=tone), 2 * at, 1)
        grid.addWidget(shelf, 2 * at, 2, Qt.AlignmentFlag.AlignRight)
        if row.said:
            grid.addWidget(label("; ".join(row.said), "small", wrap=True), 2 * at + 1, 0, 1, 3)
    return table


def _shelf_words(row: MayGoRow) -> str:
    if not row.on_hand:
        return "none"
    return f"{row.free:,} free" if row.free == row.on_hand else f"{row.free:,} of {row.on_hand:,} free"
