"""A short form that does one act on the record, and what such forms read from their fields."""

from collections.abc import Callable
from typing import TypeVar

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QLineEdit, QWidget

from tubeshelf.domain.errors import UserError
from tubeshelf.domain.money import format_money, parse_money
from tubeshelf.domain.numbers import parse_number
from tubeshelf.services.amounts import not_negative
from tubeshelf.services.changes import Changes
from tubeshelf.ui.parts.boxform import BoxForm

T = TypeVar("T")


class Refused(Exception):  # noqa: N818  it is an answer to the user, told beside the field
    """What is wrong with one field."""

    def __init__(self, field: QWidget, sentence: str) -> None:
        super().__init__(sentence)
        self.field, self.sentence = field, sentence


class ActForm(BoxForm):
    """A box that does one act. ``wrote`` carries its Changes.

    A subclass makes its fields, sets ``blamed`` to the one that a refusal is told at (None: above the
    buttons), and overrides ``write``. ``alone`` forms are long: they stand in place of the details and
    not above them.
    """

    wrote = Signal(object)

    alone = False

    def __init__(self, act: str) -> None:
        super().__init__(act)
        self.blamed: QWidget | None = None

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
