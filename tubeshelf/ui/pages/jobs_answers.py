"""The rows of the decision sheet: a socket each, with what is proposed, why, its price, and the answer."""

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFrame, QGridLayout, QHBoxLayout, QLabel, QVBoxLayout, QWidget

from tubeshelf.domain.jobs import Action, Answer
from tubeshelf.domain.money import format_money
from tubeshelf.paper.fonts import tabular
from tubeshelf.services.decision import DecisionLine, answer_text, proposal_text
from tubeshelf.ui import tokens
from tubeshelf.ui.parts.buttons import Act
from tubeshelf.ui.parts.form import Choice
from tubeshelf.ui.parts.keyed import KeyedChoice
from tubeshelf.ui.parts.sheet import clear
from tubeshelf.ui.parts.text import label, restyle, rule

ANSWERS = (
    ("no answer yet", None),
    ("agreed", Answer.AGREED),
    ("declined", Answer.DECLINED),
    ("ask again", Answer.ASK_AGAIN),
)
_KEYS = {
    "a": Answer.AGREED,
    "d": Answer.DECLINED,
    "r": Answer.ASK_AGAIN,
    "+": Answer.AGREED,
    "-": Answer.DECLINED,
    "*": Answer.ASK_AGAIN,
}
"""A letter, or a sign of the number pad, for each answer."""

_TONES = {Action.REPLACE: "reject", Action.UNDECIDED: "weak", Action.KEEP: ""}


class AnswerRow(QWidget):
    """One socket. ``chosen`` carries its id and the answer that somebody chose for it.

    ``done`` carries its id after a single key answered.
    """

    chosen = Signal(int, object)
    done = Signal(int)

    def __init__(self, line: DecisionLine, currency: str, parent: QWidget) -> None:
        super().__init__(parent)
        self.line = line
        self._currency = currency
        self.choice = KeyedChoice(ANSWERS, _KEYS, name=f"Answer for {line.position}")
        self.choice.activated.connect(self._choose)
        self.choice.typed.connect(lambda: self.done.emit(self.line.socket_id))
        self._name, self._proposal = label("", "strong"), label("", "strong", wrap=True)
        self._found, self._why = label("", wrap=True), label("", "soft", wrap=True)
        self._price, self._said = label(), label("", "small", wrap=True)
        self._price.setFont(tabular(self._price.font(), pixels=tokens.BODY))
        self._price.setAlignment(Qt.AlignmentFlag.AlignRight)
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(tokens.GAP)
        grid.setVerticalSpacing(2)
        grid.setColumnMinimumWidth(0, 40)
        grid.setColumnStretch(1, 1)
        top = Qt.AlignmentFlag.AlignTop
        grid.addWidget(self._name, 0, 0, top)
        grid.addWidget(self._found, 0, 1)
        grid.addWidget(self._price, 0, 2, top)
        grid.addWidget(self._proposal, 1, 1)
        grid.addWidget(self.choice, 1, 2, 2, 1, top)
        grid.addWidget(self._why, 2, 1)
        grid.addWidget(self._said, 3, 1)
        self.show_line(line)

    def show_line(self, line: DecisionLine) -> None:
        """The socket as it is now."""
        self.line = line
        self._name.setText(line.position)
        self._found.setText(" · ".join(part for part in (line.role, line.found, line.verdict) if part))
        self._proposal.setText(_proposal(line))
        restyle(self._proposal, "tone", "" if line.fitted or line.empty else _TONES[line.action])
        _show(self._why, "" if line.action is Action.KEEP else line.why)
        _show(self._said, answer_text(line))
        self._price.setText(_price(line, self._currency))
        self.choice.setVisible(line.asked)
        self.choice.choose(line.answer)

    def _choose(self) -> None:
        said = self.choice.currentData()
        self.chosen.emit(self.line.socket_id, None if said is None else Answer(said))


class GroupQuestion(QFrame):
    """Asks, in the sheet, whether an answer is for a whole match group or knowingly for one socket alone."""

    whole = Signal()
    alone = Signal()

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setProperty("role", "notice")
        self.setProperty("tone", "info")
        self.words = label("", wrap=True)
        self.all, self.one = Act("The whole group", "F2"), Act("This one alone", "F3")
        self.all.clicked.connect(self.whole)
        self.one.clicked.connect(self.alone)
        buttons = QHBoxLayout()
        buttons.addWidget(self.all)
        buttons.addWidget(self.one)
        buttons.addStretch(1)
        column = QVBoxLayout(self)
        column.addWidget(self.words)
        column.addLayout(buttons)
        self.hide()

    def ask(self, position: str, others: Sequence[str], answer: Answer | None) -> None:
        """Ask about a socket and the others of its group."""
        said = "no answer" if answer is None else str(answer)
        them = "both" if len(others) == 1 else "all of them"
        self.words.setText(
            f"{position} is matched with {' and '.join(others)}: {said} for {them}, or for {position} alone?"
        )
        self.setAccessibleName(self.words.text())
        self.show()
        self.all.setFocus()


class AnswerRows(QWidget):
    """All rows. ``chosen`` carries the id of a socket and the answer that somebody chose for it."""

    chosen = Signal(int, object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.rows: dict[str, AnswerRow] = {}
        self.question = GroupQuestion(self)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(8)

    @property
    def first_open(self) -> Choice | None:
        """The choice of the first socket that has no answer yet."""
        return next((r.choice for r in self.rows.values() if r.line.asked and r.line.answer is None), None)

    def ask(self, position: str, others: Sequence[str], answer: Answer | None) -> None:
        """Ask below the row of a socket about the others of its group."""
        self._column.insertWidget(self._column.indexOf(self.rows[position]) + 1, self.question)
        self.question.ask(position, others, answer)

    def show_lines(self, lines: Sequence[DecisionLine], currency: str) -> None:
        """Show these; a row that was there stays, and with it the keyboard."""
        self.question.hide()
        if [(row.line.socket_id, position) for position, row in self.rows.items()] != [
            (line.socket_id, line.position) for line in lines
        ]:
            self._build(lines, currency)
        for line in lines:
            self.rows[line.position].show_line(line)

    def _go_on(self, socket_id: int) -> None:
        """Give the keyboard to the next socket that has no answer, unless there is a question first."""
        rows = list(self.rows.values())
        at = next(i for i, row in enumerate(rows) if row.line.socket_id == socket_id)
        waiting = (row.choice for row in rows[at + 1 :] if row.line.asked and row.line.answer is None)
        if self.question.isHidden() and (choice := next(waiting, None)) is not None:
            choice.setFocus()

    def _build(self, lines: Sequence[DecisionLine], currency: str) -> None:
        self._column.removeWidget(self.question)
        clear(self._column)
        self.rows = {}
        for line in lines:
            if self.rows:
                self._column.addWidget(rule())
            row = AnswerRow(line, currency, self)
            row.chosen.connect(self.chosen)
            row.done.connect(self._go_on)
            self.rows[line.position] = row
            self._column.addWidget(row)
        if not lines:
            self._column.addWidget(label("This job has no sockets yet: type them first.", "soft", wrap=True))


def _proposal(line: DecisionLine) -> str:
    """What is proposed, and the very tube where one is on hand."""
    tube = line.tube
    if tube is None or line.fitted or line.empty or line.action is Action.KEEP:
        return proposal_text(line) + (", to order" if line.charged and tube is None else "")
    facts = (f"tag {tube.tag}" if tube.tag else "", f"bin {tube.bin}" if tube.bin else "", tube.reads)
    return ", ".join((proposal_text(line), *(fact for fact in facts if fact)))


def _price(line: DecisionLine, currency: str) -> str:
    if line.charged:
        return "no price" if line.price is None else format_money(line.price, currency)
    if line.asked and line.action is Action.UNDECIDED and line.price is not None:
        return f"({format_money(line.price, currency)})"
    return ""


def _show(shown: QLabel, text: str) -> None:
    shown.setText(text)
    shown.setVisible(bool(text))
