"""Sheets of named fields (a type, a tester, the settings): a refusal stands beside the field it is about."""

from collections.abc import Callable, Mapping, Sequence

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtWidgets import QHBoxLayout, QScrollArea, QVBoxLayout, QWidget

from tubeshelf.services.changes import Changes
from tubeshelf.services.field_errors import FieldErrors
from tubeshelf.ui import tokens
from tubeshelf.ui.parts.entrysheet import EntrySheet
from tubeshelf.ui.parts.named import NamedForm
from tubeshelf.ui.parts.sheet import section


class FieldSheet(EntrySheet):
    """``saved`` carries the Changes. A subclass makes its forms, fills them, and overrides ``save``."""

    saved = Signal(object)

    def __init__(self, title: str, act: str) -> None:
        super().__init__(title, act)
        self.forms: list[NamedForm] = []

    def add_form(self, heading: str = "") -> NamedForm:
        """A form below the others, under a heading."""
        if heading:
            self.body.addWidget(section(heading))
        form = NamedForm()
        self.forms.append(form)
        self.body.addWidget(form)
        return form

    def add_forms(self, headings: Sequence[str]) -> list[NamedForm]:
        """Forms side by side, each under its heading."""
        row = QHBoxLayout()
        row.setSpacing(tokens.MARGIN)
        made = []
        for heading in headings:
            column = QVBoxLayout()
            column.setAlignment(Qt.AlignmentFlag.AlignTop)
            if heading:
                column.addWidget(section(heading))
            form = NamedForm()
            column.addWidget(form)
            row.addLayout(column, 1)
            made.append(form)
        self.forms += made
        self.body.addLayout(row)
        return made

    def fill(self, texts: Mapping[str, str], usual: Mapping[str, str] | None = None) -> None:
        """Show these texts over the usual ones, without complaints."""
        self.notice.clear()
        for form in self.forms:
            form.fill(texts, usual or {})
        QTimer.singleShot(0, self.to_top)

    def texts(self) -> dict[str, str]:
        """What holds now in every field."""
        return {name: text for form in self.forms for name, text in form.texts().items()}

    def field(self, name: str) -> QWidget:
        """The field of a name."""
        return next(form.fields[name] for form in self.forms if name in form.fields)

    def keep(self, act: Callable[[], Changes]) -> Changes | None:
        """Do it, or say beside the fields what is wrong with them; what was typed stays."""
        done: list[Changes] = []
        for form in self.forms:
            form.clear()

        def guarded() -> None:
            try:
                done.append(act())
            except FieldErrors as errors:
                named = {name for form in self.forms for name in form.fields}
                if not named.intersection(errors.fields):
                    raise
                wrong = [name for name in named_in_order(self.forms) if name in errors.fields]
                self.complain({self.field(name): errors.fields[name] for name in wrong}, *self.forms)

        self.attempt(guarded)
        return done[0] if done else None

    def to_top(self) -> None:
        """Scroll back to where it begins."""
        if (area := self.findChild(QScrollArea)) is not None:
            area.verticalScrollBar().setValue(0)


def named_in_order(forms: Sequence[NamedForm]) -> list[str]:
    """The names of the fields as they stand, from the top."""
    return [name for form in forms for name in form.fields]
