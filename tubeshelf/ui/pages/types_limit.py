"""One setting line of a type on a tester: what to dial in, which section it reads, its limit."""

from collections.abc import Mapping

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from tubeshelf.domain.judging import Scale
from tubeshelf.services.changes import Changes
from tubeshelf.services.field_errors import FieldErrors
from tubeshelf.services.limit_form import limit_fields, read_limit
from tubeshelf.services.setting_lines import retire_line, save_line
from tubeshelf.services.shop import Shop
from tubeshelf.services.testers import list_testers
from tubeshelf.services.views.types import SettingLineView, TesterDetail
from tubeshelf.ui import tokens
from tubeshelf.ui.parts.actform import ActForm, Refused
from tubeshelf.ui.parts.buttons import Act
from tubeshelf.ui.parts.form import Form
from tubeshelf.ui.parts.sheet import clear, section

NO_TESTER = "The shop has no tester yet: add one on the Testers page first."


class LimitForm(ActForm):
    """Adds or changes a setting line; fields to dial in are those of the tester chosen."""

    def __init__(self, shop: Shop) -> None:
        super().__init__("Save")
        self._shop = shop
        self._type_id = 0
        self._line: SettingLineView | None = None
        self._testers: dict[int, TesterDetail] = {}
        self.tester = self.choice("Tester")
        self.section = self.choice("Secti&on")
        self.label = self.line("&Label", "such as triode 1")
        self.bogey = self.line("Bo&gey")
        self.good_from = self.line("Good &from")
        self.reject_below = self.line("&Reject below")
        self.above = self.line("Remark &above")
        self.source = self.line("So&urce", "who says so")
        self.dialled: dict[str, QLineEdit] = {}
        self._dials = QVBoxLayout()
        self._dials.setAlignment(Qt.AlignmentFlag.AlignTop)
        self.column.removeWidget(self.form)
        both = QHBoxLayout()
        both.setSpacing(tokens.MARGIN)
        both.addWidget(self.form, 1, Qt.AlignmentFlag.AlignTop)
        both.addLayout(self._dials, 1)
        self.column.insertLayout(1, both)
        self.retire = Act("Retire this line")
        self.retire.clicked.connect(self._retire)
        self.buttons.insertWidget(0, self.retire)
        self.tester.currentIndexChanged.connect(lambda: self._show_dial({}))

    def open_for(self, type_id: int, line: SettingLineView | None = None) -> None:
        """Ask about a line, or a new one of a type."""
        self._type_id, self._line = type_id, line
        self._testers = {t.id: t for t in list_testers(self._shop, retired=line is not None)}
        self.tester.offer([(t.name, t.id) for t in self._testers.values()])
        tube = self._shop.book.type(type_id)
        sections = () if tube is None else tube.sections
        self.section.offer([("the whole tube", ""), *((f"{s.name}, {s.function}", s.name) for s in sections)])
        self.form.show_row(self.tester, line is None)
        self.retire.setVisible(line is not None)
        self.section.choose("" if line is None else line.section)
        self.label.setText("" if line is None else line.label)
        if line is not None:
            self.tester.choose(line.tester_id)
        tester = self._testers.get(self.tester.currentData())
        if tester is not None:
            texts = limit_fields(None if line is None else line.limit, tester.scale)
            for name, field in self._figures().items():
                field.setText(texts[name])
        self._show_dial(dict(line.fields) if line is not None else {})
        name = self._shop.book.designation(type_id)
        on = "" if line is None else f" on {line.tester}"
        self.begin(f"Setting and limit of {name}{on}", self.tester if line is None else self.label)
        if not self._testers:
            self.form.complain(self.tester, NO_TESTER)

    def write(self) -> Changes:
        """Keep the line."""
        tester = self._testers.get(self.tester.currentData())
        if tester is None:
            raise Refused(self.tester, NO_TESTER)
        line = self._line
        try:
            limit = read_limit(self._limit_texts(), tester.scale)
            return save_line(
                self._shop,
                line_id=None if line is None else line.id,
                tester_id=tester.id,
                type_id=self._type_id,
                label=self.label.text(),
                section=self.section.currentData(),
                quantity=tester.method if line is None else line.quantity,
                fields={name: field.text() for name, field in self.dialled.items()},
                limit=limit,
                expected_version=None if line is None else line.version,
            )[1]
        except FieldErrors as errors:
            fields: dict[str, QWidget] = {**self._figures(), "section": self.section}
            wrong = [(fields[name], said) for name, said in errors.fields.items() if name in fields]
            for field, said in wrong[1:]:
                self.form.complain(field, said)
            if not wrong:
                raise
            raise Refused(*wrong[0]) from errors

    def _limit_texts(self) -> Mapping[str, str]:
        texts = {name: field.text() for name, field in self._figures().items()}
        old = limit_fields(self._line.limit, self._scale()) if self._line is not None else {}
        same = all(texts[name].strip() == old.get(name, "") for name in texts)
        dated = old.get("dated", "") if same else self._shop.today.isoformat()
        return {**texts, "dated": dated}

    def _scale(self) -> Scale:
        return self._testers[self.tester.currentData()].scale

    def _figures(self) -> dict[str, QLineEdit]:
        return {
            "bogey": self.bogey,
            "good_from": self.good_from,
            "reject_below": self.reject_below,
            "above": self.above,
            "source": self.source,
        }

    def _show_dial(self, values: Mapping[str, str]) -> None:
        tester = self._testers.get(self.tester.currentData())
        names = () if tester is None else tester.field_names
        words = () if tester is None else tester.scale.words
        unit = "" if tester is None or not tester.scale.unit else f", {tester.scale.unit}"
        for field in (self.bogey, self.good_from, self.reject_below, self.above):
            field.setPlaceholderText(" / ".join(words) if words else f"a figure of its scale{unit}")
        clear(self._dials)
        dial, self.dialled = Form(), {}
        for name in names:
            field = self.dialled[name] = QLineEdit(values.get(name, ""))
            dial.row(name, field)
        if names:
            self._dials.addWidget(section("Dial in"))
            self._dials.addWidget(dial)

    def _retire(self) -> None:
        assert self._line is not None
        _, changes = retire_line(self._shop, line_id=self._line.id)
        self.left.emit()
        self.wrote.emit(changes)
