"""The places of a comeback: what was left in each socket, what is found now, and whether it is the same."""

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from tubeshelf.domain.comeback import SameTube
from tubeshelf.services.views.comeback import ComebackView, PlaceView, StoodView
from tubeshelf.ui import tokens
from tubeshelf.ui.parts.keyed import KeyedChoice
from tubeshelf.ui.parts.sheet import clear
from tubeshelf.ui.parts.text import label, rule

_SAME = (
    ("not said", None),
    ("yes", SameTube.YES),
    ("no", SameTube.NO),
    ("can’t tell", SameTube.CANT_TELL),
)

_KEYS = {
    "y": SameTube.YES,
    "n": SameTube.NO,
    "c": SameTube.CANT_TELL,
    "+": SameTube.YES,
    "-": SameTube.NO,
    "*": SameTube.CANT_TELL,
}
"""A letter, or a sign of the number pad, for each answer."""

_STILL = "The record takes it for the tube left: say on the Bench, with F3, that it is another."

_ANSWER = 124
"""The width of the answers, in pixels: the longest of them fits, in a wide font too."""


class PlaceRow(QWidget):
    """One socket. ``answered`` carries its id and the answer; ``tag_read`` its id, the tag left, the text.

    ``done`` carries its id after a single key answered.
    """

    answered = Signal(int, object)
    done = Signal(int)
    tag_read = Signal(int, str, str)

    def __init__(self, place: PlaceView, parent: QWidget) -> None:
        super().__init__(parent)
        self.place = place
        self.same, self.tag = KeyedChoice(_SAME, _KEYS, name=f"Same tube in {place.position}"), QLineEdit()
        self.tag.setPlaceholderText("tag read")
        self.tag.setAccessibleName(f"Tag read in {place.position}")
        for field in (self.same, self.tag):
            field.setFixedWidth(_ANSWER)
        self.same.activated.connect(self._answer)
        self.same.typed.connect(lambda: self.done.emit(self.place.socket_id))
        self.tag.returnPressed.connect(self._read)
        self._left, self._now = label("", wrap=True), label("", wrap=True)
        self._said = label("", "small", wrap=True)
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(tokens.GAP)
        grid.setVerticalSpacing(4)
        for column in (0, 1):
            grid.setColumnStretch(column, 1)
        top = Qt.AlignmentFlag.AlignTop
        grid.addWidget(label(f"{place.position} {place.role}".strip(), "strong", wrap=True), 0, 0, 1, 2)
        grid.addWidget(self._left, 1, 0, 2, 1, top)
        grid.addWidget(self._now, 1, 1, 2, 1, top)
        grid.addWidget(self.same, 1, 2, top)
        grid.addWidget(self.tag, 2, 2, top)
        grid.addWidget(self._said, 3, 0, 1, 3)

    def show_place(self, place: PlaceView, *, alone: bool) -> None:
        """The socket as it is now."""
        self.place = place
        self._left.setText(_stood(place.left, "nothing was left here"))
        self._now.setText("" if alone else _stood(place.now, "not looked yet"))
        self._now.setVisible(not alone)
        asked = not alone and place.left is not None
        self.same.setVisible(asked)
        self.tag.setVisible(asked and place.left is not None and bool(place.left.tag))
        self.same.choose(place.answer)
        said = place.note
        if place.answer is SameTube.NO and place.taken_for_it:
            said = f"{said}. {_STILL}".lstrip(". ")
        if place.answer is None and place.proposed is not None:
            said = f"proposed: {place.proposed}, {place.why}"
        self._said.setText(said)
        self._said.setVisible(bool(said) and asked)

    @property
    def entry(self) -> QWidget | None:
        """Where the keyboard answers for this socket; ``None`` if it is not asked about or answered."""
        if self.same.isHidden() or self.place.answer is not None:
            return None
        return self.same if self.tag.isHidden() else self.tag

    def _answer(self) -> None:
        said = self.same.currentData()
        self.answered.emit(self.place.socket_id, None if said is None else SameTube(said))

    def _read(self) -> None:
        left, text = self.place.left, self.tag.text().strip()
        if left is not None and text:
            self.tag.clear()
            self.tag_read.emit(self.place.socket_id, left.tag, text)


class PlaceRows(QWidget):
    """All rows under their headings; the signals are those of a row."""

    answered = Signal(int, object)
    tag_read = Signal(int, str, str)
    done = Signal(int)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.rows: dict[str, PlaceRow] = {}
        self._then, self._since = label("", "small"), label("found now", "small")
        heads = QHBoxLayout()
        heads.setSpacing(tokens.GAP)
        self._same = label("same tube?", "small")
        for widget in (self._then, self._since):
            heads.addWidget(widget, 1)
        self._same.setFixedWidth(_ANSWER)
        heads.addWidget(self._same)
        self._column = QVBoxLayout()
        self._column.setSpacing(8)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addLayout(heads)
        whole.addLayout(self._column)

    def show_places(self, view: ComebackView) -> None:
        """Show these; a row that was there stays, and with it the keyboard."""
        if [row.place.socket_id for row in self.rows.values()] != [p.socket_id for p in view.places]:
            self._build(view.places)
        self._then.setText(f"left by job {view.earlier.number}")
        for widget in (self._since, self._same):
            widget.setVisible(not view.alone)
        for place in view.places:
            self.rows[place.position].show_place(place, alone=view.alone)

    def begin(self, otherwise: QWidget) -> None:
        """Give the keyboard to the first socket that is not answered."""
        (self._next_entry(list(self.rows.values())) or otherwise).setFocus()

    def go_on(self, socket_id: int, otherwise: QWidget) -> None:
        """Give it to the next one after a socket."""
        rows = list(self.rows.values())
        at = next(i for i, row in enumerate(rows) if row.place.socket_id == socket_id)
        (self._next_entry(rows[at + 1 :]) or otherwise).setFocus()

    def _next_entry(self, rows: Sequence[PlaceRow]) -> QWidget | None:
        return next((row.entry for row in rows if row.entry is not None), None)

    def _build(self, places: Sequence[PlaceView]) -> None:
        clear(self._column)
        self.rows = {}
        for place in places:
            if self.rows:
                self._column.addWidget(rule())
            row = PlaceRow(place, self)
            row.answered.connect(self.answered)
            row.done.connect(self.done)
            row.tag_read.connect(self.tag_read)
            self.rows[place.position] = row
            self._column.addWidget(row)


def _stood(stood: StoodView | None, nothing: str) -> str:
    """What stood in a place, in a few lines."""
    if stood is None:
        return nothing
    name = " ".join(part for part in (stood.name, stood.tag and f"tag {stood.tag}") if part)
    first = ", ".join(part for part in (name, stood.how) if part)
    return "\n".join(part for part in (first, stood.reads, stood.verdict) if part)
