"""What is measured in sets of a model: named fields, which the Bench then asks for in each job."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QVBoxLayout

from tubeshelf.domain.cautions import MEASURING
from tubeshelf.domain.errors import UserError
from tubeshelf.domain.set_fields import PROPOSED, SetField
from tubeshelf.services.changes import Changes
from tubeshelf.services.set_fields import save_set_fields, set_fields
from tubeshelf.services.shop import Shop
from tubeshelf.services.views.bench import JobView
from tubeshelf.ui.pages.jobs_set_card import FieldCard
from tubeshelf.ui.parts.buttons import Act
from tubeshelf.ui.parts.entrysheet import EntrySheet
from tubeshelf.ui.parts.text import label

_NONE_YET = (
    "Nothing is said yet about what is measured in this model. These are proposed: change them as you like, "
    "then save."
)
_REMEMBERED = (
    "Every job on this model asks for them on the Bench (Ctrl+E). Alt and an arrow move a field up or down. "
    "What was measured already stays with its job."
)


class SetFieldsSheet(EntrySheet):
    """The fields of the model of a job. ``saved`` carries the Changes."""

    saved = Signal(object)

    def __init__(self, shop: Shop) -> None:
        super().__init__("Measured in the set", "Save")
        self._shop = shop
        self._model_id = 0
        self._kept: tuple[SetField, ...] = ()
        self.cards: list[FieldCard] = []
        self._cards = QVBoxLayout()
        self.hint = label("", "soft", wrap=True)
        add = Act("Add a field", "Ctrl+Shift+N", icon="add")
        add.clicked.connect(lambda: self.add())
        self.body.addWidget(self.hint)
        self.body.addLayout(self._cards)
        self.body.addWidget(add, 0, Qt.AlignmentFlag.AlignLeft)
        self.body.addWidget(label(_REMEMBERED, "small", wrap=True))
        self.body.addWidget(label(MEASURING, "small", wrap=True))
        self.body.addStretch(1)
        for keys, by in (("Alt+Up", -1), ("Alt+Down", 1)):
            key = QShortcut(QKeySequence(keys), self)
            key.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
            key.activated.connect(lambda by=by: self._move(by))

    def show_job(self, job: JobView) -> None:
        """Show the fields of the job's model, or those proposed; UserError if it has no model."""
        if job.model_id is None:
            raise UserError("A box of loose tubes is in no set to measure in.")
        self._model_id = job.model_id
        self._kept = set_fields(self._shop, model_id=job.model_id)
        self.set_title(f"Measured in the {job.equipment}")
        self.notice.clear()
        self.hint.setText("" if self._kept else _NONE_YET)
        self.hint.setVisible(not self._kept)
        for card in tuple(self.cards):
            self._drop(card)
        for field in self._kept or PROPOSED:
            self._add(field)
        self.cards[0].name.setFocus()

    def add(self) -> None:
        """Begin another field."""
        self._add(SetField("", "")).name.setFocus()

    def save(self) -> None:
        """Keep them, for the model; nothing changed is no act."""
        wrong = {field: said for card in self.cards for field, said in card.wrong().items()}
        if self.complain(wrong, *(form for card in self.cards for form in card.forms)):
            return
        fields = tuple(card.read() for card in self.cards)
        if fields == self._kept:
            self.left.emit()
            return
        dropped = {field.id for field in self._kept} - {field.id for field in fields}
        done: list[Changes] = []
        if self.attempt(lambda: done.append(self._write(fields, dropped))):
            self.saved.emit(done[0])

    def _write(self, fields: tuple[SetField, ...], dropped: set[int | None]) -> Changes:
        ended = tuple(field_id for field_id in dropped if field_id is not None)
        return save_set_fields(self._shop, model_id=self._model_id, fields=fields, dropped=ended)[1]

    def _add(self, field: SetField) -> FieldCard:
        card = FieldCard(field)
        card.dropped.connect(lambda: self._remove(card))
        self.cards.append(card)
        self._cards.addWidget(card)
        return card

    def _remove(self, card: FieldCard) -> None:
        """Take a field away; the keyboard goes on to the next one."""
        at = self.cards.index(card)
        self._drop(card)
        (self.cards[min(at, len(self.cards) - 1)].name if self.cards else self.act).setFocus()

    def _drop(self, card: FieldCard) -> None:
        self.cards.remove(card)
        self._cards.removeWidget(card)
        card.hide()
        card.deleteLater()

    def _move(self, by: int) -> None:
        """The field with the keyboard, one place up or down."""
        focus = self.focusWidget()
        at = next((n for n, card in enumerate(self.cards) if focus and card.isAncestorOf(focus)), None)
        if at is None or not 0 <= at + by < len(self.cards):
            return
        card = self.cards.pop(at)
        self.cards.insert(at + by, card)
        self._cards.removeWidget(card)
        self._cards.insertWidget(at + by, card)
        self.reveal(card)
