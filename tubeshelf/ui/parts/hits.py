"""The list of hits below the search field of the top bar; imported with the first search."""

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QVBoxLayout, QWidget

from tubeshelf.ui import tokens
from tubeshelf.ui.models.cells import Cell, Column, RowsModel
from tubeshelf.ui.parts.tableview import Table
from tubeshelf.ui.parts.text import label
from tubeshelf.ui.place import Hit


class HitList(QFrame):
    """The hits below the field; never takes the focus."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setProperty("role", "popup")
        self.model = RowsModel[Hit](
            (Column("Found", 200, _cell, stretch=True),), key=lambda hit: hit, parent=self
        )
        self.table = Table("Found")
        self.table.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.table.horizontalHeader().hide()
        self.table.set_rows_model(self.model, self.model.columns)
        self._none = label("", "soft", wrap=True)
        self._none.setContentsMargins(12, 8, 12, 8)
        column = QVBoxLayout(self)
        column.setContentsMargins(4, 4, 4, 4)
        column.addWidget(self.table)
        column.addWidget(self._none)

    def offer(self, hits: Sequence[Hit], text: str) -> None:
        """Show what was found for a text."""
        self.model.replace(hits)
        self.table.setVisible(bool(hits))
        self._none.setVisible(not hits)
        self._none.setText(f"Nothing found for “{text}”. Try a tag, a type, a bin or a name.")
        if hits:
            self.table.setCurrentIndex(self.model.index(0, 0))
        self.resize(440, 10 + (len(hits) * tokens.ROW if hits else 56))

    def step(self, by: int) -> None:
        """Walk on by so many rows, round at the ends."""
        row = (self.table.currentIndex().row() + by) % max(self.model.rowCount(), 1)
        self.table.setCurrentIndex(self.model.index(row, 0))


def _cell(hit: Hit) -> Cell:
    return Cell(hit.title, hit.sub, mark=hit.mark, tone=hit.tone, bold=True)
