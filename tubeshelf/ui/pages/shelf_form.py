"""What every form in the detail of the shelf has: fields, errors beside them, two ways out."""

from collections.abc import Callable, Sequence
from typing import TypeVar

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLineEdit, QPushButton, QVBoxLayout, QWidget

from tubeshelf.domain.errors import UserError
from tubeshelf.domain.money import format_money, parse_money
from tubeshelf.domain.numbers import parse_number
from tubeshelf.services.changes import Changes
from tubeshelf.services.shelf_moves import not_negative
from tubeshelf.services.views.shelf import ItemView
from tubeshelf.ui.parts.buttons import Act
from tubeshelf.ui.parts.form import Choice, Form
from tubeshelf.ui.parts.text import label

T = TypeVar("T")


class Refused(Exception):  # noqa: N818  it is an answer to the user, told beside the field
    """What is wrong with one field."""

    def __init__(self, field: QWidget, sentence: str) -> None:
        super().__init__(sentence)
        self.field, self.sentence = field, sentence


class ActForm(QFrame):
    """A box with a question, a few fields, a button that does it and one that leaves.

    ``wrote`` carries the Changes, ``left`` says that it is done with. A subclass makes its fields, sets
    ``blamed`` to the one that a refusal is told at (None: above the buttons), and overrides ``write``.
    ``alone`` forms are long: they stand in place of the details and not above them.
    """

    wrote = Signal(object)
    left = Signal()

    alone = False

    def __init__(self, act: str) -> None:
        super().__init__()
        self.setProperty("role", "box")
        self.blamed: QWidget | None = None
        self.title = label("", "strong", wrap=True)
        self.form = Form()
        self.trouble = label("", "error", wrap=True)
        self.act = Act(act, shown="Enter", primary=True)
        self.act.clicked.connect(self.save)
        cancel = Act("Cancel", shown="Esc")
        cancel.clicked.connect(self.left)
        self.buttons = QHBoxLayout()
        self.buttons.addStretch(1)
        self.buttons.addWidget(cancel)
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

    def write(self) -> Changes:
        """Do it; a UserError is told at ``blamed``, a Refused at its own field."""
        raise NotImplementedError

    def save(self) -> None:
        """Do it and leave, or say what is wrong; what was typed stays."""
        if (changes := self.attempt()) is not None:
            self.left.emit()
            self.wrote.emit(changes)

    def attempt(self) -> Changes | None:
        """Do it; None after a refusal."""
        self.clear()
        try:
            return self.write()
        except Refused as refused:
            self.form.complain(refused.field, refused.sentence)
        except UserError as error:
            if self.blamed is None:
                self.trouble.setText(error.sentence)
                self.trouble.show()
            else:
                self.form.complain(self.blamed, error.sentence)
        return None

    def clear(self) -> None:
        """Take back all complaints."""
        self.form.clear()
        self.trouble.clear()
        self.trouble.hide()

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


def checked(field: QWidget, read: Callable[[], T]) -> T:
    """What a field says, or a Refused at that field."""
    try:
        return read()
    except UserError as error:
        raise Refused(field, error.sentence) from error


def whole(field: QLineEdit) -> int:
    """The whole number in a field."""
    number = checked(field, lambda: parse_number(field.text()))
    if number != int(number):
        raise Refused(field, "Type a whole number, such as 3.")
    return int(number)


def money(field: QLineEdit, what: str) -> int | None:
    """The amount in a field in minor units, or None if it is empty; ``what`` it is, for the refusal."""
    text = field.text().strip()
    return checked(field, lambda: not_negative(what, parse_money(text))) if text else None


def amount(minor: int | None) -> str:
    """An amount for a field to be edited: ``1234.50``."""
    return "" if minor is None else format_money(minor).replace(",", "")


def called(item: ItemView) -> str:
    """A tube or lot in a title: ``12AX7 0977``, ``lot of 9 12AX7 in C5``."""
    name = item.designation or "unknown tube"
    return f"lot of {item.quantity} {name} in {item.bin}" if item.lot else f"{name} {item.tag}".strip()
