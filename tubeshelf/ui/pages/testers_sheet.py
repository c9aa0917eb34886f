"""The detail of a tester: its facts in words, and its setting lines as a table to type into."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QHBoxLayout, QStackedLayout, QWidget

from tubeshelf.services.setting_lines import setting_lines
from tubeshelf.services.shop import Shop
from tubeshelf.services.views.types import SettingLineView, TesterDetail
from tubeshelf.ui.pages.testers_lines import LineRow, LinesModel
from tubeshelf.ui.pages.testers_table import EntryTable
from tubeshelf.ui.pages.testers_words import (
    checked_words,
    passes_words,
    repeat_words,
    rule_words,
    scale_words,
)
from tubeshelf.ui.parts.buttons import Act
from tubeshelf.ui.parts.empty import Empty
from tubeshelf.ui.parts.sheet import Sheet
from tubeshelf.ui.parts.text import label, rule

NO_LINE = (
    "No setting line yet. A line is one test of a type on this tester: what to dial in, which section it "
    "reads, from which figure it is good and below which it is rejected."
)


class TesterSheet(Sheet):
    """``edit_wanted`` and ``retire_wanted`` concern the tester, ``wrote`` carries the Changes of a cell,
    ``line_retired`` the SettingLineView that is to go."""

    edit_wanted = Signal()
    retire_wanted = Signal()
    line_retired = Signal(object)
    wrote = Signal(object)

    def __init__(self, shop: Shop) -> None:
        super().__init__(flush=True)
        self._shop = shop
        self.model: LinesModel | None = None
        self.name = label("", "heading", wrap=True)
        self.facts = label("", "soft", wrap=True)
        self.table = EntryTable("Setting lines")
        self.hint = label("", "small", wrap=True)
        self.sentence = label("", "error", wrap=True)
        self.sentence.hide()
        self.edit = Act("Edit tester", shown="F2")
        self.retire = Act("Retire tester", "Ctrl+Del")
        self.add = Act("Add line", "Ctrl+L", icon="add", primary=True)
        self.drop = Act("Retire line", shown="Del")
        self.empty = Empty(NO_LINE, "Add line", icon="testers")
        self._compose()
        self._connect()

    def show_tester(self, tester: TesterDetail) -> None:
        """Show a tester with its lines; the cell in hand stays if it is the same tester."""
        retired = " (retired)" if tester.retired else ""
        self.name.setText(f"{tester.name}{retired}")
        self.facts.setText(_facts(tester))
        self.retire.setText("Bring back" if tester.retired else "Retire tester")
        self.retire.updateGeometry()
        same = self.model is not None and _shape(self.model.tester) == _shape(tester)
        if self.model is None or not same:
            self._new_model(tester)
        assert self.model is not None
        self.model.tester = tester
        self.model.show_lines(setting_lines(self._shop, tester_id=tester.id))
        self.say("")
        self._show_empty()
        if not self.table.currentIndex().isValid() and self.model.rows:
            self.table.setCurrentIndex(self.model.index(0, 1))

    def begin_line(self) -> None:
        """A new row, with the cursor where its type is typed."""
        if self.model is None:
            return
        at = self.model.begin_line()
        self._show_empty()
        self.table.setFocus()
        self.table.setCurrentIndex(at)
        self.table.edit(at)

    def retire_line(self) -> None:
        """Ask for the line in hand to go; one that was only begun goes at once."""
        row = self.table.in_hand()
        if isinstance(row, LineRow) and row.line is not None:
            self.line_retired.emit(row.line)
        else:
            self._leave_begun()

    def line_in_hand(self) -> SettingLineView | None:
        """The line of the row in hand."""
        row = self.table.in_hand()
        return row.line if isinstance(row, LineRow) else None

    def say(self, sentence: str) -> None:
        """Say under the table why a cell was not taken; nothing when all is well."""
        self.sentence.setText(sentence)
        self.sentence.setVisible(bool(sentence))
        self.hint.setVisible(not sentence)

    def _new_model(self, tester: TesterDetail) -> None:
        old, self.model = self.model, LinesModel(self._shop, tester, self)
        self.model.refused.connect(self.say)
        self.model.wrote.connect(self.wrote)
        self.table.set_rows_model(self.model, self.model.columns)
        if old is not None:
            old.deleteLater()
        unit = f"in {tester.scale.unit}" if tester.scale.unit else "as on its scale"
        words = f"by word: {', '.join(tester.scale.words)}" if tester.scale.words else unit
        self.hint.setText(f"Type in a cell, Enter keeps it and goes on. Limits {words}; empty: the rule.")

    def _leave_begun(self) -> None:
        if self.model is not None:
            self.model.drop_begun()
        self.say("")
        self._show_empty()
        self.table.setFocus()

    def _show_empty(self) -> None:
        has = self.model is not None and bool(self.model.rows)
        self._stack.setCurrentIndex(0 if has else 1)
        self.drop.setEnabled(has)

    def _compose(self) -> None:
        top = QWidget()
        row = QHBoxLayout(top)
        row.setContentsMargins(14, 12, 14, 10)
        row.addWidget(self.name, 1)
        for act in (self.edit, self.retire):
            row.addWidget(act)
        self.body.setSpacing(0)
        self.facts.setContentsMargins(14, 0, 14, 10)
        whole = QWidget()
        self._stack = QStackedLayout(whole)
        self._stack.addWidget(self.table)
        self._stack.addWidget(self.empty)
        for part in (top, self.facts, rule()):
            self.body.addWidget(part)
        self.body.addWidget(whole, 1)
        foot = self.foot()
        foot.addWidget(self.hint, 1)
        foot.addWidget(self.sentence, 1)
        foot.addWidget(self.drop)
        foot.addWidget(self.add)

    def _connect(self) -> None:
        self.edit.clicked.connect(self.edit_wanted)
        self.retire.clicked.connect(self.retire_wanted)
        self.add.clicked.connect(self.begin_line)
        self.empty.asked.connect(self.begin_line)
        self.drop.clicked.connect(self.retire_line)
        self.table.entry.left.connect(self._leave_begun)
        for key, act in (("Ins", self.begin_line), ("Del", self.retire_line)):
            shortcut = QShortcut(QKeySequence(key), self.table)
            shortcut.setContext(Qt.ShortcutContext.WidgetShortcut)
            shortcut.activated.connect(act)


def _shape(tester: TesterDetail) -> tuple[object, ...]:
    """What the columns depend on."""
    return tester.id, tester.field_names, tester.scale


def _facts(tester: TesterDetail) -> str:
    parts = (
        tester.method,
        scale_words(tester),
        f"repeats {repeat_words(tester)}",
        f"checked {checked_words(tester)}",
    )
    rule_ = f"Default rule: {rule_words(tester)}."
    passes = f"Lets pass {said}." if (said := passes_words(tester)) else ""
    return "\n".join(part for part in (" · ".join(parts), f"{rule_} {passes}".strip(), tester.note) if part)
