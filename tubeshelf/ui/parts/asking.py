"""A question that stands on the page, with a field and two acts: nothing else is kept from being used."""

from collections.abc import Callable

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QAccessible, QAccessibleEvent, QKeyEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QLineEdit, QVBoxLayout, QWidget

from tubeshelf.ui import tokens
from tubeshelf.ui.parts.banner import Glyph
from tubeshelf.ui.parts.buttons import Act
from tubeshelf.ui.parts.text import label

Answer = tuple[str, Callable[[], object]]
"""What an act says, and what it does."""


class Asking(QFrame):
    """Enter takes the first act, from the field as well, Esc the second. Hidden while nothing is asked."""

    def __init__(self, field: str, parent: QWidget | None = None) -> None:
        """``field`` names what may be typed, with its mnemonic."""
        super().__init__(parent)
        self.setProperty("role", "notice")
        self._yes: Callable[[], object] | None = None
        self._no: Callable[[], object] = lambda: None
        self._text = label("", wrap=True)
        self.field = QLineEdit()
        self._name = QLabel(field)
        self._name.setBuddy(self.field)
        self.field.setAccessibleName(field.replace("&", ""))
        self.yes = Act("Yes", shown="Enter", primary=True)
        self.yes.clicked.connect(self._say_yes)
        self.no = Act("No", shown="Esc")
        self.no.clicked.connect(self._say_no)
        upper = QHBoxLayout()
        upper.setSpacing(tokens.GAP)
        upper.addWidget(Glyph("info", "accent", 20))
        upper.addWidget(self._text, 1)
        lower = QHBoxLayout()
        lower.setSpacing(8)
        lower.addWidget(self._name)
        lower.addWidget(self.field, 1)
        lower.addStretch()
        lower.addWidget(self.yes)
        lower.addWidget(self.no)
        column = QVBoxLayout(self)
        column.setContentsMargins(12, 8, 12, 8)
        column.setSpacing(8)
        column.addLayout(upper)
        column.addLayout(lower)
        self.hide()

    @property
    def question(self) -> str:
        """What is asked now; empty for nothing."""
        return "" if self._yes is None else self._text.text()

    def ask(self, question: str, yes: Answer, no: Answer, *, usual: str | None = None) -> None:
        """Ask, with the keyboard in the field, which holds ``usual`` at first; None leaves it away."""
        self._yes, self._no = yes[1], no[1]
        self._text.setText(question)
        self.setAccessibleName(question)
        for act, (words, _) in ((self.yes, yes), (self.no, no)):
            act.setText(words)
            act.updateGeometry()
        self._name.setVisible(usual is not None)
        self.field.setVisible(usual is not None)
        self.field.setText(usual or "")
        self.field.selectAll()
        self.show()
        begin = self.yes if usual is None else self.field
        begin.setFocus()
        # Once more when the page is on show, which brings the keyboard to where work goes on.
        QTimer.singleShot(0, begin, begin.setFocus)
        QAccessible.updateAccessibility(QAccessibleEvent(self, QAccessible.Event.Alert))

    def drop(self) -> None:
        """Ask no longer, without an answer."""
        self._yes, self._no = None, lambda: None
        self.hide()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter on an act takes it; Esc goes back."""
        if event.key() == Qt.Key.Key_Escape:
            self._say_no()
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._say_no() if self.no.hasFocus() else self._say_yes()
        else:
            super().keyPressEvent(event)

    def _say_yes(self) -> None:
        yes = self._yes
        self.drop()
        if yes is not None:
            yes()

    def _say_no(self) -> None:
        no = self._no
        self.drop()
        no()
