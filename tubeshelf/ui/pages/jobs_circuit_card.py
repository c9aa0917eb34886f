"""One winding or string to fill in: what feeds it, which sockets hang on it, its lamp and its ballast."""

from typing import Any

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from tubeshelf.domain.errors import UserError
from tubeshelf.domain.fitting import Circuit
from tubeshelf.domain.heaters import IN_SERIES, ON_DROPPER
from tubeshelf.domain.numbers import parse_number, plain_number
from tubeshelf.services.intake_edit import ON_WINDING, CircuitPlan
from tubeshelf.ui import tokens
from tubeshelf.ui.parts.buttons import IconButton
from tubeshelf.ui.parts.form import Choice, Form

_FEEDS = (("Parallel", Circuit.PARALLEL), ("Series string", Circuit.SERIES))
_NO_LAMP, _ON_TAP = "", "tap"
_LAMPS = (
    ("none known", _NO_LAMP),
    ("in series", IN_SERIES),
    ("on the dropper", ON_DROPPER),
    ("on a heater tap", _ON_TAP),
)


class CircuitCard(QFrame):
    """One winding or string. ``dropped`` when it is not wanted any more."""

    dropped = Signal()

    def __init__(self, plan: CircuitPlan) -> None:
        super().__init__()
        self.setProperty("role", "box")
        self.name, self.volts, self.rated = QLineEdit(plan.name), QLineEdit(), QLineEdit()
        self.lamps, self.dropper = QLineEdit(), QLineEdit()
        self.positions = QLineEdit(" ".join(plan.positions))
        self.positions.setPlaceholderText("V1 V2 V3")
        self.positions.setCursorPosition(0)
        self.feed, self.lamp = Choice(_FEEDS), Choice(_LAMPS)
        self.lamp_on, self.lamp_part = QLineEdit(), QLineEdit()
        self.lamp_v, self.lamp_a = QLineEdit(), QLineEdit()
        self.ballast_a, self.ballast_low, self.ballast_high = QLineEdit(), QLineEdit(), QLineEdit()
        self.lamp_on.setPlaceholderText("V5")
        self._fill(plan)
        self._compose()
        self.feed.currentIndexChanged.connect(lambda: self._show_feed())
        self.lamp.currentIndexChanged.connect(lambda: self._show_feed())
        self._show_feed()

    def read(self, known: tuple[str, ...]) -> tuple[CircuitPlan, dict[QWidget, str]]:
        """The circuit as entered, and what is wrong with which field."""
        wrong: dict[QWidget, str] = {}
        if not self.name.text().strip():
            wrong[self.name] = "Give the circuit a name, such as “6.3 V winding”."
        positions = tuple(self.positions.text().replace(",", " ").replace(";", " ").split())
        missing = [position for position in positions if position not in known]
        if missing:
            has = ", ".join(known)
            wrong[self.positions] = f"The sockets have no {', '.join(missing)}: they are {has}."
        plan = CircuitPlan(
            name=" ".join(self.name.text().split()),
            circuit=Circuit(self.feed.currentData()),
            positions=positions,
            volts=quantity(self.volts, "V", wrong),
            **(self._string(positions, wrong) if self._series else self._winding(wrong)),
        )
        return plan, wrong

    @property
    def _series(self) -> bool:
        return bool(self.feed.currentData() == Circuit.SERIES)

    def _winding(self, wrong: dict[QWidget, str]) -> dict[str, Any]:
        lamps = quantity(self.lamps, "A", wrong)
        return {
            "rated_a": quantity(self.rated, "A", wrong),
            "lamp_a": lamps,
            "lamp_at": "" if lamps is None else ON_WINDING,
        }

    def _string(self, positions: tuple[str, ...], wrong: dict[QWidget, str]) -> dict[str, Any]:
        figures = {
            "drop_ohm": quantity(self.dropper, "Ω", wrong),
            "ballast_a": quantity(self.ballast_a, "A", wrong),
            "ballast_low_v": quantity(self.ballast_low, "V", wrong),
            "ballast_high_v": quantity(self.ballast_high, "V", wrong),
        }
        at = self.lamp.currentData()
        if at == _NO_LAMP:
            return {**figures, "lamp_at": ""}
        if at == _ON_TAP:
            at = self.lamp_on.text().strip()
            if at not in positions:
                wrong[self.lamp_on] = "Type the socket of this string on whose heater tap the lamp is."
        part = quantity(self.lamp_part, "Ω", wrong) if at == ON_DROPPER else None
        if at == ON_DROPPER and part is None and self.lamp_part not in wrong:
            wrong[self.lamp_part] = "Type the ohms of the part that the lamp shunts."
        lamp = {"lamp_v": quantity(self.lamp_v, "V", wrong), "lamp_a": quantity(self.lamp_a, "A", wrong)}
        return {**figures, **lamp, "lamp_at": at, "lamp_tap_ohm": part}

    def _fill(self, plan: CircuitPlan) -> None:
        self.feed.choose(plan.circuit)
        on_tap = plan.lamp_at in plan.positions
        self.lamp.choose(_ON_TAP if on_tap else plan.lamp_at)
        self.lamp_on.setText(plan.lamp_at if on_tap else "")
        for field, value in (
            (self.volts, plan.volts),
            (self.rated, plan.rated_a),
            (self.lamps if plan.circuit is Circuit.PARALLEL else self.lamp_a, plan.lamp_a),
            (self.dropper, plan.drop_ohm),
            (self.lamp_v, plan.lamp_v),
            (self.lamp_part, plan.lamp_tap_ohm),
            (self.ballast_a, plan.ballast_a),
            (self.ballast_low, plan.ballast_low_v),
            (self.ballast_high, plan.ballast_high_v),
        ):
            field.setText("" if value is None else plain_number(value))

    def _compose(self) -> None:
        top = _form(("Name", self.name), ("Sockets", self.positions))
        feed = _form(("Fed", self.feed), ("Volts", self.volts))
        self._fed = _form(("Drop, Ω", self.dropper), ("Rated, A", self.rated), ("Lamps, A", self.lamps))
        self._lamp = _form(
            ("Lamp", self.lamp),
            ("Tap of", self.lamp_on),
            ("Shunts, Ω", self.lamp_part),
            ("Lamp, V", self.lamp_v),
            ("Lamp, A", self.lamp_a),
        )
        self._ballast = _form(
            ("Ballast, A", self.ballast_a), ("from, V", self.ballast_low), ("to, V", self.ballast_high)
        )
        self.forms = (top, self._fed, self._lamp, self._ballast, feed)
        drop = IconButton("trash", "Remove this circuit")
        drop.clicked.connect(self.dropped)
        rows = QVBoxLayout(self)
        for row in ((top, drop), (feed, self._fed), (self._lamp, self._ballast)):
            line = QHBoxLayout()
            line.setSpacing(tokens.GAP)
            for widget in row:
                line.addWidget(widget, widget is not drop, Qt.AlignmentFlag.AlignTop)
            rows.addLayout(line)

    def _show_feed(self) -> None:
        series, lamp = self._series, self.lamp.currentData()
        self._fed.show_row(self.dropper, series)
        self._fed.show_row(self.rated, not series)
        self._fed.show_row(self.lamps, not series)
        self._lamp.setVisible(series)
        self._ballast.setVisible(series)
        self._lamp.show_row(self.lamp_on, lamp == _ON_TAP)
        self._lamp.show_row(self.lamp_part, lamp == ON_DROPPER)
        self._lamp.show_row(self.lamp_v, lamp != _NO_LAMP)
        self._lamp.show_row(self.lamp_a, lamp != _NO_LAMP)


def _form(*rows: tuple[str, QWidget]) -> Form:
    form = Form()
    for words, field in rows:
        form.row(words, field)
    return form


def quantity(field: QLineEdit, unit: str, wrong: dict[QWidget, str]) -> float | None:
    """The number in a field, none if it is blank; a mistake goes to ``wrong``."""
    if not field.text().strip():
        return None
    try:
        number = parse_number(field.text(), unit)
    except UserError as error:
        wrong[field] = error.sentence
        return None
    if number <= 0:
        wrong[field] = "Type a number above zero, or leave it blank if it is not known."
    return number
