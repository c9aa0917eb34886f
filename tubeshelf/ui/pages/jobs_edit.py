"""Changing a job later: what the intake says, and its sockets."""

from collections.abc import Sequence
from datetime import date

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QLineEdit, QWidget

from tubeshelf.domain.dates import format_date, parse_date
from tubeshelf.domain.errors import UserError
from tubeshelf.services.changes import Changes
from tubeshelf.services.customers import Whose
from tubeshelf.services.intake_edit import edit_complement, edit_job
from tubeshelf.services.shop import Shop
from tubeshelf.services.views.bench import JobHead, JobView
from tubeshelf.ui.pages.jobs_sockets import SocketsBox, complement_of
from tubeshelf.ui.pages.jobs_unit import comeback_choices
from tubeshelf.ui.parts.entrysheet import EntrySheet
from tubeshelf.ui.parts.form import Choice, Form, Lines
from tubeshelf.ui.parts.text import label

_HINTS = {"Cont&act": "Name and contact are those of all jobs of this customer."}


class EditSheet(EntrySheet):
    """What the intake says of a job. ``saved`` carries the Changes."""

    saved = Signal(object)

    def __init__(self, shop: Shop) -> None:
        super().__init__("Edit", "Save")
        self._shop = shop
        self._job: JobView | None = None
        self.customer, self.contact, self.serial = QLineEdit(), Lines(2), QLineEdit()
        self.promised = QLineEdit()
        self.promised.setPlaceholderText("2 Dec 2026 or 2026-12-02")
        self.complaint, self.scope, self.notes = Lines(3), Lines(3), Lines(4)
        self.comeback = Choice()
        self.comeback_note = QLineEdit()
        self.form = Form()
        rows: tuple[tuple[str, QWidget], ...] = (
            ("C&ustomer", self.customer),
            ("Cont&act", self.contact),
            ("Ser&ial", self.serial),
            ("P&romised for", self.promised),
            ("Com&plaint", self.complaint),
            ("&Wanted", self.scope),
            ("&Notes", self.notes),
            ("&Comeback", self.comeback),
            ("Wh&y it came back", self.comeback_note),
        )
        for words, field in rows:
            self.form.row(words, field, _HINTS.get(words, ""))
        self.body.addWidget(self.form)
        self.body.addStretch(1)

    def show_job(self, job: JobView, past: Sequence[JobHead], contact: str) -> None:
        """Show a job to change."""
        self._job = job
        self.customer.setText(job.customer)
        self.contact.setPlainText(contact)
        self.serial.setText(job.serial)
        self.form.show_row(self.serial, job.equipment_id is not None)
        self.set_title(f"Edit job {job.number}")
        self.notice.clear()
        self.form.clear()
        self.promised.setText("" if job.promised_on is None else format_date(job.promised_on))
        self.complaint.setPlainText(job.complaint)
        self.scope.setPlainText(job.scope)
        self.notes.setPlainText(job.intake)
        earlier = [head for head in past if head.number < job.number]
        self.comeback.offer(comeback_choices(earlier))
        self.comeback.choose(next((h.id for h in earlier if h.number == job.comeback_of), None))
        self.comeback_note.setText(job.comeback_note)
        for field in (self.comeback, self.comeback_note):
            self.form.show_row(field, bool(earlier))
        self.promised.setFocus()

    def save(self) -> None:
        """Keep it."""
        promised, wrong = _day(self.promised)
        if not self.customer.text().strip():
            wrong[self.customer] = "Type the customer’s name: each job belongs to somebody."
        if self.complain(wrong, self.form):
            return
        done: list[Changes] = []
        if self.attempt(lambda: done.append(self._write(promised))):
            self.saved.emit(done[0])

    def _write(self, promised: date | None) -> Changes:
        assert self._job is not None
        _, changes = edit_job(
            self._shop,
            job_id=self._job.id,
            expected_version=self._job.version,
            complaint=self.complaint.toPlainText(),
            scope=self.scope.toPlainText(),
            intake_notes=self.notes.toPlainText(),
            promised_on=promised,
            comeback_of=self.comeback.currentData(),
            comeback_note=self.comeback_note.text(),
            whose=Whose(
                self.customer.text(),
                self.contact.toPlainText(),
                self.serial.text() if self._job.equipment_id is not None else None,
            ),
        )
        return changes


def _day(field: QLineEdit) -> tuple[date | None, dict[QWidget, str]]:
    if not field.text().strip():
        return None, {}
    try:
        return parse_date(field.text()), {}
    except UserError as error:
        return None, {field: error.sentence}


class SocketsSheet(EntrySheet):
    """The complement of a job; unit and model remember it. ``saved`` carries the Changes."""

    saved = Signal(object)

    def __init__(self, shop: Shop) -> None:
        super().__init__("Sockets", "Save")
        self._shop = shop
        self._job: JobView | None = None
        self.sockets = SocketsBox(shop.book, lines=12)
        self.remembered = label("", "small", wrap=True)
        self.body.addWidget(self.remembered)
        self.body.addWidget(self.sockets, 1)

    def show_job(self, job: JobView) -> None:
        """Show the sockets of a job to change."""
        self._job = job
        self.set_title(f"Sockets of job {job.number}")
        self.notice.clear()
        self.sockets.fill(complement_of(job))
        whose = "This unit and its model remember them" if job.model_id is not None else "They are this job’s"
        facts = "Facts may follow the type: heater=4+5-9 plate=300 bias=-14 fixed"
        self.remembered.setText(f"{whose}. How the heaters are fed stays as it is. {facts}.")
        self.sockets.setFocus()

    def save(self) -> None:
        """Keep them."""
        if self.sockets.problems:
            self.sockets.setFocus()
            return
        done: list[Changes] = []
        if self.attempt(lambda: done.append(self._write())):
            self.saved.emit(done[0])

    def _write(self) -> Changes:
        assert self._job is not None
        _, changes = edit_complement(self._shop, job_id=self._job.id, text=self.sockets.text)
        return changes
