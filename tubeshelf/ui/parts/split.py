"""A list and its detail side by side; a narrow window shows one of them at a time."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeySequence, QResizeEvent, QShortcut
from PySide6.QtWidgets import QHBoxLayout, QSplitter, QVBoxLayout, QWidget

from tubeshelf.ui import tokens
from tubeshelf.ui.parts.buttons import Act

_KEY = "F8"


class Split(QWidget):
    """List sheet left, detail sheet right. When folded, F8 goes from one to the other.

    ``folded`` tells whether there is room for one only.
    """

    folded = Signal(bool)

    def __init__(self, left: QWidget, detail: QWidget, *, shares: tuple[int, int] = (7, 3)) -> None:
        super().__init__()
        self._left, self._detail = left, detail
        self._is_folded = False
        self._splitter = QSplitter(Qt.Orientation.Horizontal)
        self._splitter.setHandleWidth(tokens.GAP)
        self._splitter.setChildrenCollapsible(False)
        for widget, share in zip((left, detail), shares, strict=True):
            self._splitter.addWidget(widget)
            self._splitter.setStretchFactor(self._splitter.indexOf(widget), share)
        detail.setMinimumWidth(300)
        self._turn = Act("Details", shown=_KEY, icon="details")
        self._turn.clicked.connect(self.toggle_detail)
        self._turn.hide()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(8)
        column.addWidget(self._splitter, 1)
        line = QHBoxLayout()
        line.addStretch(1)
        line.addWidget(self._turn)
        column.addLayout(line)
        QShortcut(QKeySequence(_KEY), self).activated.connect(self.toggle_detail)
        self._shares = shares

    @property
    def is_folded(self) -> bool:
        """Whether only one of the two has room."""
        return self._is_folded

    def toggle_detail(self) -> None:
        """When folded, show the other of the two."""
        if self._is_folded:
            self._show_one(detail=self._detail.isHidden())

    def show_detail(self) -> None:
        """When folded, show the detail; else it is on show anyway."""
        if self._is_folded:
            self._show_one(detail=True)

    def show_list(self) -> None:
        """When folded, show the list again."""
        if self._is_folded:
            self._show_one(detail=False)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Fold or unfold."""
        super().resizeEvent(event)
        fold = self.width() < tokens.FOLD_UNDER - 2 * tokens.MARGIN
        if fold != self._is_folded:
            self._is_folded = fold
            self._turn.setVisible(fold)
            if fold:
                self._show_one(detail=False)
            else:
                self._left.show()
                self._detail.show()
                self._share_out()
            self.folded.emit(fold)
        elif event.oldSize().width() <= 0 and not fold:
            self._share_out()

    def _share_out(self) -> None:
        """Both as wide as they usually are; what was hidden has no width of its own to come back to."""
        whole = sum(self._shares)
        self._splitter.setSizes([self.width() * share // whole for share in self._shares])

    def _show_one(self, *, detail: bool) -> None:
        self._left.setVisible(not detail)
        self._detail.setVisible(detail)
        self._turn.setText("List" if detail else "Details")
        self._turn.updateGeometry()
