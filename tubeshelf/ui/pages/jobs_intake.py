"""Taking in a job, all in one sheet: whose, what, the complaint, and the sockets."""

from datetime import date

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QLineEdit, QVBoxLayout, QWidget

from tubeshelf.domain.dates import format_date, parse_date
from tubeshelf.domain.errors import UserError
from tubeshelf.services.changes import Changes
from tubeshelf.services.intake import CustomerView, ModelView, UnitView, new_job
from tubeshelf.services.shop import Shop
from tubeshelf.ui import tokens
from tubeshelf.ui.pages import jobs_unit
from tubeshelf.ui.pages.jobs_sockets import SocketsBox
from tubeshelf.ui.parts.buttons import Link
from tubeshelf.ui.parts.entrysheet import EntrySheet
from tubeshelf.ui.parts.form import Choice, Form, Lines
from tubeshelf.ui.parts.suggest import Suggest
from tubeshelf.ui.parts.text import label

_EQUIPMENT, _LOOSE = "equipment", "loose"


class IntakeSheet(EntrySheet):
    """``taken_in`` carries the Changes of the new job; until then, what is typed stays."""

    taken_in = Signal(object)

    def __init__(self, shop: Shop) -> None:
        super().__init__("", "Save and open on bench")
        self._shop = shop
        self._customer: CustomerView | None = None
        self._make_fields()
        afresh = Link("Clear the sheet")
        afresh.clicked.connect(self.clear)
        self._foot.insertWidget(1, afresh)
        self._compose()
        self._connect()
        self._show_kind()

    def clear(self) -> None:
        """Start afresh."""
        for field in self.findChildren(QLineEdit):
            field.clear()
        for lines in (self.complaint, self.scope, self.notes):
            lines.clear()
        self.kind.choose(_EQUIPMENT)
        self.sockets.fill("")
        self.form.clear()
        self.notice.clear()
        self._customer = None
        self._look_for_unit()
        self.customer.setFocus()

    def save(self) -> None:
        """Take the job in."""
        promised, wrong = self._checked()
        if self.complain(wrong, self.form):
            return
        if self.sockets.problems:
            self.sockets.setFocus()
            self.reveal(self.sockets)
            return
        taken: list[Changes] = []
        if self.attempt(lambda: taken.append(self._take_in(promised))):
            self.clear()
            self.taken_in.emit(taken[0])

    def _take_in(self, promised: date | None) -> Changes:
        loose = self.kind.currentData() == _LOOSE
        _, changes = new_job(
            self._shop,
            customer=self.customer.text(),
            contact=self._contact(),
            maker="" if loose else self.maker.text(),
            model="" if loose else self.model.text(),
            serial="" if loose else self.serial.text(),
            title=self.box_title.text() if loose else "",
            complement=self.sockets.text,
            complaint=self.complaint.toPlainText(),
            scope=self.scope.toPlainText(),
            intake_notes=self.notes.toPlainText(),
            promised_on=promised,
            comeback_of=None if loose else self.comeback.currentData(),
        )
        return changes

    def _contact(self) -> str:
        """What was typed; nothing if it is known already, since that may have more lines than are shown."""
        typed = self.contact.text().strip()
        known = self._customer is not None and typed == jobs_unit.first_line(self._customer.contact)
        return "" if known else typed

    def _checked(self) -> tuple[date | None, dict[QWidget, str]]:
        """The promised day, and what is wrong with which field."""
        wrong: dict[QWidget, str] = {}
        if not self.customer.text().strip():
            wrong[self.customer] = "Type the customer’s name: each job belongs to somebody."
        if self.kind.currentData() == _LOOSE and not self.box_title.text().strip():
            wrong[self.box_title] = "Say what box this is, such as “tubes from the attic”."
        if self.kind.currentData() == _EQUIPMENT and not self.model.text().strip():
            wrong[self.model] = "Type the model, or choose “Box of loose tubes” above."
        promised = None
        if self.promised.text().strip():
            try:
                promised = parse_date(self.promised.text())
            except UserError as error:
                wrong[self.promised] = error.sentence
        if promised is not None and promised < self._shop.today:
            wrong[self.promised] = f"{format_date(promised)} has passed: type a day from today on."
        return promised, wrong

    def _make_fields(self) -> None:
        self.customer = Suggest(lambda typed: jobs_unit.customer_offers(self._shop, typed))
        self.contact = QLineEdit()
        self.kind = Choice([("A piece of equipment", _EQUIPMENT), ("Box of loose tubes", _LOOSE)])
        self.maker, self.serial, self.promised = QLineEdit(), QLineEdit(), QLineEdit()
        self.model = Suggest(lambda typed: jobs_unit.model_offers(self._shop, typed, self._customer))
        self.comeback = Choice()
        self.box_title = QLineEdit()
        self.complaint, self.scope, self.notes = Lines(2), Lines(2), Lines(2)
        self.promised.setPlaceholderText("2 Dec 2026 or 2026-12-02")
        self.contact.setPlaceholderText("telephone or e-mail")
        self.sockets = SocketsBox(self._shop.book)
        self.origin = label("", "small", wrap=True)

    def _compose(self) -> None:
        self.form = Form()
        for words, field in (
            ("&Customer", self.customer),
            ("C&ontact", self.contact),
            ("Wh&at", self.kind),
            ("Maker", self.maker),
            ("Mode&l", self.model),
            ("Ser&ial", self.serial),
            ("Here before", self.comeback),
            ("Title", self.box_title),
            ("P&romised for", self.promised),
            ("Com&plaint", self.complaint),
            ("&Wanted", self.scope),
            ("&Notes", self.notes),
        ):
            self.form.row(words, field)
        name = QLabel("Soc&kets, one a line")
        name.setBuddy(self.sockets)
        right = QVBoxLayout()
        right.setSpacing(6)
        right.addWidget(name)
        right.addWidget(self.origin)
        right.addWidget(self.sockets)
        right.addStretch(1)
        columns = QHBoxLayout()
        columns.setSpacing(tokens.MARGIN * 2)
        columns.addWidget(self.form, 1)
        columns.addLayout(right, 1)
        self.body.addLayout(columns, 1)

    def _connect(self) -> None:
        self.kind.currentIndexChanged.connect(lambda: self._show_kind())
        self.customer.chosen.connect(self._take_customer)
        self.model.chosen.connect(self._take_model)
        self.customer.editingFinished.connect(self._find_customer)
        for field in (self.maker, self.model, self.serial):
            field.editingFinished.connect(self._look_for_unit)
        for field in (self.customer, self.contact, self.maker, self.model, self.serial, self.promised):
            field.returnPressed.connect(self.focusNextChild)

    def _show_kind(self) -> None:
        loose = self.kind.currentData() == _LOOSE
        for field in (self.maker, self.model, self.serial):
            self.form.show_row(field, not loose)
        self.form.show_row(self.box_title, loose)
        self._look_for_unit()

    def _take_customer(self, value: object) -> None:
        if isinstance(value, CustomerView):
            self._customer = value
            if not self.contact.text().strip():
                self.contact.setText(jobs_unit.first_line(value.contact))
            self._look_for_unit()

    def _find_customer(self) -> None:
        found = jobs_unit.customer_named(self._shop, self.customer.text())
        if found != self._customer:
            self._customer = found
            self._take_customer(found)

    def _take_model(self, value: object) -> None:
        if isinstance(value, ModelView | UnitView):
            self.maker.setText(value.maker)
            if isinstance(value, UnitView):
                self.serial.setText(value.serial)
            name = value.model if isinstance(value, UnitView) else value.name
            self.model.setText(name)
            self._look_for_unit()

    def _look_for_unit(self) -> None:
        """Bring in the sockets of the unit, else of the model, unless some were typed by hand."""
        loose = self.kind.currentData() == _LOOSE
        maker, model = self.maker.text(), self.model.text()
        serial = self.serial.text()
        known = None if loose else jobs_unit.known_unit(self._shop, self._customer, maker, model, serial)
        jobs = known.jobs if known else ()
        self.comeback.offer(jobs_unit.comeback_choices(jobs))
        self.form.show_row(self.comeback, bool(jobs))
        if self.sockets.by_hand or loose:
            return
        found = None if known and known.complement else jobs_unit.model_named(self._shop, maker, model)
        if known is not None and known.complement:
            self._bring_in(known.complement, f"As at job {known.jobs[0].number} of this unit.")
        elif found is not None and model.strip():
            self._bring_in(found.complement, f"From the model {found.maker} {found.name}.")
        else:
            self._bring_in("", "")

    def _bring_in(self, text: str, origin: str) -> None:
        if text != self.sockets.text:
            self.sockets.fill(text)
        self.origin.setText(origin)
        self.origin.setVisible(bool(origin))
