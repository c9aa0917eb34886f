"""Fields that a service knows by name: filled with texts, read as texts, blamed by name.

A field may lie over a usual value, such as a shipped one. That stands in it as the placeholder and holds
while the field is empty; Right takes it into the field to be changed, and a dash says that nothing is known.
"""

from collections.abc import Mapping, Sequence
from typing import Protocol, TypeVar, runtime_checkable

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent, QMouseEvent
from PySide6.QtWidgets import QLineEdit, QWidget

from tubeshelf.ui.parts.form import Choice, Form, Lines

UNKNOWN = "–"
_DASHES = (UNKNOWN, "-")


@runtime_checkable
class Spoken(Protocol):
    """What every field of a ``NamedForm`` can do."""

    def say(self, text: str, usual: str = "") -> None:
        """Show a text over the usual one."""

    def said(self) -> str:
        """What holds now."""


F = TypeVar("F", bound=QWidget)


class TextField(QLineEdit):
    """One line. ``hint`` is the placeholder where there is no usual value."""

    def __init__(self, hint: str = "") -> None:
        super().__init__()
        self._hint, self._usual = hint, ""
        self.setPlaceholderText(hint)

    def say(self, text: str, usual: str = "") -> None:
        """Show a text over the usual one."""
        self.setText(_shown(text, usual))
        self.setCursorPosition(0)
        self.usually(usual)

    def usually(self, usual: str) -> None:
        """Lie over another usual value."""
        self._usual = usual
        self.setPlaceholderText(usual or self._hint)

    def said(self) -> str:
        """What holds now."""
        return _meant(self.text(), self._usual)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Right in an empty field takes the usual value to be changed."""
        if event.key() == Qt.Key.Key_Right and self._take():
            return
        super().keyPressEvent(event)

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """So does a double click."""
        if not self._take():
            super().mouseDoubleClickEvent(event)

    def _take(self) -> bool:
        takes = bool(self._usual) and not self.text()
        if takes:
            self.setText(self._usual)
        return takes


class TextLines(Lines):
    """Several lines."""

    def __init__(self, lines: int = 3, hint: str = "") -> None:
        super().__init__(lines, hint)
        self._hint, self._usual = hint, ""

    def say(self, text: str, usual: str = "") -> None:
        """Show a text over the usual one."""
        self.setPlainText(_shown(text, usual))
        self.usually(usual)

    def usually(self, usual: str) -> None:
        """Lie over another usual value."""
        self._usual = usual
        self.setPlaceholderText(usual or self._hint)

    def said(self) -> str:
        """What holds now."""
        return _meant(self.toPlainText(), self._usual)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Right in an empty field takes the usual value to be changed."""
        if event.key() == Qt.Key.Key_Right and self._usual and not self.toPlainText():
            self.setPlainText(self._usual)
            return
        super().keyPressEvent(event)


class Pick(Choice):
    """One of a few words; ``blank`` are the words for none of them."""

    def __init__(self, options: Sequence[str], blank: str = "") -> None:
        super().__init__()
        self._options, self._blank = tuple(options), blank
        self.say("")

    def say(self, text: str, usual: str = "") -> None:
        """Choose a word; the usual one is told as that which was shipped."""
        words = [word for word in dict.fromkeys((usual, *self._options, text)) if word]
        options: list[tuple[str, object]] = [
            (f"{word} (shipped)" if word == usual else word, word) for word in words
        ]
        if self._blank:
            options.append((self._blank, ""))
        self.offer(options)
        self.choose(text)

    def said(self) -> str:
        """The word chosen."""
        return str(self.currentData() or "")


class NamedForm(Form):
    """Rows of fields with the names they have in a service."""

    def __init__(self) -> None:
        super().__init__()
        self.fields: dict[str, QWidget] = {}
        self._spoken: dict[str, Spoken] = {}

    def add(self, name: str, words: str, field: F, hint: str = "") -> F:
        """Add a field; gives it back."""
        spoken: object = field
        assert isinstance(spoken, Spoken)
        self.fields[name], self._spoken[name] = field, spoken
        self.row(words, field, hint)
        return field

    def line(self, name: str, words: str, hint: str = "", below: str = "") -> TextField:
        """Add a line."""
        return self.add(name, words, TextField(hint), below)

    def fill(self, texts: Mapping[str, str], usual: Mapping[str, str]) -> None:
        """Show these over the usual ones; a field that is not named becomes empty."""
        self.clear()
        for name, field in self._spoken.items():
            field.say(texts.get(name, ""), usual.get(name, ""))

    def texts(self) -> dict[str, str]:
        """What holds now in each field."""
        return {name: field.said() for name, field in self._spoken.items()}


def _shown(text: str, usual: str) -> str:
    if not usual:
        return text
    return "" if text == usual else text or UNKNOWN


def _meant(typed: str, usual: str) -> str:
    typed = typed.strip()
    if not usual:
        return typed
    return "" if typed in _DASHES else typed or usual
