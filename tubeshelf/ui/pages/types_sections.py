"""The sections of a type in its form: a card each, every figure over the shipped one."""

import json
from collections.abc import Mapping, Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QFrame, QGridLayout, QHBoxLayout, QLabel, QVBoxLayout, QWidget

from tubeshelf.domain.numbers import plain_number
from tubeshelf.services.section_figures import FIGURES
from tubeshelf.ui.parts.buttons import Act, IconButton
from tubeshelf.ui.parts.form import Tick
from tubeshelf.ui.parts.named import TextField
from tubeshelf.ui.parts.sheet import section

_ACROSS = 4

Facts = Mapping[str, object]


class SectionCard(QFrame):
    """One section. ``dropped`` when it is not wanted any more."""

    dropped = Signal()

    def __init__(self, facts: Facts, usual: Facts) -> None:
        super().__init__()
        self.setProperty("role", "box")
        self.name, self.function = TextField("1"), TextField("such as triode")
        self.name.setMaximumWidth(64)
        self.readable = Tick("Read by itself")
        self.figures = {name: TextField() for name, _, _ in FIGURES}
        self.name.setText(str(facts.get("name", "")))
        self.function.say(str(facts.get("function", "")), str(usual.get("function", "")))
        self.readable.setChecked(facts.get("readable", True) is not False)
        for name, field in self.figures.items():
            field.say(_text(facts.get(name)), _text(usual.get(name)))
        self._compose()

    def facts(self) -> dict[str, object]:
        """The section as it is typed."""
        return {
            "name": self.name.text().strip(),
            "function": self.function.said(),
            "readable": self.readable.isChecked(),
            **{name: field.said() for name, field in self.figures.items()},
        }

    def _compose(self) -> None:
        drop = IconButton("trash", "Remove this section")
        drop.clicked.connect(self.dropped)
        top = QHBoxLayout()
        for words, field in (("Section", self.name), ("is a", self.function)):
            before = QLabel(words)
            before.setBuddy(field)
            field.setAccessibleName("Name of the section" if field is self.name else "What the section is")
            top.addWidget(before)
            top.addWidget(field, 1 if field is self.function else 0)
        top.addWidget(self.readable)
        top.addWidget(drop)
        grid = QGridLayout()
        grid.setHorizontalSpacing(10)
        grid.setVerticalSpacing(2)
        for at, (name, words, unit) in enumerate(FIGURES):
            field, row, column = self.figures[name], at // _ACROSS * 2, at % _ACROSS
            said = section(f"{words}, {unit}" if unit else words)
            said.setBuddy(field)
            field.setAccessibleName(f"Section {self.name.text()}, {said.text()}")
            grid.addWidget(said, row, column)
            grid.addWidget(field, row + 1, column)
            grid.setColumnStretch(column, 1)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(12, 8, 8, 10)
        whole.addLayout(top)
        whole.addLayout(grid)


class SectionsEditor(QWidget):
    """All sections of a type; reads and writes the text in which the service has them."""

    def __init__(self) -> None:
        super().__init__()
        self.cards: list[SectionCard] = []
        self._cards = QVBoxLayout()
        self.add = Act("Add a section", "Ctrl+Shift+N", icon="add")
        self.add.clicked.connect(self.begin)
        self.setFocusProxy(self.add)
        line = QHBoxLayout()
        line.addWidget(self.add)
        line.addStretch(1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addLayout(self._cards)
        column.addLayout(line)

    def say(self, text: str, usual: str = "") -> None:
        """Show the sections over the shipped ones of the same names."""
        for card in tuple(self.cards):
            self._drop(card)
        shipped = {facts.get("name"): facts for facts in _listed(usual)}
        for facts in _listed(text):
            self._show(facts, shipped.get(facts.get("name"), {}))

    def said(self) -> str:
        """The sections as they are typed."""
        return json.dumps([card.facts() for card in self.cards], ensure_ascii=False)

    def begin(self) -> None:
        """Begin another section, called by the next number."""
        card = self._show({"name": str(len(self.cards) + 1)}, {})
        (card.function if card.name.text() else card.name).setFocus()

    def _show(self, facts: Facts, usual: Facts) -> SectionCard:
        card = SectionCard(facts, usual)
        card.dropped.connect(lambda: self._drop(card))
        self.cards.append(card)
        self._cards.addWidget(card)
        self.setFocusProxy(self.cards[0].name)
        return card

    def _drop(self, card: SectionCard) -> None:
        self.cards.remove(card)
        self._cards.removeWidget(card)
        self.setFocusProxy(self.cards[0].name if self.cards else self.add)
        card.hide()
        card.deleteLater()


def _listed(text: str) -> Sequence[Facts]:
    found = json.loads(text) if text else []
    return [facts for facts in found if isinstance(facts, dict)]


def _text(value: object) -> str:
    return plain_number(value) if isinstance(value, int | float) else ""
