"""How the heaters of a model are fed: its line, its windings and strings, and which sockets hang on which."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from tubeshelf.domain.errors import UserError
from tubeshelf.domain.fitting import Circuit
from tubeshelf.domain.numbers import parse_number, plain_number
from tubeshelf.services.changes import Changes
from tubeshelf.services.circuits import ModelCircuits, model_circuits
from tubeshelf.services.intake_edit import CircuitPlan, set_circuits
from tubeshelf.services.shop import Shop
from tubeshelf.services.views.bench import JobView
from tubeshelf.ui.parts.buttons import Act, IconButton
from tubeshelf.ui.parts.entrysheet import EntrySheet
from tubeshelf.ui.parts.form import Choice, Form
from tubeshelf.ui.parts.text import label

_FEEDS = (("Parallel", Circuit.PARALLEL), ("Series string", Circuit.SERIES))


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
        self.feed = Choice(_FEEDS)
        self.feed.choose(plan.circuit)
        for field, value in (
            (self.volts, plan.volts),
            (self.rated, plan.rated_a),
            (self.lamps, plan.lamp_a),
            (self.dropper, plan.drop_ohm),
        ):
            field.setText("" if value is None else plain_number(value))
        left = _form(("Name", self.name), ("Volts", self.volts), ("Sockets", self.positions))
        self._fed = _form(
            ("Fed", self.feed), ("Rated, A", self.rated), ("Lamps, A", self.lamps), ("Drop, Ω", self.dropper)
        )
        self.forms = (left, self._fed)
        drop = IconButton("trash", "Remove this circuit")
        drop.clicked.connect(self.dropped)
        row = QHBoxLayout(self)
        for form in self.forms:
            row.addWidget(form, 1, Qt.AlignmentFlag.AlignTop)
        row.addWidget(drop, 0, Qt.AlignmentFlag.AlignTop)
        self.feed.currentIndexChanged.connect(lambda: self._show_feed())
        self._show_feed()

    def read(self, known: tuple[str, ...]) -> tuple[CircuitPlan, dict[QWidget, str]]:
        """The circuit as entered, and what is wrong with which field."""
        wrong: dict[QWidget, str] = {}
        if not self.name.text().strip():
            wrong[self.name] = "Give the circuit a name, such as “6.3 V winding”."
        series = self.feed.currentData() == Circuit.SERIES
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
            rated_a=None if series else quantity(self.rated, "A", wrong),
            drop_ohm=quantity(self.dropper, "Ω", wrong) if series else None,
            lamp_a=None if series else quantity(self.lamps, "A", wrong),
        )
        return plan, wrong

    def _show_feed(self) -> None:
        series = self.feed.currentData() == Circuit.SERIES
        self._fed.show_row(self.dropper, series)
        self._fed.show_row(self.rated, not series)
        self._fed.show_row(self.lamps, not series)


class CircuitsSheet(EntrySheet):
    """The heater circuits of the model of a job. ``saved`` carries the Changes."""

    saved = Signal(object)

    def __init__(self, shop: Shop) -> None:
        super().__init__("Heater circuits", "Save")
        self._shop = shop
        self._model: ModelCircuits | None = None
        self.cards: list[CircuitCard] = []
        self.line = QLineEdit()
        self._cards = QVBoxLayout()
        self.empty = label("", "soft", wrap=True)
        add = Act("Add a circuit", "Ctrl+Shift+N", icon="add")
        add.clicked.connect(lambda: self.add())
        self.form = Form()
        self.form.row("Line of the set, volts", self.line)
        self.body.addWidget(self.form)
        self.body.addWidget(self.empty)
        self.body.addLayout(self._cards)
        self.body.addWidget(add, 0, Qt.AlignmentFlag.AlignLeft)
        self.body.addWidget(label("Units and open jobs of this model follow.", "small", wrap=True))
        self.body.addStretch(1)

    def show_job(self, job: JobView) -> None:
        """Show the circuits of the job's model; UserError if it has no model."""
        if job.model_id is None:
            raise UserError("A box of loose tubes has no heater circuits.")
        self._model = model_circuits(self._shop, model_id=job.model_id)
        self.set_title(f"Heater circuits of the {self._model.name}")
        self.notice.clear()
        self.form.clear()
        self.line.setText("" if self._model.line_v is None else plain_number(self._model.line_v))
        for card in tuple(self.cards):
            self._drop(card)
        for plan in self._model.circuits:
            self._add(plan)
        self.line.setFocus()

    def add(self) -> None:
        """Begin another circuit; the first takes all sockets."""
        assert self._model is not None
        fed = {p for card in self.cards for p in card.positions.text().split()}
        rest = tuple(p for p in self._model.positions if p not in fed)
        card = self._add(CircuitPlan("", Circuit.PARALLEL, rest))
        card.name.setFocus()

    def save(self) -> None:
        """Keep them, for the model and, if wanted, for this job."""
        assert self._model is not None
        model = self._model
        wrong: dict[QWidget, str] = {}
        line_v = quantity(self.line, "V", wrong)
        bad = self.complain(wrong, self.form)
        plans: list[CircuitPlan] = []
        for card in self.cards:
            plan, mistakes = card.read(model.positions)
            plans.append(plan)
            bad = self.complain(mistakes or _twice(card, plan, plans), *card.forms) or bad
        if bad:
            return
        done: list[Changes] = []
        if self.attempt(lambda: done.append(self._write(line_v, tuple(plans)))):
            self.saved.emit(done[0])

    def _write(self, line_v: float | None, plans: tuple[CircuitPlan, ...]) -> Changes:
        assert self._model is not None
        model_id = self._model.model_id
        return set_circuits(self._shop, model_id=model_id, line_v=line_v, circuits=plans)[1]

    def _add(self, plan: CircuitPlan) -> CircuitCard:
        card = CircuitCard(plan)
        card.dropped.connect(lambda: self._drop(card))
        self.cards.append(card)
        self._cards.addWidget(card)
        self._say_empty()
        return card

    def _drop(self, card: CircuitCard) -> None:
        self.cards.remove(card)
        self._cards.removeWidget(card)
        card.hide()
        card.deleteLater()
        self._say_empty()

    def _say_empty(self) -> None:
        self.empty.setText(
            "Nothing is said about the heaters yet, so each is taken as fed in parallel from a winding of "
            "unknown rating. Add a winding or a series string to have its load checked."
        )
        self.empty.setVisible(not self.cards)


def _form(*rows: tuple[str, QWidget]) -> Form:
    form = Form()
    for words, field in rows:
        form.row(words, field)
    return form


def _twice(card: CircuitCard, plan: CircuitPlan, plans: list[CircuitPlan]) -> dict[QWidget, str]:
    """A socket hangs on one circuit only."""
    earlier = {position: other.name for other in plans[:-1] for position in other.positions}
    both = [position for position in plan.positions if position in earlier]
    return {card.positions: f"{both[0]} already hangs on {earlier[both[0]]}."} if both else {}


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
