"""The estimate to talk over with the customer: labour, an answer for each tube, who approved it."""

from collections.abc import Callable

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QGridLayout, QLineEdit, QVBoxLayout, QWidget

from tubeshelf.domain.dates import format_date, parse_date
from tubeshelf.domain.errors import UserError
from tubeshelf.domain.jobs import Action, Answer
from tubeshelf.domain.money import format_money, parse_money
from tubeshelf.services.bench import set_answer
from tubeshelf.services.changes import Changes
from tubeshelf.services.decide import approve, set_labour
from tubeshelf.services.shop import Shop
from tubeshelf.services.views.bench import JobView, SocketView
from tubeshelf.ui import tokens
from tubeshelf.ui.pages.jobs_estimate import EstimateLines
from tubeshelf.ui.parts.entrysheet import EntrySheet
from tubeshelf.ui.parts.form import Choice, Form
from tubeshelf.ui.parts.sheet import clear, section
from tubeshelf.ui.parts.text import label

_ANSWERS = (
    ("no answer yet", None),
    ("agreed", Answer.AGREED),
    ("declined", Answer.DECLINED),
    ("ask again", Answer.ASK_AGAIN),
)


class ApprovalSheet(EntrySheet):
    """``changed`` carries the Changes of an answer or labour, kept at once; ``approved`` of the approval."""

    changed = Signal(object)
    approved = Signal(object)

    def __init__(self, shop: Shop) -> None:
        super().__init__("Estimate", "Save approval")
        self._shop = shop
        self._job: JobView | None = None
        self.estimate = EstimateLines()
        self.answers: dict[str, Choice] = {}
        self._answers = QVBoxLayout()
        self.labour, self.who, self.on = QLineEdit(), QLineEdit(), QLineEdit()
        self.how, self.ceiling, self.note = QLineEdit(), QLineEdit(), QLineEdit()
        self.how.setPlaceholderText("by telephone, in person, by letter")
        self.ceiling.setPlaceholderText("blank for no limit")
        self.labour.editingFinished.connect(self._keep_labour)
        self._labour_form, self.form = Form(), Form()
        self._compose()

    def show_job(self, job: JobView) -> None:
        """Begin with a job: the approval is empty, dated today."""
        self.notice.clear()
        self.form.clear()
        for field in (self.how, self.ceiling, self.note):
            field.clear()
        self.who.setText(job.customer)
        self.on.setText(format_date(self._shop.today))
        self.refresh(job)
        self.who.setFocus()

    def refresh(self, job: JobView) -> None:
        """Show the job as it is now; what is typed stays."""
        self._job = job
        self.set_title(f"Estimate of job {job.number}")
        self.estimate.show_estimate(job, self._shop.settings.currency)
        if not self.labour.hasFocus() or not self.labour.isModified():
            self.labour.setText(format_money(job.estimate.labour).replace(",", ""))
        self._show_answers(job)

    def save(self) -> None:
        """Keep who approved it."""
        if not self._keep_labour():
            return
        wrong: dict[QWidget, str] = {}
        if not self.who.text().strip():
            wrong[self.who] = "Type who approved the estimate."
        try:
            on = parse_date(self.on.text())
        except UserError as error:
            wrong[self.on] = error.sentence
        ceiling = None
        try:
            ceiling = parse_money(self.ceiling.text()) if self.ceiling.text().strip() else None
        except UserError as error:
            wrong[self.ceiling] = error.sentence
        if self.complain(wrong, self.form):
            return
        done: list[Changes] = []
        assert self._job is not None
        job_id = self._job.id
        if self.attempt(
            lambda: done.append(
                approve(
                    self._shop,
                    job_id=job_id,
                    who=self.who.text(),
                    on=on,
                    how=self.how.text(),
                    ceiling=ceiling,
                    note=self.note.text(),
                )[1]
            )
        ):
            self.approved.emit(done[0])

    def _keep_labour(self) -> bool:
        """Keep the labour figure if it is another one; False if it cannot be read."""
        assert self._job is not None
        job = self._job
        self._labour_form.clear()
        try:
            minor = parse_money(self.labour.text()) if self.labour.text().strip() else 0
            if minor < 0:
                raise UserError("Labour cannot be less than nothing: type an amount such as 45.")
        except UserError as error:
            self.complain({self.labour: error.sentence}, self._labour_form)
            return False
        if minor == job.estimate.labour:
            return True
        return self._change(lambda: set_labour(self._shop, job_id=job.id, minor=minor)[1])

    def _answer(self, socket_id: int, choice: Choice) -> None:
        said = choice.currentData()
        answer = None if said is None else Answer(said)
        self._change(lambda: set_answer(self._shop, socket_id=socket_id, answer=answer)[1])

    def _change(self, act: Callable[[], Changes]) -> bool:
        done: list[Changes] = []
        if self.attempt(lambda: done.append(act())):
            self.changed.emit(done[0])
            return True
        return False

    def _show_answers(self, job: JobView) -> None:
        asked = [s for s in job.sockets if s.action is Action.REPLACE or s.answer is not None]
        if [s.position for s in asked] != list(self.answers):
            clear(self._answers)
            self.answers = {s.position: self._choice(s) for s in asked}
            self._answers.addWidget(_answer_rows(asked, self.answers))
        for socket in asked:
            self.answers[socket.position].choose(socket.answer)

    def _choice(self, socket: SocketView) -> Choice:
        choice = Choice(_ANSWERS, name=f"Answer for {socket.position}")
        choice.activated.connect(lambda: self._answer(socket.id, choice))
        return choice

    def _compose(self) -> None:
        self._labour_form.row("&Labour", self.labour)
        for words, field in (
            ("&Who", self.who),
            ("O&n", self.on),
            ("&How", self.how),
            ("&Up to", self.ceiling),
            ("N&ote", self.note),
        ):
            self.form.row(words, field)
        self.body.addWidget(self.estimate)
        self.body.addWidget(self._labour_form)
        self.body.addWidget(section("What the customer says"))
        self.body.addLayout(self._answers)
        self.body.addWidget(section("Approved"))
        self.body.addWidget(self.form)
        self.body.addStretch(1)


def _answer_rows(sockets: list[SocketView], choices: dict[str, Choice]) -> QWidget:
    whole = QWidget()
    grid = QGridLayout(whole)
    grid.setContentsMargins(0, 0, 0, 0)
    grid.setHorizontalSpacing(tokens.MARGIN)
    grid.setColumnStretch(1, 1)
    if not sockets:
        grid.addWidget(label("No tube is to be replaced so far.", "soft", wrap=True), 0, 0)
    for row, socket in enumerate(sockets):
        name = label(socket.position, "strong")
        name.setBuddy(choices[socket.position])
        grid.addWidget(name, row, 0)
        grid.addWidget(label(f"{socket.role} {socket.intended}".strip(), "soft", wrap=True), row, 1)
        grid.addWidget(choices[socket.position], row, 2)
    return whole
