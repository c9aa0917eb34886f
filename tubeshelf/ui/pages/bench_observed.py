"""How much, where, and whether it is a fault: what is asked for a mark once it is picked."""

from dataclasses import dataclass, replace

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from tubeshelf.domain.errors import UserError
from tubeshelf.domain.judging import NO_PASS_LIMITS, Mark, PassLimits
from tubeshelf.domain.numbers import format_number
from tubeshelf.domain.observing import observed_value, proposed, unit_of
from tubeshelf.domain.pins import PAIR, perhaps_tied, read_pins, tied_inside
from tubeshelf.domain.types import TubeType
from tubeshelf.domain.verdict_words import merit_word
from tubeshelf.ui.parts.base import BasePicture
from tubeshelf.ui.parts.buttons import Act
from tubeshelf.ui.parts.form import Form, Tick
from tubeshelf.ui.parts.pins import BaseView, base_view
from tubeshelf.ui.parts.text import label, restyle
from tubeshelf.ui.signs import Signs, shown

_PLACED = (Mark.SHORT, Mark.LEAKAGE)
_TYPED = ("-", "/")
"""Signs that belong to a value or a pair of pins, whatever else they may be on this computer."""

_NO_FAULT_AT_FIRST = (Mark.NOISE, Mark.LOOSE_BASE, Mark.LIFE_TEST)


@dataclass(frozen=True, slots=True)
class MarkPlace:
    """Where something is noted: the socket, the tube in it, what the tester lets pass, the line in hand.

    ``section`` is the section that may be marked as not used, ``unused`` those that are. ``last`` is the
    last reading of the line, in its ``unit`` or as the place of one of the tester's ``words``: what a life
    test is compared with; ``line`` is its label.
    """

    position: str
    tube: TubeType | None = None
    passes: PassLimits = NO_PASS_LIMITS
    section: str = ""
    unused: tuple[str, ...] = ()
    line_id: int | None = None
    line: str = ""
    unit: str = ""
    last: float | None = None
    words: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Noted:
    """What was picked, as it is to be stored."""

    mark: Mark
    is_fault: bool
    value: str
    unit: str
    pins: str
    line_id: int | None = None


class MarkFacts(QWidget):
    """``noted`` carries a ``Noted``; ``left`` goes back to the choices; ``asked`` says that it asks anew.

    What a value or a pair of pins speaks for is told while it is typed, and ticks the fault until the
    technician has: the tick is the technician's. A short that the tube makes itself is asked about once.
    """

    noted = Signal(object)
    left = Signal()
    asked = Signal()

    def __init__(self) -> None:
        super().__init__()
        self._mark = Mark.SHORT
        self._place = MarkPlace("")
        self._signs = Signs()
        self._said = False
        self._asked = ""
        self._base: BaseView | None = None
        self.value, self.pins = QLineEdit(), QLineEdit()
        self.fault = Tick("It is a &fault")
        self.picture = BasePicture()
        self.picture.may_pick = True
        self.speaks = label("", wrap=True)
        self._hint = label("", "small", wrap=True)
        self._compose()

    def ask(self, mark: Mark, place: MarkPlace, signs: Signs) -> None:
        """Ask for the facts of a mark."""
        self._mark, self._place, self._signs = mark, place, signs
        self._said, self._asked = False, ""
        tube = place.tube
        known = mark in _PLACED and tube is not None and bool(tube.basing.pins)
        self._base = base_view(tube.basing) if tube is not None and known else None
        self._form.clear()
        self._form.show_row(self.value, self._unit is not None)
        self._form.show_row(self.pins, mark in _PLACED)
        self.value.setPlaceholderText("0 to 3" if mark is Mark.NOISE else self._unit or "")
        for field in (self.value, self.pins):
            field.clear()
        self.picture.setVisible(known)
        self.fault.setChecked(mark not in _NO_FAULT_AT_FIRST)
        star = shown(signs.star)
        self._hint.setText(f"{star} turns “it is a fault”; Enter goes on and saves; Esc goes back.")
        self._look()
        self.show()
        first = self.value if self._unit is not None else self.pins if mark in _PLACED else self.fault
        first.setFocus()
        self.asked.emit()

    def complain(self, sentence: str) -> None:
        """Say beside the value why it was not taken."""
        self._form.complain(self.value if self._unit is not None else self.pins, sentence)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """In the fields: Enter goes on and saves, Escape goes back to the choices, * turns the fault."""
        if not isinstance(event, QKeyEvent) or event.type() != QEvent.Type.KeyPress:
            return super().eventFilter(watched, event)
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            onward = watched is self.value and self._mark in _PLACED
            self.pins.setFocus() if onward else self._save()
        elif event.key() == Qt.Key.Key_Escape:
            self.left.emit()
        elif self._signs.act_of(event) == "star" and event.text() not in _TYPED:
            self.fault.click()
        else:
            return super().eventFilter(watched, event)
        return True

    @property
    def _unit(self) -> str | None:
        """The unit of the value, ``None`` for a mark without one."""
        return unit_of(self._mark, self._place.passes, self._place.unit)

    def _where(self) -> str:
        """The place typed, as it is stored; empty while it is none."""
        try:
            return read_pins(self.pins.text(), None)
        except UserError:
            return ""

    def _value(self) -> float | None:
        try:
            return observed_value(self._mark, self.value.text(), self._unit or "", self._place.words)
        except UserError:
            return None

    def _tied(self) -> str:
        """Why a short may be none; empty where nothing speaks for it."""
        tube, where = self._place.tube, self._where()
        return tied_inside(tube, where) or perhaps_tied(tube, where) if self._mark is Mark.SHORT else ""

    def _look(self) -> None:
        """Tell what is typed speaks for, and tick accordingly unless the technician has said."""
        place, where = self._place, self._where()
        tied = self._tied()
        said = proposed(
            self._mark,
            self._value(),
            passes=place.passes,
            tube=place.tube,
            place=where,
            last=place.last,
            words=place.words,
        )
        words = tied or (said.words if said is not None else self._before())
        self.speaks.setText(words)
        self.speaks.setVisible(bool(words))
        restyle(self.speaks, "tone", "accent" if tied else "")
        if not self._said:
            fault = self._mark not in _NO_FAULT_AT_FIRST if said is None else said.is_fault
            if tied and tied_inside(place.tube, where):
                self.fault.setChecked(False)
            elif fault is not None:
                self.fault.setChecked(fault)
        if self._base is not None:
            pair = PAIR.fullmatch(where)
            marked = frozenset(pair.groups() if pair else (where,))
            self.picture.show_view(replace(self._base, marked=marked))

    def _before(self) -> str:
        """What to know before a value is typed."""
        place = self._place
        if self._mark is not Mark.LIFE_TEST:
            return ""
        if place.last is None:
            return "Read the line first: a life test is a second reading, compared with the first."
        last = merit_word(place.last, place.words) if place.words else format_number(place.last)
        last = f"{last} {place.unit}".strip()
        return (
            f"Heater about 10 % lower, then read{f' {place.line}' if place.line else ''} again. Last: {last}."
        )

    def _save(self) -> None:
        tied = self._tied()
        if tied and self._asked != tied:
            self._asked = tied
            word = "a fault" if self.fault.isChecked() else "no fault"
            self._hint.setText(
                f"Enter notes it as {word}; {shown(self._signs.star)} turns that; Esc goes back."
            )
            self.fault.setFocus()
            return
        if not self._typed_well():
            return
        unit = self._unit or ""
        life_test = self._mark is Mark.LIFE_TEST
        where = self._place.line if life_test else self.pins.text()
        line_id = self._place.line_id if life_test else None
        self.noted.emit(Noted(self._mark, self.fault.isChecked(), self.value.text(), unit, where, line_id))

    def _typed_well(self) -> bool:
        """Whether value and pins can be taken; if not, the sentence stands beside the field."""
        tube = self._place.tube
        basing = tube.basing if tube is not None and tube.basing.pins else None
        field = self.value
        try:
            observed_value(self._mark, self.value.text(), self._unit or "", self._place.words)
            field = self.pins
            read_pins(self.pins.text(), basing)
        except UserError as error:
            self._form.complain(field, error.sentence)
            return False
        return True

    def _picked(self, pin: str) -> None:
        """A click on the base: the first pin, the second; a third begins anew."""
        here = self._where()
        alone = here and PAIR.fullmatch(here) is None and here != pin
        self.pins.setText(f"{here}.{pin}" if alone else pin)
        self.pins.setFocus()

    def _turned(self) -> None:
        """The technician has said; whoever turns the tick under the sentence of a tie has read it."""
        self._said, self._asked = True, self._tied()
        self._hint.setText(f"{shown(self._signs.star)} turns it again; Enter saves; Esc goes back.")

    def _compose(self) -> None:
        self._form = Form()
        self._form.row("&Value", self.value)
        self._form.row("Betwee&n", self.pins)
        self.pins.setPlaceholderText("pins such as 2.5, or heater-cathode; empty: not known")
        keep = Act("Save", shown="Enter", primary=True)
        keep.clicked.connect(self._save)
        row = QHBoxLayout()
        row.addWidget(self.fault)
        row.addStretch(1)
        row.addWidget(keep)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        for part in (self._form, self.picture, self.speaks):
            column.addWidget(part)
        column.addLayout(row)
        column.addWidget(self._hint)
        for widget in (self.value, self.pins, self.fault):
            widget.installEventFilter(self)
        for field in (self.value, self.pins):
            field.textChanged.connect(self._look)
        self.fault.clicked.connect(self._turned)
        self.picture.picked.connect(self._picked)
        self.hide()
