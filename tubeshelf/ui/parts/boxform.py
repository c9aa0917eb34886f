"""A box with a question and a few fields, opened in place: what every short form has."""

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent, QShowEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLineEdit, QPushButton, QVBoxLayout, QWidget

from tubeshelf.ui.parts.buttons import Act
from tubeshelf.ui.parts.form import Choice, Form
from tubeshelf.ui.parts.taborder import leave_by
from tubeshelf.ui.parts.text import label


class BoxForm(QFrame):
    """Fields, errors beside them, a button that does it and one that leaves; ``left`` when done with.

    A subclass makes its fields and overrides ``save``. ``trouble`` stands above the buttons, for what no
    field is to blame for.
    """

    left = Signal()

    def __init__(self, act: str) -> None:
        super().__init__()
        self.setProperty("role", "box")
        self.title = label("", "strong", wrap=True)
        self.form = Form()
        self.trouble = label("", "error", wrap=True)
        self.act = Act(act, shown="Enter", primary=True)
        self.act.clicked.connect(self.save)
        self.cancel = Act("Cancel", shown="Esc")
        self.cancel.clicked.connect(self.left)
        self.buttons = QHBoxLayout()
        self.buttons.addStretch(1)
        self.buttons.addWidget(self.cancel)
        self.buttons.addWidget(self.act)
        self.column = QVBoxLayout(self)
        self.column.setContentsMargins(12, 8, 12, 10)
        self.column.setSpacing(6)
        for part in (self.title, self.form, self.trouble):
            self.column.addWidget(part)
        self.column.addLayout(self.buttons)
        self.hide()

    def line(self, words: str, hint: str = "") -> QLineEdit:
        """Add a field of one line."""
        field = QLineEdit()
        field.setPlaceholderText(hint)
        self.form.row(words, field)
        return field

    def choice(self, words: str, options: Sequence[tuple[str, object]] = ()) -> Choice:
        """Add a choice, as narrow as the pane."""
        field = Choice(options)
        field.setSizeAdjustPolicy(Choice.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        field.setMinimumContentsLength(12)
        self.form.row(words, field)
        return field

    def begin(self, title: str, field: QWidget) -> None:
        """Show it with the cursor in a field."""
        self.title.setText(title)
        self.clear()
        self.show()
        field.setFocus()
        if isinstance(field, QLineEdit):
            field.selectAll()

    def save(self) -> None:
        """Do it and leave, or say what is wrong; what was typed stays."""
        raise NotImplementedError

    def clear(self) -> None:
        """Take back all complaints."""
        self.form.clear()
        self.trouble.clear()
        self.trouble.hide()

    def showEvent(self, event: QShowEvent) -> None:
        """Tab goes from the last field to the act."""
        super().showEvent(event)
        leave_by(self, self.act, self.cancel)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter does it from every field (a button does its own), Escape leaves."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            button = self.focusWidget()
            if isinstance(button, QPushButton):
                button.click()
            else:
                self.save()
        elif event.key() == Qt.Key.Key_Escape:
            self.left.emit()
        else:
            super().keyPressEvent(event)
