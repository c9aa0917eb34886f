"""Types of the shop's own from a file: what it would do is shown first, every problem by its line."""

from collections.abc import Sequence
from functools import partial
from pathlib import Path

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QPlainTextEdit, QWidget

from tubeshelf.domain.types import TubeType
from tubeshelf.services.changes import Changes
from tubeshelf.services.shop import Shop
from tubeshelf.services.types_import import COLUMNS, TypesPlan, import_types, plan_types
from tubeshelf.ui.parts.ask_file import ask_which
from tubeshelf.ui.parts.buttons import Act
from tubeshelf.ui.parts.entrysheet import EntrySheet
from tubeshelf.ui.parts.facts import Facts
from tubeshelf.ui.parts.sheet import section
from tubeshelf.ui.parts.text import label
from tubeshelf.ui.runner import Runner

_HOW = (
    "A CSV file with a column “designation”; any of the others may be missing, in any order. An empty cell "
    "leaves what holds now, a dash says that nothing is known. Another row with the same designation "
    "states another section."
)


class ImportSheet(EntrySheet):
    """Chooses a file, shows what it would do, and does it. ``saved`` carries the Changes, ``saved_id`` is
    then the id of the first type written."""

    saved = Signal(object)

    def __init__(self, shop: Shop, runner: Runner) -> None:
        super().__init__("Types from a file", "Import")
        self._shop, self._runner = shop, runner
        self._path: Path | None = None
        self._plan: TypesPlan | None = None
        self.saved_id: int | None = None
        self.choose = Act("Choose a file", "Ctrl+O", icon="search")
        self.again = Act("Read it again", "F5")
        self.choose.clicked.connect(self.ask)
        self.again.clicked.connect(self.read)
        self.facts = Facts(4)
        self.told = section("")
        self.lines = QPlainTextEdit()
        self.lines.setReadOnly(True)
        self.lines.setTabChangesFocus(True)
        self.lines.setMinimumHeight(150)
        self._compose()

    def open(self) -> None:
        """Begin without a file."""
        self._path = None
        self.notice.clear()
        self._show(None)
        self.choose.setFocus()

    def ask(self) -> None:
        """Ask for the file."""
        ask_which(self, "Types from a file", {"csv": "Table", "txt": "Text"}, self.take)

    def take(self, path: Path) -> None:
        """Read this file and show what it would do; nothing is written."""
        self._path = path
        self.read()

    def read(self) -> None:
        """Read the file as it is now."""
        if self._path is None:
            self.ask()
            return
        self.notice.clear()
        work = partial(plan_types, self._shop, path=self._path)
        self._runner.run("Reading types", lambda ticket: work(), self._show, self._refuse)

    def save(self) -> None:
        """Do what was shown, all of it or nothing."""
        plan = self._plan
        if plan is None:
            self.ask()
            return
        done: list[Changes] = []

        def write() -> None:
            ids, changes = import_types(self._shop, plan=plan)
            self.saved_id = ids[0]
            done.append(changes)

        if self.attempt(write):
            self.saved.emit(done[0])

    def _refuse(self, sentence: str) -> None:
        self._show(None)
        self.notice.fail(sentence)

    def _show(self, plan: TypesPlan | None) -> None:
        self._plan = plan
        self.again.setVisible(self._path is not None)
        self.facts.setVisible(plan is not None)
        self.act.setEnabled(plan is not None and not plan.problems and bool(plan.new or plan.changed))
        if plan is None:
            self.told.setText("Columns that the file may have")
            self.lines.setPlainText(", ".join(COLUMNS))
            return
        counts = (("new", len(plan.new)), ("changed", len(plan.changed)), ("as they are", plan.unchanged))
        problems = len(plan.problems)
        self.facts.show_facts([*((name, f"{n:,}") for name, n in counts), ("problems", f"{problems:,}")])
        self.told.setText(_headline(plan))
        self.lines.setPlainText("\n".join(_lines(plan)))
        (self.again if problems else self.act).setFocus()

    def _compose(self) -> None:
        first = QWidget()
        row = QHBoxLayout(first)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(self.choose)
        row.addWidget(self.again)
        row.addStretch(1)
        for part in (label(_HOW, "soft", wrap=True), first, self.facts, self.told):
            self.body.addWidget(part)
        self.body.addWidget(self.lines, 1)
        self.lines.setAccessibleName("What the file would do")


def _headline(plan: TypesPlan) -> str:
    if plan.problems:
        return f"Nothing is imported from {plan.file} until these are mended"
    if not (plan.new or plan.changed):
        return f"{plan.file} says nothing that the table does not say already"
    return f"{plan.file} would bring in"


def _lines(plan: TypesPlan) -> list[str]:
    if plan.problems:
        return [f"Line {p.line}{f', {p.column}' if p.column else ''}: {p.sentence}" for p in plan.problems]
    return [*_of("new", plan.new, plan.new_bases), *_of("changed", plan.changed, plan.new_bases)]


def _of(word: str, tubes: Sequence[TubeType], new_bases: frozenset[str]) -> list[str]:
    return [
        f"{tube.designation}: {word}, {tube.function}, {tube.base}"
        f"{' (no type of the table has this base)' if tube.base in new_bases else ''}"
        for tube in tubes
    ]
