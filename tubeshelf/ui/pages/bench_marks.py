"""Marks: what the technician notes besides numbers, picked by one digit, in place in the detail."""

from dataclasses import dataclass

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QFrame, QGridLayout, QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from tubeshelf.domain.judging import Mark
from tubeshelf.ui.parts.buttons import Act
from tubeshelf.ui.parts.form import Form, Tick
from tubeshelf.ui.parts.text import label, restyle

EMPTY, UNREADABLE = "empty", "unreadable"
_UNITS = {Mark.LEAKAGE: "MΩ", Mark.GAS: "µA", Mark.NOISE: ""}
_PLACED = (Mark.SHORT, Mark.LEAKAGE)
_NO_FAULT_AT_FIRST = (Mark.NOISE, Mark.LOOSE_BASE)
_COLUMNS = 2

CHOICES: tuple[tuple[str, str], ...] = (
    *(("+" if mark is Mark.LIFE_TEST else str(digit), str(mark)) for digit, mark in enumerate(Mark, start=1)),
    ("0", EMPTY),
    (".", UNREADABLE),
)
"""Key and word of each; the last two are about the socket and not about a tube."""


@dataclass(frozen=True, slots=True)
class Noted:
    """What was picked, as it is to be stored."""

    mark: Mark
    is_fault: bool
    value: str
    unit: str
    pins: str


class MarksPanel(QFrame):
    """Eleven choices; a digit picks, arrows walk. A mark then asks for where and how much.

    ``noted`` carries a ``Noted``; ``found`` says empty or unreadable; ``closed`` that it is done with.
    """

    noted = Signal(object)
    found = Signal(str)
    closed = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.setProperty("role", "box")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self._at = 0
        self._mark: Mark | None = None
        self._title = label("", "strong", wrap=True)
        self._choices = QWidget()
        grid = QGridLayout(self._choices)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setSpacing(4)
        self._buttons: list[Act] = []
        rows = -(-len(CHOICES) // _COLUMNS)
        for n, (key, word) in enumerate(CHOICES):
            button = Act(word, shown=key)
            button.setFocusPolicy(Qt.FocusPolicy.NoFocus)
            button.clicked.connect(lambda _=False, which=n: self._pick(which))
            grid.addWidget(button, n % rows, n // rows)
            self._buttons.append(button)
        self._hint = label("A digit picks; arrows and Enter do as well; Esc closes.", "small", wrap=True)
        self._value, self._pins, self._fault = QLineEdit(), QLineEdit(), Tick("It is a &fault")
        column = QVBoxLayout(self)
        column.setContentsMargins(12, 8, 12, 10)
        column.setSpacing(6)
        column.addWidget(self._title)
        column.addWidget(self._choices)
        column.addWidget(self._facts())
        column.addWidget(self._hint)
        self.hide()

    def _facts(self) -> QWidget:
        self._form = Form()
        self._form.row("&Value", self._value)
        self._form.row("Betwee&n", self._pins)
        self._pins.setPlaceholderText("pins 2-3, or heater-cathode")
        self._keep = Act("Save", shown="Enter", primary=True)
        self._keep.clicked.connect(self._save)
        row = QHBoxLayout()
        row.addWidget(self._fault)
        row.addStretch(1)
        row.addWidget(self._keep)
        self._details = QWidget()
        column = QVBoxLayout(self._details)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self._form)
        column.addLayout(row)
        for widget in (self._value, self._pins, self._fault):
            widget.installEventFilter(self)
        return self._details

    def open_for(self, position: str) -> None:
        """Offer the choices for a socket."""
        self._mark = None
        self._position = position
        self._title.setText(f"What about {position}?")
        self._form.clear()
        self._choices.show()
        self._hint.setText("A digit picks; arrows and Enter do as well; Esc closes.")
        self._details.hide()
        self._walk_to(0)
        self.show()
        self.setFocus()

    def complain(self, sentence: str) -> None:
        """Say beside the value why it was not taken."""
        self._form.complain(self._value, sentence)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Digits pick, arrows walk, Enter takes, Escape leaves."""
        rows = -(-len(CHOICES) // _COLUMNS)
        steps = {Qt.Key.Key_Down: 1, Qt.Key.Key_Up: -1, Qt.Key.Key_Right: rows, Qt.Key.Key_Left: -rows}
        typed = "." if event.text() == "," else event.text()
        picked = next((n for n, (key, _) in enumerate(CHOICES) if key == typed), None)
        if event.key() == Qt.Key.Key_Escape:
            self.leave()
        elif picked is not None:
            self._pick(picked)
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._pick(self._at)
        elif event.key() in steps:
            self._walk_to((self._at + steps[Qt.Key(event.key())]) % len(CHOICES))
        else:
            super().keyPressEvent(event)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """In the fields: Enter goes on and saves, Escape goes back to the choices, * turns the fault."""
        if not isinstance(event, QKeyEvent) or event.type() != QEvent.Type.KeyPress:
            return super().eventFilter(watched, event)
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            onward = watched is self._value and self._mark in _PLACED
            self._pins.setFocus() if onward else self._save()
        elif event.key() == Qt.Key.Key_Escape:
            self.open_for(self._position)
        elif event.text() == "*":
            self._fault.toggle()
        else:
            return super().eventFilter(watched, event)
        return True

    def leave(self) -> None:
        """Close without noting anything."""
        self.hide()
        self.closed.emit()

    def _walk_to(self, at: int) -> None:
        self._at = at
        for n, button in enumerate(self._buttons):
            restyle(button, "role", "chip" if n == at else "plain")
        self.setAccessibleName(f"Marks for {self._position}: {CHOICES[at][1]}, key {CHOICES[at][0]}")

    def _pick(self, at: int) -> None:
        word = CHOICES[at][1]
        if word in (EMPTY, UNREADABLE):
            self.found.emit(word)
            return
        mark = self._mark = Mark(word)
        unit = _UNITS.get(mark)
        self._title.setText(f"{word.capitalize()} at {self._position}")
        self._choices.hide()
        self._hint.setText("* turns “it is a fault”; Enter goes on and saves; Esc goes back.")
        self._form.show_row(self._value, unit is not None)
        self._form.show_row(self._pins, mark in _PLACED)
        self._value.setPlaceholderText("0 to 3" if mark is Mark.NOISE else unit or "")
        for field in (self._value, self._pins):
            field.clear()
        self._fault.setChecked(mark not in _NO_FAULT_AT_FIRST)
        self._details.show()
        first = self._value if unit is not None else self._pins if mark in _PLACED else self._fault
        first.setFocus()

    def _save(self) -> None:
        if self._mark is not None:
            unit = _UNITS.get(self._mark, "")
            self.noted.emit(
                Noted(self._mark, self._fault.isChecked(), self._value.text(), unit, self._pins.text())
            )
