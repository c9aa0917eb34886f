"""The data sheet of a type, on one screen: base, heater, bogey, ratings, what may serve, limits, readings."""

from collections.abc import Mapping

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from tubeshelf.domain.cautions import DEFERENCE, cautions
from tubeshelf.domain.types import Substitute, TubeType
from tubeshelf.services.type_fields import TypeFields
from tubeshelf.services.views.types import TesterDetail, TypeDetail
from tubeshelf.ui import tokens
from tubeshelf.ui.pages.types_limits import LimitsPart, ReadingsPart
from tubeshelf.ui.pages.types_words import (
    bogey_lines,
    field_words,
    heater_words,
    rating_words,
    substitute_words,
)
from tubeshelf.ui.parts.banner import Glyph
from tubeshelf.ui.parts.base import BasePicture
from tubeshelf.ui.parts.buttons import Act, Link
from tubeshelf.ui.parts.facts import Facts
from tubeshelf.ui.parts.flow import FlowLayout
from tubeshelf.ui.parts.pins import base_view
from tubeshelf.ui.parts.sheet import Sheet, clear, section
from tubeshelf.ui.parts.text import label

ACTS = {
    "edit": ("Edit", "E"),
    "copy": ("Copy", "Ctrl+D"),
    "may_go": ("What may go here", "W"),
    "substitute": ("Accept one", "S"),
    "limit": ("Add a limit", "L"),
    "par": ("Par", "A"),
    "picture": ("Picture", "F7"),
    "retire": ("Retire", "Del"),
}
"""What can be done with the type in hand: words and key, which works while the list has the focus."""


class TypeSheet(Sheet):
    """``asked`` carries the name of one of ``ACTS``; ``line_wanted`` a setting line to change,
    ``drop_wanted`` a substitute entry of the shop's own, ``type_wanted`` the name of another type."""

    asked = Signal(str)
    line_wanted = Signal(object)
    drop_wanted = Signal(object)
    type_wanted = Signal(str)

    def __init__(self) -> None:
        super().__init__("–", scrolls=True)
        self.what = label("", "soft", wrap=True)
        self.forms = QVBoxLayout()
        self.cautions = CautionsPart()
        self.facts = Facts(4)
        self.base = BasePicture()
        self._basing = section("")
        self._numbers = QVBoxLayout()
        self._acts: dict[str, Act] = {}
        self.serves = ServesPart(self._headed("May serve for it", "may_go"))
        self.served = ServesPart(self._headed("It may serve for", "substitute"))
        self.limits, self.readings = LimitsPart(), ReadingsPart()
        self.source = label("", "small", wrap=True)
        self.own = label("", "small", tone="accent", wrap=True)
        self._compose()

    def show_type(self, detail: TypeDetail, fields: TypeFields, testers: Mapping[str, TesterDetail]) -> None:
        """Show a type as the shop has it."""
        tube = detail.tube
        self.set_title(tube.designation)
        also = f"also {', '.join(tube.equivalents)}" if tube.equivalents else ""
        retired = "retired" if tube.retired else ""
        self.what.setText(" · ".join(part for part in (tube.function, tube.base, also, retired) if part))
        self.cautions.show_cautions(cautions(tube))
        par = "–" if detail.par is None else f"{detail.par:,}"
        numbers = (("on hand", detail.on_hand), ("free", detail.free))
        last = ("cut-off", tube.cutoff) if tube.cutoff else ("envelope", tube.envelope)
        self.facts.show_facts([*((name, f"{n:,}") for name, n in numbers), ("par", par), last])
        code = f", {tube.basing.code}" if tube.basing.code else ""
        self._basing.setText(f"Base from below{code}")
        self.base.show_view(base_view(tube.basing) if tube.basing.pins else None)
        self._show_numbers(detail, fields)
        self.serves.show_entries([(entry.found, entry) for entry in detail.substitutes])
        self.served.show_entries([(entry.intended, entry) for entry in detail.serves_for])
        self.limits.show_lines(detail.lines, testers)
        self.readings.show_readings(detail.distributions, testers)
        self.source.setText(_source_words(tube))
        self.own.setText(_own_words(detail))
        self.own.setVisible(bool(self.own.text()))
        self._acts["picture"].setEnabled(bool(detail.distributions))
        self._acts["retire"].setText("Bring back" if tube.retired else "Retire")
        self._acts["retire"].updateGeometry()

    def _show_numbers(self, detail: TypeDetail, fields: TypeFields) -> None:
        clear(self._numbers)
        tube = detail.tube
        self._numbers.addWidget(section("Heater"))
        heaters = [heater_words(heater) for heater in tube.heaters] or [str(tube.heating)]
        for words in heaters:
            self._numbers.addWidget(label(words, wrap=True))
        lines = bogey_lines(tube, fields.own_figures())
        if lines:
            self._numbers.addSpacing(6)
            known = any(values for _, values, _ in lines)
            self._numbers.addWidget(section("Bogey values" if known else "Sections"))
        for name, values, held in lines:
            self._numbers.addWidget(label(f"{name}: {values}" if values else name, wrap=True))
            if held:
                self._numbers.addWidget(label(held, "small", wrap=True))
        ratings = rating_words(tube.ratings)
        if ratings:
            system = f" ({tube.ratings.system})" if tube.ratings.system else ""
            self._numbers.addSpacing(6)
            self._numbers.addWidget(section(f"Ratings{system}"))
            self._numbers.addWidget(label(ratings, wrap=True))
        self._numbers.addStretch(1)

    def _compose(self) -> None:
        self._numbers.setSpacing(3)
        left = QVBoxLayout()
        left.addWidget(self._basing)
        left.addWidget(self.base)
        left.addStretch(1)
        for part in (self.what, self.cautions, self.facts):
            self.body.addWidget(part)
        self.body.insertLayout(2, self.forms)
        self.body.addLayout(_abreast(left, self._numbers))
        both = QHBoxLayout()
        both.setSpacing(tokens.MARGIN)
        for serves in (self.serves, self.served):
            both.addWidget(serves, 1, Qt.AlignmentFlag.AlignTop)
            serves.drop_wanted.connect(self.drop_wanted)
            serves.type_wanted.connect(self.type_wanted)
        self.body.addLayout(both)
        self.body.addWidget(self._headed("Limits on each tester", "limit"))
        self.limits.line_wanted.connect(self.line_wanted)
        self.readings.top.addWidget(self._act("picture"))
        for widget in (self.limits, self.readings, self.source, self.own):
            self.body.addWidget(widget)
        self.body.addStretch(1)
        acts = QWidget()
        flow = FlowLayout(acts, gap=6)
        for name in ("edit", "copy", "par", "retire"):
            flow.addWidget(self._act(name))
        self.foot().addWidget(acts, 1)

    def _headed(self, words: str, name: str) -> QWidget:
        """The heading of a part with what can be done about it."""
        line = QWidget()
        row = QHBoxLayout(line)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(section(words), 1)
        row.addWidget(self._act(name))
        return line

    def _act(self, name: str) -> Act:
        words, key = ACTS[name]
        act = self._acts[name] = Act(words, shown=key.replace("+", " "))
        act.clicked.connect(lambda: self.asked.emit(name))
        return act


class CautionsPart(QWidget):
    """What to mind with a type, and who decides; nothing where there is nothing to mind."""

    def __init__(self) -> None:
        super().__init__()
        self._lines = label("", wrap=True)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(Glyph("warning", "weak", 24), 0, Qt.AlignmentFlag.AlignTop)
        row.addWidget(self._lines, 1)

    @property
    def text(self) -> str:
        """What it says."""
        return self._lines.text()

    def show_cautions(self, sentences: list[str]) -> None:
        """Show these."""
        self._lines.setText(" ".join((*sentences, DEFERENCE)) if sentences else "")
        self.setVisible(bool(sentences))


class ServesPart(QWidget):
    """Substitute entries in one direction, each with its conditions; the shop's own can be dropped."""

    drop_wanted = Signal(object)
    type_wanted = Signal(str)

    def __init__(self, title: QWidget) -> None:
        super().__init__()
        self._rows = QVBoxLayout()
        self._rows.setSpacing(0)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        title.setMinimumHeight(32)
        column.addWidget(title)
        column.addLayout(self._rows)

    def show_entries(self, entries: list[tuple[str, Substitute]]) -> None:
        """Show entries by the name of the other type."""
        clear(self._rows)
        for name, entry in entries:
            self._rows.addWidget(self._row(name, entry))
        if not entries:
            self._rows.addWidget(label("none listed", "small"))

    def _row(self, name: str, entry: Substitute) -> QWidget:
        line = QWidget()
        row = QHBoxLayout(line)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(4)
        go = Link(name)
        go.clicked.connect(lambda: self.type_wanted.emit(name))
        own = entry.origin == "shop"
        words = substitute_words(entry) + (" (own)" if own else "")
        row.addWidget(go, 0, Qt.AlignmentFlag.AlignTop)
        said = label(words, "small", wrap=True)
        said.setMinimumHeight(24)
        said.setAlignment(Qt.AlignmentFlag.AlignVCenter)
        row.addWidget(said, 1, Qt.AlignmentFlag.AlignTop)
        if own:
            drop = Link("Drop")
            drop.setAccessibleName(f"Drop {name}")
            drop.clicked.connect(lambda: self.drop_wanted.emit(entry))
            row.addWidget(drop, 0, Qt.AlignmentFlag.AlignTop)
        return line


def _abreast(left: QVBoxLayout, right: QVBoxLayout) -> QHBoxLayout:
    row = QHBoxLayout()
    row.setSpacing(tokens.MARGIN)
    row.addLayout(left, 5)
    row.addLayout(right, 6)
    return row


def _source_words(tube: TubeType) -> str:
    told = (
        f"Source: {tube.source}." if tube.source else "",
        f"Confidence {tube.confidence}." if tube.confidence else "",
        tube.note,
    )
    return " ".join(part for part in told if part)


def _own_words(detail: TypeDetail) -> str:
    if detail.tube.origin == "shop":
        return "A type of your own."
    own = [name for name in detail.shop_fields if name != "retired"]
    return f"Your own: {field_words(own)}." if own else ""
