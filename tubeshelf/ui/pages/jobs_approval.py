"""The decision sheet: socket by socket what is proposed and what the customer says, and who approved it."""

from collections.abc import Callable
from datetime import date

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QWidget

from tubeshelf.domain.dates import format_date, parse_date
from tubeshelf.domain.errors import UserError
from tubeshelf.domain.jobs import Answer
from tubeshelf.domain.money import format_money, parse_money
from tubeshelf.services.answers import set_answers, way_used_last
from tubeshelf.services.changes import Changes
from tubeshelf.services.decide import approve, set_labour
from tubeshelf.services.decision import DecisionLine, decided_apart, decision_lines, to_ask_too
from tubeshelf.services.shop import Shop
from tubeshelf.services.views.bench import JobView
from tubeshelf.ui.pages.jobs_answers import AnswerRows
from tubeshelf.ui.pages.jobs_estimate import EstimateLines, running_total
from tubeshelf.ui.parts.buttons import Act
from tubeshelf.ui.parts.entrysheet import EntrySheet
from tubeshelf.ui.parts.form import Choice, Form
from tubeshelf.ui.parts.sheet import section
from tubeshelf.ui.parts.text import label, restyle


class ApprovalSheet(EntrySheet):
    """``changed`` carries the Changes of an answer or labour, kept at once; ``approved`` of the approval.

    ``paper_wanted`` asks for the estimate on paper.
    """

    changed = Signal(object)
    approved = Signal(object)
    paper_wanted = Signal()

    def __init__(self, shop: Shop) -> None:
        super().__init__("Estimate", "Save approval")
        self._shop = shop
        self._job: JobView | None = None
        self._lines: tuple[DecisionLine, ...] = ()
        self._pending: tuple[int, Answer | None] | None = None
        self.estimate = EstimateLines(sums_alone=True)
        self.rows = AnswerRows()
        self.labour, self.who, self.on = QLineEdit(), QLineEdit(), QLineEdit()
        self.how, self.ceiling, self.note = QLineEdit(), QLineEdit(), QLineEdit()
        self.how.setPlaceholderText("by telephone, in person, by letter")
        self.ceiling.setPlaceholderText("blank for no limit")
        self._labour_form, self.form, self.limit_form = Form(), Form(), Form()
        self.total = label("", "strong", wrap=True)
        self._foot.insertWidget(1, self.total, 20)
        self.all, self.paper = Act("Agreed to all", "F6"), Act("Print estimate", "Ctrl+E")
        self._compose()
        self._connect()

    @property
    def answers(self) -> dict[str, Choice]:
        """The choice of each socket that the customer is asked about, by position."""
        return {position: row.choice for position, row in self.rows.rows.items() if row.line.asked}

    def show_job(self, job: JobView) -> None:
        """Begin with a job: the approval is empty, dated today, given the way used last."""
        self.notice.clear()
        for form in (self.form, self.limit_form):
            form.clear()
        for field in (self.ceiling, self.note):
            field.clear()
        self.who.setText(job.customer)
        self.on.setText(format_date(self._shop.today))
        self.how.setText(way_used_last(self._shop, job_id=job.id))
        self.refresh(job)
        first = self.rows.first_open
        (self.how if first is not None and not self.how.text() else first or self.who).setFocus()

    def refresh(self, job: JobView) -> None:
        """Show the job as it is now; what is typed stays."""
        self._job, self._pending = job, None
        self._lines = decision_lines(job)
        self.set_title(f"Estimate of job {job.number}")
        currency = self._shop.settings.currency
        self.rows.show_lines(self._lines, currency)
        self.estimate.show_estimate(job, currency, decided_apart(self._lines))
        self.total.setText(running_total(job.estimate, currency))
        restyle(self.total, "tone", "reject" if job.estimate.over else "")
        self.all.setEnabled(self.rows.first_open is not None)
        if not self.labour.hasFocus() or not self.labour.isModified():
            self.labour.setText(format_money(job.estimate.labour).replace(",", ""))

    def save(self) -> None:
        """Keep who approved it."""
        if not self._keep_labour():
            return
        on, wrong = self._day()
        if not self.who.text().strip():
            wrong[self.who] = "Type who approved the estimate."
        ceiling = None
        try:
            ceiling = parse_money(self.ceiling.text()) if self.ceiling.text().strip() else None
        except UserError as error:
            wrong[self.ceiling] = error.sentence
        if self.complain(wrong, self.form, self.limit_form):
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

    # ---- Answers

    def _answer(self, socket_id: int, answer: Answer | None) -> None:
        """Take an answer: for the whole match group while it is answered as one, unless told otherwise."""
        line = next(line for line in self._lines if line.socket_id == socket_id)
        others = to_ask_too(self._lines, socket_id)
        if answer is line.answer or any(other.answer is not line.answer for other in others):
            self._write((socket_id,), answer)
        elif line.answer is None:
            self._write((socket_id, *(other.socket_id for other in others)), answer)
        elif others:
            self._pending = (socket_id, answer)
            self.rows.ask(line.position, [other.position for other in others], answer)
            self.reveal(self.rows.question)
        else:
            self._write((socket_id,), answer)

    def _settle(self, *, whole: bool) -> None:
        if self._pending is not None:
            socket_id, answer = self._pending
            others = to_ask_too(self._lines, socket_id) if whole else ()
            back = next(row.choice for row in self.rows.rows.values() if row.line.socket_id == socket_id)
            self._write((socket_id, *(other.socket_id for other in others)), answer)
            back.setFocus()

    def _agree_to_all(self) -> None:
        ids = tuple(line.socket_id for line in self._lines if line.asked and line.answer is None)
        self._write(ids, Answer.AGREED)

    def _write(self, socket_ids: tuple[int, ...], answer: Answer | None) -> None:
        on, wrong = self._day()
        how = self.how.text()
        socket_ids = tuple(line.socket_id for line in self._lines if line.socket_id in socket_ids)
        if self.complain(wrong, self.form) or not self._change(
            lambda: set_answers(self._shop, socket_ids=socket_ids, answer=answer, how=how, on=on)[1]
        ):
            self.rows.show_lines(self._lines, self._shop.settings.currency)

    def _day(self) -> tuple[date, dict[QWidget, str]]:
        """The day of the answer, and what is wrong with it."""
        try:
            return parse_date(self.on.text()), {}
        except UserError as error:
            return self._shop.today, {self.on: error.sentence}

    # ---- Labour

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

    def _change(self, act: Callable[[], Changes]) -> bool:
        done: list[Changes] = []
        if self.attempt(lambda: done.append(act())):
            self.changed.emit(done[0])
            return True
        return False

    # ---- Building

    def _connect(self) -> None:
        self.labour.editingFinished.connect(self._keep_labour)
        self.rows.chosen.connect(self._answer)
        self.rows.question.whole.connect(lambda: self._settle(whole=True))
        self.rows.question.alone.connect(lambda: self._settle(whole=False))
        self.all.clicked.connect(self._agree_to_all)
        self.paper.clicked.connect(self.paper_wanted)

    def _compose(self) -> None:
        for words, field in (("&Who", self.who), ("&How", self.how), ("O&n", self.on)):
            self.form.row(words, field)
        self._labour_form.row("&Labour", self.labour)
        for words, field in (("&Up to", self.ceiling), ("N&ote", self.note)):
            self.limit_form.row(words, field)
        acts = QHBoxLayout()
        for act in (self.all, self.paper):
            acts.addWidget(act)
        acts.addStretch(1)
        self.body.addWidget(section("What the customer says"))
        self.body.addWidget(self.form)
        self.body.addLayout(acts)
        self.body.addWidget(section("Socket by socket"))
        self.body.addWidget(self.rows)
        self.body.addWidget(section("What it comes to"))
        self.body.addWidget(self._labour_form)
        self.body.addWidget(self.estimate)
        self.body.addWidget(section("Approved"))
        self.body.addWidget(self.limit_form)
        self.body.addStretch(1)
