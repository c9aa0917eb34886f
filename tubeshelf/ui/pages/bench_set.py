"""Values of the set under power, entered on the Bench: a field after the other, by the number pad."""

from collections.abc import Sequence

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtGui import QHideEvent, QKeyEvent, QShowEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from tubeshelf.domain.cautions import MEASURING
from tubeshelf.domain.numbers import plain_number
from tubeshelf.domain.set_fields import PROPOSED
from tubeshelf.services.views.measured import MeasuredValue, SetView
from tubeshelf.ui.parts.buttons import Act
from tubeshelf.ui.parts.form import Form
from tubeshelf.ui.parts.measured import show_outcome
from tubeshelf.ui.parts.text import label

_HINT = "Enter keeps a value and goes on, an empty field strikes it; Esc closes."
_NO_FIELDS = (
    "Nothing is said yet about what is measured in the {model}. Take what is proposed ({names}), or name "
    "your own on the Jobs page (F12)."
)
_ENTER = (Qt.Key.Key_Return, Qt.Key.Key_Enter)


class SetPanel(QFrame):
    """``entered`` carries a MeasuredValue and the text typed for it; ``proposed_wanted`` asks for the fields
    proposed, ``closed`` says that it is done with, ``turned`` that it came or went."""

    entered = Signal(object, str)
    proposed_wanted = Signal()
    closed = Signal()
    turned = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.setProperty("role", "box")
        self._view: SetView | None = None
        self._rows: list[tuple[MeasuredValue, QLineEdit]] = []
        self._title = label("", "strong", wrap=True)
        self._none = label("", wrap=True)
        self._take = Act("Take these", shown="Enter", primary=True)
        self._take.clicked.connect(self.proposed_wanted)
        self._form = Form()
        self._outcome = QVBoxLayout()
        self._outcome.setSpacing(2)
        self._done = Act("Done", shown="Esc")
        self._done.clicked.connect(self.leave)
        self._hint = label(_HINT, "small", wrap=True)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(12, 8, 12, 10)
        self._column.setSpacing(6)
        for part in (self._title, label(MEASURING, "small", wrap=True), self._none, self._form):
            self._column.addWidget(part)
        self._column.addLayout(self._outcome)
        foot = QHBoxLayout()
        foot.addWidget(self._hint, 1)
        for button in (self._done, self._take):
            button.installEventFilter(self)
            foot.addWidget(button)
        self._column.addLayout(foot)
        self.hide()

    @property
    def fields(self) -> Sequence[QLineEdit]:
        """The fields on show, in order."""
        return [field for _, field in self._rows]

    def open_for(self, view: SetView) -> None:
        """Ask for the values of a job, from the first that is missing."""
        self._view = None
        self.show_set(view)
        self.show()
        self._begin()

    def show_set(self, view: SetView) -> None:
        """Show the values as they are now; what is being typed stays."""
        asked = [value for value in view.values if value.asked]
        if self._view is None or [_key(v) for v in asked] != [_key(v) for v, _ in self._rows]:
            self._build(asked)
        for at, (value, (old, field)) in enumerate(zip(asked, self._rows, strict=True)):
            if field.text().strip() == _typed(old):
                field.setText(_typed(value))
            self._rows[at] = value, field
        self._view = view
        self._title.setText(f"Measured in the set · job {view.number}")
        names = ", ".join(field.name for field in PROPOSED)
        self._none.setText(_NO_FIELDS.format(model=view.model, names=names))
        self._none.setVisible(not asked)
        self._take.setVisible(not asked)
        self._form.setVisible(bool(asked))
        self._hint.setVisible(bool(asked))
        show_outcome(self._outcome, view)

    def complain(self, value: MeasuredValue, sentence: str) -> None:
        """Say beside a field why it was not taken."""
        field = next((field for row, field in self._rows if _key(row) == _key(value)), None)
        if field is not None:
            self._form.complain(field, sentence)

    def leave(self) -> None:
        """Close; what was typed and not kept is dropped."""
        for value, field in self._rows:
            field.setText(_typed(value))
        self._form.clear()
        self.hide()
        self.closed.emit()

    def showEvent(self, event: QShowEvent) -> None:
        """Other keys work now."""
        super().showEvent(event)
        self.turned.emit()

    def hideEvent(self, event: QHideEvent) -> None:
        """The keys of the table work again."""
        super().hideEvent(event)
        self.turned.emit()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Enter and the arrows keep a value and go on, Escape closes; on a button Enter does what it says."""
        if not isinstance(event, QKeyEvent) or event.type() != QEvent.Type.KeyPress:
            return super().eventFilter(watched, event)
        if event.key() == Qt.Key.Key_Escape:
            self.leave()
        elif watched in (self._done, self._take) and event.key() in _ENTER:
            watched.click()
        elif watched is self._done and event.key() == Qt.Key.Key_Up:
            self._go_to(len(self._rows) - 1)
        elif watched in self.fields and event.key() in (*_ENTER, Qt.Key.Key_Down, Qt.Key.Key_Up):
            self._step(self.fields.index(watched), -1 if event.key() == Qt.Key.Key_Up else 1)
        else:
            return super().eventFilter(watched, event)
        return True

    def _step(self, at: int, by: int) -> None:
        """Keep what was typed and go to another field; after the last to the way out."""
        if self._keep(at):
            self._go_to(max(at + by, 0))

    def _go_to(self, at: int) -> None:
        """To a field, its value ready to be typed over; behind the last to the way out."""
        if at in range(len(self._rows)):
            self._rows[at][1].setFocus()
            self._rows[at][1].selectAll()
        else:
            self._done.setFocus()

    def _keep(self, at: int) -> bool:
        """Have a value kept if it is another one; False if it was refused."""
        value, field = self._rows[at]
        self._form.clear()
        if field.text().strip() != _typed(value):
            self.entered.emit(value, field.text())
        return not self._form.complaint(field)

    def _begin(self) -> None:
        empty = (field for value, field in self._rows if value.value is None)
        first: QWidget = next(empty, self.fields[0] if self._rows else self._take)
        first.setFocus()

    def _build(self, asked: Sequence[MeasuredValue]) -> None:
        """Another form: the model was given other fields, or it is another job."""
        new = Form()
        self._column.replaceWidget(self._form, new)
        self._form.hide()
        self._form.deleteLater()
        self._form, self._rows = new, []
        for at, value in enumerate(asked):
            field = QLineEdit(_typed(value))
            unit = f", {value.field.unit}" if value.field.unit else ""
            new.row(f"{value.name}{unit}", field)
            field.installEventFilter(self)
            field.editingFinished.connect(lambda at=at: self._left(at))
            self._rows.append((value, field))

    def _left(self, at: int) -> None:
        """The keyboard goes elsewhere, by Tab or the mouse: what was typed is kept as by Enter."""
        if self.isVisible() and at < len(self._rows):
            self._keep(at)


def _key(value: MeasuredValue) -> tuple[object, ...]:
    return value.field.id, value.socket_id, value.field.label, value.position


def _typed(value: MeasuredValue) -> str:
    return "" if value.value is None else plain_number(value.value)
