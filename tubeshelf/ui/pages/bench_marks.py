"""Marks: what the technician notes besides numbers, picked by one key, in place in the detail."""

from dataclasses import dataclass
from functools import partial

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QHideEvent, QKeyEvent
from PySide6.QtWidgets import QFrame, QGridLayout, QVBoxLayout, QWidget

from tubeshelf.domain.judging import Mark
from tubeshelf.ui.pages.bench_observed import MarkFacts, MarkPlace
from tubeshelf.ui.parts.buttons import Act
from tubeshelf.ui.parts.text import label, restyle
from tubeshelf.ui.signs import Signs, shown

EMPTY, UNREADABLE = "empty", "unreadable"
UNUSED, ALL_USED = "section not used", "all sections used"
_COLUMNS = 2


@dataclass(frozen=True, slots=True)
class Pick:
    """One choice of the panel: the key that picks it, what is picked, and its words."""

    key: str
    what: str
    words: str


def picks_for(place: MarkPlace, signs: Signs) -> tuple[Pick, ...]:
    """What may be noted at a place: a mark each, then what is about the socket and not about a tube."""
    digits = (mark for mark in Mark if mark is not Mark.LIFE_TEST)
    return (
        *(Pick(str(digit), mark, mark) for digit, mark in enumerate(digits, start=1)),
        Pick(signs.plus, Mark.LIFE_TEST, Mark.LIFE_TEST),
        Pick("0", EMPTY, EMPTY),
        Pick(".", UNREADABLE, UNREADABLE),
        *([Pick(signs.minus, UNUSED, f"section {place.section} not used")] if place.section else []),
        *([Pick(signs.slash, ALL_USED, ALL_USED)] if place.unused else []),
    )


class MarksPanel(QFrame):
    """The choices; a digit picks, arrows walk. A mark then asks for where and how much.

    ``noted`` carries a ``Noted``; ``found`` says empty or unreadable; ``unused`` carries whether the section
    in hand is not used, or all are; ``closed`` that it is done with; ``turned`` that other keys work.
    """

    noted = Signal(object)
    found = Signal(str)
    unused = Signal(bool)
    closed = Signal()
    turned = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.setProperty("role", "box")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.signs = Signs()
        self._at = 0
        self._place = MarkPlace("")
        self._picks: tuple[Pick, ...] = ()
        self._buttons: list[Act] = []
        self._title = label("", "strong", wrap=True)
        self._choices = QWidget()
        self._grid = QGridLayout(self._choices)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setSpacing(4)
        self._hint = label("A digit picks; arrows and Enter do as well; Esc closes.", "small", wrap=True)
        self.facts = MarkFacts()
        self.facts.noted.connect(self.noted)
        self.facts.left.connect(lambda: self.open_for(self._place))
        column = QVBoxLayout(self)
        column.setContentsMargins(12, 8, 12, 10)
        column.setSpacing(6)
        for part in (self._title, self._choices, self._hint, self.facts):
            column.addWidget(part)
        self.hide()

    @property
    def keys(self) -> tuple[tuple[str, str], ...]:
        """The keys that work while it is open; nothing while it is not."""
        if not self.isVisible():
            return ()
        if self.facts.isVisible():
            return (("Enter", "on, save"), (shown(self.signs.star), "fault or not"), ("Esc", "back"))
        return (("1 … 9", "note a mark"), ("Enter", "the one in hand"), ("↑ ↓", "others"), ("Esc", "close"))

    def open_for(self, place: MarkPlace) -> None:
        """Offer the choices for a socket."""
        self._place = place
        self._title.setText(f"What about {place.position}?")
        self._offer(picks_for(place, self.signs))
        self._choices.show()
        self._hint.show()
        self.facts.hide()
        self._walk_to(0)
        self.show()
        self.setFocus()
        self.turned.emit()

    def hideEvent(self, event: QHideEvent) -> None:
        """However it went, the keys of the bench are back."""
        super().hideEvent(event)
        self.turned.emit()

    def complain(self, sentence: str) -> None:
        """Say beside the value why it was not taken."""
        self.facts.complain(sentence)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Digits pick, arrows walk, Enter takes, Escape leaves."""
        rows = self._rows()
        steps = {Qt.Key.Key_Down: 1, Qt.Key.Key_Up: -1, Qt.Key.Key_Right: rows, Qt.Key.Key_Left: -rows}
        typed = "." if event.text() == "," else event.text() or self._sign(event)
        picked = next((n for n, pick in enumerate(self._picks) if typed and pick.key == typed), None)
        if event.key() == Qt.Key.Key_Escape:
            self.leave()
        elif picked is not None:
            self._pick(picked)
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._pick(self._at)
        elif event.key() in steps:
            self._walk_to((self._at + steps[Qt.Key(event.key())]) % len(self._picks))
        else:
            super().keyPressEvent(event)

    def leave(self) -> None:
        """Close without noting anything."""
        self.hide()
        self.closed.emit()

    def _sign(self, event: QKeyEvent) -> str:
        """The name of a key without a sign that was chosen for one of the five."""
        act = self.signs.act_of(event)
        return str(getattr(self.signs, act)) if act else ""

    def _rows(self) -> int:
        return -(-len(self._picks) // _COLUMNS)

    def _offer(self, picks: tuple[Pick, ...]) -> None:
        if picks == self._picks:
            return
        self._picks = picks
        for button in self._buttons:
            button.deleteLater()
        self._buttons = []
        for n, pick in enumerate(picks):
            button = Act(pick.words, shown=shown(pick.key))
            button.setParent(self._choices)
            button.setFocusPolicy(Qt.FocusPolicy.NoFocus)
            button.clicked.connect(partial(self._pick, n))
            self._grid.addWidget(button, n % self._rows(), n // self._rows())
            self._buttons.append(button)

    def _walk_to(self, at: int) -> None:
        self._at = at
        for n, button in enumerate(self._buttons):
            restyle(button, "role", "chip" if n == at else "plain")
        pick = self._picks[at]
        self.setAccessibleName(f"Marks for {self._place.position}: {pick.words}, key {pick.key}")

    def _pick(self, at: int, *_: object) -> None:
        what = self._picks[at].what
        if what in (EMPTY, UNREADABLE):
            self.found.emit(what)
        elif what in (UNUSED, ALL_USED):
            self.unused.emit(what == UNUSED)
        else:
            self._title.setText(f"{what.capitalize()} at {self._place.position}")
            self._choices.hide()
            self._hint.hide()
            self.facts.ask(Mark(what), self._place, self.signs)
            self.turned.emit()
