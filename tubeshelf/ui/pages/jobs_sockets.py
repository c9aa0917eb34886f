"""The complement as typed lines, checked while one types: each bad line named, near misses offered."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from tubeshelf.domain.complement import ComplementLine, format_complement, parse_complement
from tubeshelf.services.views.bench import JobView
from tubeshelf.ui.parts.banner import Glyph
from tubeshelf.ui.parts.buttons import Link
from tubeshelf.ui.parts.flow import FlowLayout
from tubeshelf.ui.parts.form import Lines
from tubeshelf.ui.parts.sheet import clear
from tubeshelf.ui.parts.text import label

if TYPE_CHECKING:
    from tubeshelf.services.typebook import TypeBook

_MOST_SHOWN = 5
_HINT = "V1 input 12AX7\nV2 output 6BQ5 =A\nV3 output 6BQ5 =A\nV4 rectifier 5Y3GT"


@dataclass(frozen=True, slots=True)
class Problem:
    """What is wrong with a line; ``near`` are types that may have been meant for ``line``'s."""

    sentence: str
    line: ComplementLine | None = None
    near: tuple[str, ...] = ()


def problems_of(book: "TypeBook", text: str) -> tuple[Problem, ...]:
    """Everything that is wrong with a typed complement."""
    complement = parse_complement(text)
    found = [Problem(error) for error in complement.errors]
    for line in complement.lines:
        if book.id_of(line.type_name) is None:
            near = book.catalog.near(line.type_name)
            more = "" if near else " Add it on the Types page first."
            sentence = f"{line.position}: {line.type_name} is not in the type table.{more}"
            found.append(Problem(sentence, line, near))
    return tuple(found)


def with_type(text: str, line: ComplementLine, name: str) -> str:
    """The text with the type of one line replaced; the rest stays as it was typed."""
    return "\n".join(
        name.join(typed.rsplit(line.type_name, 1)) if parse_complement(typed).lines == (line,) else typed
        for typed in text.split("\n")
    )


def complement_of(job: JobView) -> str:
    """The sockets of a job as lines that can be typed again. How heaters are fed is kept elsewhere."""
    return format_complement(
        tuple(
            ComplementLine(s.position, s.role, s.designed, None, s.match_group, s.written)
            for s in job.sockets
        )
    )


class SocketsBox(QWidget):
    """A box for the lines with the check below it. ``by_hand`` tells whether the user typed in it."""

    changed = Signal()

    def __init__(self, book: "TypeBook", lines: int = 9) -> None:
        super().__init__()
        self._book = book
        self.by_hand = False
        self._filling = False
        self.editor = Lines(lines, _HINT)
        self.editor.setAccessibleName("Sockets, one a line")
        self.setFocusProxy(self.editor)
        self._checks = QVBoxLayout()
        self._checks.setSpacing(2)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(6)
        column.addWidget(self.editor, 1)
        column.addLayout(self._checks)
        self.editor.textChanged.connect(self._edited)
        self._check()

    @property
    def text(self) -> str:
        """What is typed."""
        return self.editor.toPlainText()

    @property
    def problems(self) -> tuple[Problem, ...]:
        """What is wrong with it."""
        return problems_of(self._book, self.text)

    def fill(self, text: str) -> None:
        """Put in what the record knows."""
        self._filling = True
        self.editor.setPlainText(text)
        self._filling = False
        self.by_hand = False

    def _edited(self) -> None:
        self.by_hand = not self._filling and bool(self.text.strip())
        self._check()
        self.changed.emit()

    def _check(self) -> None:
        clear(self._checks)
        problems = self.problems
        if not problems:
            self._checks.addWidget(_line("check", "good", self._all_well()))
        for problem in problems[:_MOST_SHOWN]:
            self._checks.addWidget(self._complaint(problem))
        if len(problems) > _MOST_SHOWN:
            self._checks.addWidget(label(f"and {len(problems) - _MOST_SHOWN} more lines", "small"))

    def _all_well(self) -> str:
        count = len(parse_complement(self.text).lines)
        if not count:
            return "One socket a line: position, role, type. Behind it =A marks a matched group."
        return f"{count} {'socket' if count == 1 else 'sockets'}, every type is known"

    def _complaint(self, problem: Problem) -> QWidget:
        said = _line("warning", "reject", problem.sentence)
        line = problem.line
        if line is None or not problem.near:
            return said
        whole = QWidget()
        flow = FlowLayout(whole, gap=4)
        flow.addWidget(said)
        for name in problem.near:
            take = Link(name)
            take.setAccessibleName(f"{line.position}: take {name}")
            take.clicked.connect(lambda _=False, name=name: self._take(line, name))
            flow.addWidget(take)
        return whole

    def _take(self, line: ComplementLine, name: str) -> None:
        self.editor.setPlainText(with_type(self.text, line, name))
        self.editor.setFocus()


def _line(icon: str, tone: str, words: str) -> QWidget:
    line = QWidget()
    row = QHBoxLayout(line)
    row.setContentsMargins(0, 2, 0, 2)
    row.setSpacing(6)
    row.addWidget(Glyph(icon, tone, 16), 0, Qt.AlignmentFlag.AlignTop)
    row.addWidget(label(words, "error" if tone == "reject" else "small", wrap=True), 1)
    return line
