"""One field of what is measured in a set: its name, its unit, what it is, once or at each output tube."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from tubeshelf.domain.numbers import same_unit
from tubeshelf.domain.set_fields import UNITS, Quantity, SetField, quantity_name
from tubeshelf.ui import tokens
from tubeshelf.ui.parts.buttons import IconButton
from tubeshelf.ui.parts.form import Choice, Form, Tick

_QUANTITIES = [
    (name[:1].upper() + name[1:], one) for one in (*UNITS, Quantity.ANY) for name in [quantity_name(one)]
]
_UNIT_WIDTH = 150


class FieldCard(QFrame):
    """A field to fill in. ``dropped`` when it is not wanted any more."""

    dropped = Signal()

    def __init__(self, field: SetField) -> None:
        super().__init__()
        self.setProperty("role", "box")
        self._field = field
        self.name, self.unit = QLineEdit(field.name), QLineEdit(field.unit)
        self.name.setPlaceholderText("such as B+")
        self.quantity = Choice(_QUANTITIES)
        self.quantity.choose(field.quantity)
        self.quantity.setSizeAdjustPolicy(Choice.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.per_socket = Tick("at each output tube")
        self.per_socket.setChecked(field.per_socket)
        self.per_socket.setMinimumHeight(34)  # as high as the choice beside it
        self._named, self._measured, self._is = Form(), Form(), Form()
        self._named.row("Name", self.name)
        self._measured.row("Unit", self.unit)
        self._measured.setMaximumWidth(_UNIT_WIDTH)
        self._is.row("Is", self.quantity)
        self.forms = (self._named, self._measured, self._is)
        self._compose()
        self.quantity.currentIndexChanged.connect(lambda: self._suit_unit())

    def read(self) -> SetField:
        """The field as it stands."""
        return SetField(
            name=" ".join(self.name.text().split()),
            unit=self.unit.text().strip(),
            quantity=self._quantity,
            per_socket=self.per_socket.isChecked(),
            id=self._field.id,
            version=self._field.version,
        )

    def wrong(self) -> dict[QWidget, str]:
        """What is wrong with which field."""
        wrong: dict[QWidget, str] = {}
        if not self.name.text().strip():
            wrong[self.name] = "Give the field a name, such as “B+”, or remove it."
        unit = UNITS.get(self._quantity)
        if unit is not None and not same_unit(unit, self.unit.text()):
            wrong[self.unit] = f"{unit} here"
        return wrong

    @property
    def _quantity(self) -> Quantity:
        # Qt gives back plain text where a StrEnum was put in.
        return Quantity(self.quantity.currentData())

    def _suit_unit(self) -> None:
        """What is reckoned with has a unit of its own."""
        self.unit.setText(UNITS.get(self._quantity, self.unit.text()))
        self._measured.clear()

    def _compose(self) -> None:
        drop = IconButton("trash", "Remove this field")
        drop.clicked.connect(self.dropped)
        rows = QVBoxLayout(self)
        rows.setContentsMargins(10, 6, 10, 6)
        rows.setSpacing(0)
        for row in ((self._named, self._measured, drop), (self._is, self.per_socket)):
            line = QHBoxLayout()
            line.setSpacing(tokens.GAP)
            for widget in row:
                stretch = 1 if widget in (self._named, self._is) else 0
                line.addWidget(widget, stretch, Qt.AlignmentFlag.AlignTop)
            rows.addLayout(line)
