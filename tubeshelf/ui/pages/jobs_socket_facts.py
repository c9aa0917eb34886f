"""Facts of the sockets of a model, which sharpen the judgement of fit: wiring, supplies, bias, tie points."""

from collections.abc import Callable

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QLineEdit, QWidget

from tubeshelf.domain.errors import UserError
from tubeshelf.domain.fitting import Bias
from tubeshelf.domain.numbers import plain_number
from tubeshelf.domain.written_facts import NOTHING_WRITTEN, WrittenFacts, bias_volts, pins, volts, wiring
from tubeshelf.services.changes import Changes
from tubeshelf.services.facts_edit import set_socket_facts
from tubeshelf.services.shop import Shop
from tubeshelf.services.views.bench import JobView
from tubeshelf.ui.parts.entrysheet import EntrySheet
from tubeshelf.ui.parts.form import Choice, Form
from tubeshelf.ui.parts.text import label

_BIASES = (("not said", ""), ("fixed", str(Bias.FIXED)), ("cathode", str(Bias.CATHODE)))
_READ: dict[str, Callable[[str], object]] = {
    "heater_pins": wiring,
    "plate_v": volts,
    "screen_v": volts,
    "bias": Bias,
    "bias_v": bias_volts,
    "capacitor_v": volts,
    "ties": pins,
}
"""How each fact is read from what is typed; an empty one is not known."""


def texts_of(facts: WrittenFacts) -> dict[str, str]:
    """The facts as they stand in the fields."""
    numbers = {name: getattr(facts, name) for name in ("plate_v", "screen_v", "bias_v", "capacitor_v")}
    return {
        "heater_pins": facts.heater_pins,
        **{name: "" if value is None else plain_number(value) for name, value in numbers.items()},
        "bias": str(facts.bias or ""),
        "ties": " ".join(facts.ties),
    }


class FactsSheet(EntrySheet):
    """Takes the facts of one socket after the other. ``saved`` carries the Changes of all of them."""

    saved = Signal(object)

    def __init__(self, shop: Shop) -> None:
        super().__init__("Facts of the sockets", "Save")
        self._shop = shop
        self._job: JobView | None = None
        self._typed: dict[str, dict[str, str]] = {}
        self._shown = ""
        self.position, self.bias = Choice(), Choice(_BIASES)
        self.heater, self.plate_v, self.screen_v = QLineEdit(), QLineEdit(), QLineEdit()
        self.bias_v, self.capacitor, self.ties = QLineEdit(), QLineEdit(), QLineEdit()
        self._fields: dict[str, QLineEdit] = {
            "heater_pins": self.heater,
            "plate_v": self.plate_v,
            "screen_v": self.screen_v,
            "bias_v": self.bias_v,
            "capacitor_v": self.capacitor,
            "ties": self.ties,
        }
        self.form = Form()
        self._compose()
        self.position.currentIndexChanged.connect(lambda: self._turn_to(self.position.currentData()))

    def show_job(self, job: JobView) -> None:
        """Show the sockets of a job; UserError if it has none."""
        if not job.sockets:
            raise UserError("This job has no sockets yet; type them first.")
        self._job = job
        self.set_title(f"Facts of the sockets of job {job.number}")
        self.notice.clear()
        self._typed = {socket.position: texts_of(socket.written) for socket in job.sockets}
        self._shown = ""
        self.position.offer(
            [(" ".join((s.position, s.role, s.intended)).replace("  ", " "), s.position) for s in job.sockets]
        )
        self._turn_to(self.position.currentData())
        self.position.setFocus()

    def save(self) -> None:
        """Keep all that was typed, or go to the first socket with something wrong."""
        assert self._job is not None
        self._stash()
        written: dict[str, WrittenFacts] = {}
        for socket in self._job.sockets:
            facts, wrong = _read(self._typed[socket.position])
            if wrong:
                self.position.choose(socket.position)
                self.complain({self._fields[name]: said for name, said in wrong.items()}, self.form)
                return
            if facts != socket.written:
                written[socket.position] = facts
        if not written:
            self.left.emit()
            return
        job_id, done = self._job.id, list[Changes]()
        if self.attempt(lambda: done.append(set_socket_facts(self._shop, job_id=job_id, facts=written)[1])):
            self.saved.emit(done[0])

    def _turn_to(self, position: str) -> None:
        self._stash()
        self._shown = position
        self.form.clear()
        texts = self._typed.get(position, texts_of(NOTHING_WRITTEN))
        for name, field in self._fields.items():
            field.setText(texts[name])
        self.bias.choose(texts["bias"])

    def _stash(self) -> None:
        if self._shown:
            fields = {name: field.text() for name, field in self._fields.items()}
            self._typed[self._shown] = {**fields, "bias": str(self.bias.currentData())}

    def _compose(self) -> None:
        rows: tuple[tuple[str, QWidget, str], ...] = (
            ("Socket", self.position, ""),
            ("Heater wiring", self.heater, "pins, as in the type table: 4+5-9 or 2-7"),
            ("Plate supply, V", self.plate_v, "at a rectifier the B+ behind it"),
            ("Screen supply, V", self.screen_v, ""),
            ("Bias", self.bias, ""),
            ("Grid bias, V", self.bias_v, "such as −14"),
            ("Capacitor, V", self.capacitor, "what the first filter capacitor stands, at a rectifier"),
            ("Tie points", self.ties, "pins that other wires are tied to: 1 6"),
        )
        for words, field, hint in rows:
            self.form.row(words, field, hint)
        self.body.addWidget(self.form)
        remembered = "The model, its units and their open jobs remember them; fits are judged again."
        self.body.addWidget(label(remembered, "small", wrap=True))
        self.body.addStretch(1)


def _read(texts: dict[str, str]) -> tuple[WrittenFacts, dict[str, str]]:
    """The facts in the fields, and what is wrong with which."""
    facts: dict[str, object] = {}
    wrong: dict[str, str] = {}
    for name, read in _READ.items():
        if not texts[name].strip():
            continue
        try:
            facts[name] = read(texts[name])
        except UserError as error:
            wrong[name] = error.sentence
    return WrittenFacts(**facts), wrong  # type: ignore[arg-type] # each read by what belongs to its name
