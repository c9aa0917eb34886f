"""How the heaters of a model are fed: its line, its windings and strings, and which sockets hang on which."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QLineEdit, QVBoxLayout, QWidget

from tubeshelf.domain.errors import UserError
from tubeshelf.domain.fitting import Circuit
from tubeshelf.domain.numbers import plain_number
from tubeshelf.services.changes import Changes
from tubeshelf.services.circuits import ModelCircuits, model_circuits
from tubeshelf.services.intake_edit import CircuitPlan, set_circuits
from tubeshelf.services.shop import Shop
from tubeshelf.services.views.bench import JobView
from tubeshelf.ui.pages.jobs_circuit_card import CircuitCard, quantity
from tubeshelf.ui.parts.buttons import Act
from tubeshelf.ui.parts.entrysheet import EntrySheet
from tubeshelf.ui.parts.form import Form
from tubeshelf.ui.parts.text import label


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


def _twice(card: CircuitCard, plan: CircuitPlan, plans: list[CircuitPlan]) -> dict[QWidget, str]:
    """A socket hangs on one circuit only."""
    earlier = {position: other.name for other in plans[:-1] for position in other.positions}
    both = [position for position in plan.positions if position in earlier]
    return {card.positions: f"{both[0]} already hangs on {earlier[both[0]]}."} if both else {}
