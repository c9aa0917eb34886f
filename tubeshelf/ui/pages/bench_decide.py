"""The decision in the detail: keep or replace and why, what the customer said, which spare goes in."""

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QLineEdit, QVBoxLayout, QWidget

from tubeshelf.domain.jobs import Action, Answer, Disposition
from tubeshelf.domain.judging import NOT_READ
from tubeshelf.services.views.bench import SocketView, SpareView
from tubeshelf.ui.pages.bench_rows import spare_words
from tubeshelf.ui.parts.buttons import Act, Link
from tubeshelf.ui.parts.flow import FlowLayout
from tubeshelf.ui.parts.form import Choice
from tubeshelf.ui.parts.sheet import clear, section
from tubeshelf.ui.parts.text import label, restyle

ACTION_KEYS = ((Action.KEEP, "F5"), (Action.REPLACE, "F6"), (Action.UNDECIDED, "F7"))
_ANSWERS: tuple[tuple[str, Answer | None], ...] = (
    ("not asked yet", None),
    *((str(answer), answer) for answer in Answer),
)
_MOST_SPARES = 4


class DecisionPart(QWidget):
    """Keep, replace or undecided; why; the customer's answer.

    ``said`` carries an Action (or None for "as proposed"), ``why`` the words, ``answered`` an Answer or None.
    """

    said = Signal(object)
    why = Signal(str)
    answered = Signal(object)

    def __init__(self) -> None:
        super().__init__()
        self._title = section("Decision")
        self._buttons = {action: Act(str(action).capitalize(), shown=key) for action, key in ACTION_KEYS}
        row = QHBoxLayout()
        row.setSpacing(6)
        for action, button in self._buttons.items():
            button.setCheckable(True)
            button.clicked.connect(lambda _=False, which=action: self.said.emit(which))
            row.addWidget(button)
        row.addStretch(1)
        self._back = Link("As proposed")
        self._back.clicked.connect(lambda: self.said.emit(None))
        self._reason = QLineEdit()
        self._reason.setPlaceholderText("why, for the papers")
        self._reason.returnPressed.connect(lambda: self.why.emit(self._reason.text()))
        self._answer = Choice(_ANSWERS, name="What the customer said")
        self._answer.activated.connect(self._tell_answer)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(6)
        column.addWidget(self._title)
        column.addLayout(row)
        self._asked = _labelled("C&ustomer", self._answer)
        below = QWidget()
        more = FlowLayout(below, gap=6)
        more.addWidget(self._asked)
        more.addWidget(self._back)
        self._asked_why = _labelled("&Why", self._reason)
        column.addWidget(self._asked_why)
        column.addWidget(below)

    def show_socket(self, socket: SocketView) -> None:
        """Show what holds for a socket and who says so."""
        by = "said at the bench" if socket.action_said else "proposed"
        self._title.setText(f"Decision: {socket.action}, {by}")
        for action, button in self._buttons.items():
            held = action is socket.action
            button.setChecked(held)
            restyle(button, "role", "page" if held and socket.action_said else "plain")
        if not self._reason.hasFocus():
            self._reason.setText(socket.action_why)
        self._answer.choose(socket.answer)
        self._asked.setVisible(socket.action is Action.REPLACE or socket.answer is not None)
        self._back.setVisible(socket.action_said)
        self._back.setText(f"As proposed: {socket.proposed}")
        self._asked_why.setVisible(socket.action_said or bool(socket.action_why))

    def _tell_answer(self) -> None:
        # Qt gives the words back, not the value that was put in.
        said = self._answer.currentData()
        self.answered.emit(Answer(said) if said else None)


class SparesPart(QWidget):
    """The spares that may go in, best first. Signals carry an item's id."""

    install = Signal(int)
    promise = Signal(int)
    release = Signal(int)
    take_out = Signal()
    leave_empty = Signal(bool)

    def __init__(self) -> None:
        super().__init__()
        self._title = section("Spares")
        self._rows = QVBoxLayout()
        self._rows.setSpacing(2)
        self._shown: object = None
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        column.addWidget(self._title)
        column.addLayout(self._rows)

    def show_spares(self, socket: SocketView, spares: Sequence[SpareView], count: int) -> None:
        """Show what was put in, or what could be: the first of these, of so many in all."""
        key = (
            socket.id,
            socket.fitted,
            socket.spare,
            socket.intended,
            socket.disposition,
            tuple(spares),
            count,
        )
        if key == self._shown:
            return
        self._shown = key
        clear(self._rows)
        if socket.fitted is not None:
            self._title.setText("Put in by this job")
            self._row(_described(socket.fitted, socket), "", ("Take out", self.take_out.emit))
            return
        named = socket.spare.item_id if socket.spare is not None else None
        if socket.spare is not None and all(spare.item_id != named for spare in spares):
            spares = [socket.spare, *spares]
        spares = sorted(spares, key=lambda spare: spare.item_id != named)  # F9 takes the one in the line
        self._title.setText(f"Spares for {socket.position}, best first" if spares else "Spares")
        if not spares:
            self._rows.addWidget(
                label(f"No spare on the shelf serves for {socket.intended}.", "soft", wrap=True)
            )
        for at, spare in enumerate(spares[:_MOST_SPARES]):
            self._spare(spare, socket, first=at == 0)
        if count > _MOST_SPARES:
            self._rows.addWidget(label(f"{count - _MOST_SPARES:,} more on the Shelf page", "small"))
        empty = socket.disposition is Disposition.EMPTY_ON_PURPOSE
        words = "It is left empty on purpose: open again" if empty else "Leave it empty on purpose"
        leave = Link(words)
        leave.clicked.connect(lambda: self.leave_empty.emit(not empty))
        self._rows.addWidget(leave, 0, Qt.AlignmentFlag.AlignLeft)

    def _spare(self, spare: SpareView, socket: SocketView, *, first: bool) -> None:
        keep = ("Release", lambda: self.release.emit(spare.item_id))
        if not spare.here:
            keep = ("Promise", lambda: self.promise.emit(spare.item_id))
        install = ("Install F9" if first else "Install", lambda: self.install.emit(spare.item_id))
        self._row(_described(spare, socket), "; ".join(spare.conditions), install, keep)

    def _row(self, words: str, below: str, *acts: tuple[str, object]) -> None:
        row = QWidget()
        line = QHBoxLayout(row)
        line.setContentsMargins(0, 0, 0, 0)
        line.setSpacing(2)
        line.addWidget(label(words, wrap=True), 1)
        for text, act in acts:
            link = Link(text)
            link.setAccessibleName(f"{text}: {words}")
            link.clicked.connect(act)
            line.addWidget(link)
        self._rows.addWidget(row)
        if below:
            self._rows.addWidget(label(below, "small", wrap=True))


def _described(spare: SpareView, socket: SocketView) -> str:
    parts = [
        spare_words(spare, socket.intended),
        _told(spare),
        spare.condition,
        "premium" if spare.premium else "",
    ]
    return " · ".join(part for part in parts if part)


def _told(spare: SpareView) -> str:
    """The verdict behind what a spare reads."""
    if not spare.reads:
        return ""
    return "read in part" if spare.verdict == NOT_READ else spare.verdict


def _labelled(words: str, field: QWidget) -> QWidget:
    both = QWidget()
    row = QHBoxLayout(both)
    row.setContentsMargins(0, 0, 0, 0)
    row.setSpacing(8)
    name = QLabel(words)
    name.setBuddy(field)
    row.addWidget(name)
    row.addWidget(field, 1)
    field.setAccessibleName(words.replace("&", ""))
    return both
