"""The incoming test of a spare: a field for each setting line, each reading kept as it is entered."""

from PySide6.QtWidgets import QHBoxLayout, QLabel, QLineEdit, QVBoxLayout, QWidget

from tubeshelf.domain.errors import UserError
from tubeshelf.domain.judging import Limit, Mark, Scale
from tubeshelf.domain.verdict_words import doubt_text, line_text
from tubeshelf.services.recording import ReadingTaken
from tubeshelf.services.shelf_reading import observe_spare, read_spare
from tubeshelf.services.shop import Shop
from tubeshelf.services.spare_lines import spare_lines
from tubeshelf.services.views.bench import LineView
from tubeshelf.services.views.shelf import ItemView
from tubeshelf.ui.marks import MarkLabel, verdict_look
from tubeshelf.ui.pages.shelf_forms import ItemForm
from tubeshelf.ui.pages.shelf_words import called
from tubeshelf.ui.parts.form import Choice, Form, Tick
from tubeshelf.ui.parts.scale import ScaleView
from tubeshelf.ui.parts.sheet import clear
from tubeshelf.ui.parts.text import label, restyle

_NO_TESTER = "Add a tester on the Testers page first: a reading belongs to the tester it was taken on."
_NO_LOT = "Tag a tube of this lot first: a reading belongs to one tube."
_CAUTION = "Short test before the quality test; hot glass and live top caps, on the tester as well."
_FAULTS = [("nothing else", None), *((str(mark), mark) for mark in Mark)]


class LineEntry(QWidget):
    """One setting line: what to dial in, the field, and below it the verdict, a question or a refusal."""

    def __init__(self, line: LineView) -> None:
        super().__init__()
        self.show_line(line)
        self.asked_about: str | None = None
        name = QLabel(line.label.capitalize() or "Reading")
        self.field = QLineEdit()
        self.field.setProperty("role", "reading")
        self.field.setMaximumWidth(130)
        self.field.setAccessibleName(name.text())
        self.field.textEdited.connect(lambda: self.say(""))
        name.setBuddy(self.field)
        self._mark = MarkLabel()
        self.below = label("", "small", wrap=True)
        row = QHBoxLayout()
        row.addWidget(name)
        row.addStretch(1)
        row.addWidget(self._mark)
        row.addWidget(self.field)
        row.addWidget(label(line.tester.scale.unit, "soft"))
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 2, 0, 2)
        column.setSpacing(2)
        column.addLayout(row)
        dial = " · ".join(f"{name} {value}" for name, value in line.dial if value)
        for words in (dial, limit_words(line.limit, line.tester.scale)):
            if words:
                column.addWidget(label(words, "small", wrap=True))
        column.addWidget(self.below)
        self.say("")

    def show_line(self, line: LineView) -> None:
        """The same line, as it is written down now."""
        self.line = line

    def say(self, words: str, tone: str = "") -> None:
        """A question (tone accent), a refusal (reject), a verdict, or nothing."""
        self.asked_about = self.field.text() if tone == "accent" else None
        restyle(self.below, "tone", tone)
        self.below.setText(words)
        self.below.setVisible(bool(words))
        self.field.setAccessibleDescription(words)

    def taken(self, reading: ReadingTaken) -> None:
        """Show how it was judged."""
        verdict = reading.verdict
        if verdict is not None:
            self.say(line_text(verdict, self.line.tester.scale.words))
            self._mark.show_look(verdict_look(str(verdict.zone), doubt_text(verdict)))


class ReadForm(ItemForm):
    """Enter keeps a reading and goes on to the next line; after the last one the form is done."""

    alone = True

    def __init__(self, shop: Shop) -> None:
        super().__init__(shop, "Keep")
        self.tester = self.choice("Teste&r")
        self.tester.activated.connect(lambda: self._show_lines(self.tester.currentData()))
        self.entries: list[LineEntry] = []
        self._lines = QVBoxLayout()
        self.besides = Form()
        self.mark = Choice(_FAULTS)
        self.fault = Tick("It is a &fault")
        self.besides.row("See&n besides", self.mark)
        self.besides.row("", self.fault)
        self.mark.currentIndexChanged.connect(self._show_fault)
        at = self.column.indexOf(self.trouble)
        self.column.insertLayout(at, self._lines)
        self.column.insertWidget(at + 1, self.besides)
        self.column.insertWidget(1, label(_CAUTION, "small", wrap=True))

    def open_for(self, item: ItemView) -> None:
        """Ask for a reading a line, on the tester that has lines for the type."""
        super().open_for(item)
        self.mark.choose(None)
        self.fault.setChecked(True)
        self.besides.clear()
        self._show_fault()
        self._show_lines(None)

    def save(self) -> None:
        """Keep the reading in the field that has the focus (or the mark chosen) and go on."""
        entry = next((e for e in self.entries if e.field.hasFocus()), None)
        if entry is not None and entry.field.text().strip():
            if self._take(entry):
                self._go_on(entry)
        elif entry is not None and entry is not self.entries[-1]:
            self._go_on(entry)
        elif self.mark.currentData() is None or self._note_mark():
            self.left.emit()

    def _go_on(self, entry: LineEntry) -> None:
        at = self.entries.index(entry)
        if at + 1 < len(self.entries):
            self.entries[at + 1].field.setFocus()
        elif self.mark.currentData() is None or self._note_mark():
            self.left.emit()

    def _take(self, entry: LineEntry) -> bool:
        typed = entry.field.text()
        try:
            reading, changes = read_spare(
                self.shop,
                item_id=self.item.id,
                line_id=entry.line.line_id,
                tester_id=entry.line.tester.id,
                section=entry.line.section,
                text=typed,
                confirmed=entry.asked_about == typed,
            )
        except UserError as error:
            entry.say(error.sentence, "reject")
            return False
        if changes is None:
            question = "" if reading.slip is None else reading.slip.question
            entry.say(f"{question} Enter keeps it.", "accent")
            return False
        entry.taken(reading)
        self._know_lines_again()
        self.wrote.emit(changes)
        return True

    def _note_mark(self) -> bool:
        mark = Mark(self.mark.currentData())  # Qt hands it back as plain text
        fault = self.fault.isChecked()
        try:
            _, changes = observe_spare(self.shop, item_id=self.item.id, mark=mark, is_fault=fault)
        except UserError as error:
            self.besides.complain(self.mark, error.sentence)
            return False
        self.mark.choose(None)
        self.wrote.emit(changes)
        return True

    def _show_fault(self) -> None:
        self.besides.show_row(self.fault, self.mark.currentData() is not None)

    def _show_lines(self, tester_id: int | None) -> None:
        read = spare_lines(self.shop, item_id=self.item.id, tester_id=tester_id)
        self.tester.offer([(tester.name, tester.id) for tester in read.testers])
        self.tester.choose(None if read.tester is None else read.tester.id)
        clear(self._lines)
        self.entries = [] if self.item.lot else [LineEntry(line) for line in read.lines]
        before: QWidget = self.tester
        for entry in self.entries:
            self._lines.addWidget(entry)
            QWidget.setTabOrder(before, entry.field)
            before = entry.field
        QWidget.setTabOrder(before, self.mark)
        self.begin(f"Read {called(self.item)}", self.entries[0].field if self.entries else self.tester)
        if read.tester is None or self.item.lot:
            self.form.complain(self.tester, _NO_LOT if self.item.lot else _NO_TESTER)

    def _know_lines_again(self) -> None:
        """A line that came into being with its first reading has an id now."""
        read = spare_lines(self.shop, item_id=self.item.id, tester_id=self.tester.currentData())
        for entry, line in zip(self.entries, read.lines, strict=False):
            entry.show_line(line)


def limit_words(limit: Limit | None, scale: Scale) -> str:
    """A limit as it is told below a field: ``reject below 960, good from 1,200``."""
    if limit is None:
        return "no limit: the reading is kept and not judged"
    view = ScaleView(good_from=limit.good_from, reject_below=limit.reject_below, words=scale.words)
    return view.caption() + (" (shop default)" if limit.derived else "")
