"""Receiving tubes one parcel after the other, and editing what is written on a tube's card."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QWidget

from tubeshelf.domain.jobs import Condition
from tubeshelf.services.changes import Changes
from tubeshelf.services.shelf_edit import ItemFields, edit_item
from tubeshelf.services.shelf_moves import known_bin, known_type, receive
from tubeshelf.services.shop import Shop
from tubeshelf.services.views.shelf import ItemView
from tubeshelf.ui.pages.shelf_words import called
from tubeshelf.ui.parts.actform import ActForm, amount, checked, money, whole
from tubeshelf.ui.parts.form import Choice, Tick
from tubeshelf.ui.parts.typefield import type_field

_CONDITIONS = [(str(condition), condition) for condition in Condition]


class CardForm(ActForm):
    """The fields that receiving and editing share, in the order in which one holds a tube."""

    alone = True

    def __init__(self, shop: Shop, act: str) -> None:
        super().__init__(act)
        self.shop = shop
        self.type_name = type_field(shop)
        self.form.row("T&ype", self.type_name)
        self.before_card()
        self.marked = self.line("Mar&ked", "if another name than the type")
        self.condition: Choice = self.choice("C&laimed", _CONDITIONS)
        self.brand = self.line("Bran&d mark")
        self.date_code = self.line("Date c&ode")
        self.construction = self.line("&Construction", "such as black plate")
        self.boxed, self.premium = Tick("Bo&xed"), Tick("P&remium")
        self.premium.setToolTip("Offered after the plain ones")
        self.form.row("", _row(self.boxed, self.premium))
        self.source = self.line("So&urce", "whom it came from")
        self.cost = self.line("Cost o&f one")
        self.price = self.line("&Price of one")
        self.note = self.line("&Note")

    def before_card(self) -> None:
        """Fields between the type and what is written on the tube."""

    def fresh(self, *kept: QLineEdit) -> None:
        """Empty all lines but these."""
        for field in self.form.findChildren(QLineEdit):
            if field not in kept:
                field.clear()
        for tick in (self.boxed, self.premium):
            tick.setChecked(False)


class ReceiveForm(CardForm):
    """What came in. After saving, type, bin and condition stay for the next one.

    ``received`` carries the id of the first tube or lot.
    """

    received = Signal(int)

    def __init__(self, shop: Shop) -> None:
        super().__init__(shop, "Receive")
        self.quantity.setText("1")
        self.condition.choose(Condition.USED_TESTED)
        self.said = ""
        self._ids: tuple[int, ...] = ()

    def before_card(self) -> None:
        """How many, how, and where they go."""
        self.quantity = self.blamed = self.line("&How many")
        self.lot = self.choice("&As", [("tubes with a tag each", False), ("one counted lot", True)])
        self.bin = self.line("Into b&in", "such as C2")

    def open(self) -> None:
        """Ask; what was typed before and not saved is still there."""
        self.begin("Receive", self.type_name)

    def save(self) -> None:
        """Receive, and be ready for the next one."""
        changes = self.attempt()
        if changes is None:
            return
        self.fresh(self.type_name, self.bin)
        self.quantity.setText("1")
        self.wrote.emit(changes)
        self.received.emit(self._ids[0])
        self.begin(f"{changes.said}. The next one:", self.type_name)

    def write(self) -> Changes:
        """Put them on the shelf."""
        checked(self.type_name, lambda: known_type(self.shop, self.type_name.text()))
        quantity = whole(self.quantity)
        checked(self.bin, lambda: known_bin(self.bin.text()))
        cost, price = money(self.cost, "cost"), money(self.price, "price")
        self._ids, changes = receive(
            self.shop,
            type_name=self.type_name.text(),
            quantity=quantity,
            lot=self.lot.currentData(),
            bin=self.bin.text(),
            marked=self.marked.text(),
            condition=self.condition.currentData(),
            brand=self.brand.text(),
            date_code=self.date_code.text(),
            construction=self.construction.text(),
            boxed=self.boxed.isChecked(),
            premium=self.premium.isChecked(),
            source=self.source.text(),
            cost=cost,
            price=price,
            note=self.note.text(),
        )
        return changes


class EditForm(CardForm):
    """What is known of a tube or lot."""

    def __init__(self, shop: Shop) -> None:
        super().__init__(shop, "Save")
        self._item: ItemView | None = None
        self.break_set = Tick("Bre&ak its matched set")
        self.form.row("", self.break_set)

    def open_for(self, item: ItemView) -> None:
        """Fill in what is known now."""
        self._item = item
        self.type_name.setText(item.designation)
        self.marked.setText(item.marked)
        self.condition.choose(next((c for c in Condition if c == item.condition), None))
        for field, text in (
            (self.brand, item.brand),
            (self.date_code, item.date_code),
            (self.construction, item.construction),
            (self.source, item.source),
            (self.cost, amount(item.cost)),
            (self.price, amount(item.price)),
            (self.note, item.note),
        ):
            field.setText(text)
        self.boxed.setChecked(item.boxed)
        self.premium.setChecked(item.premium)
        self.break_set.setChecked(False)
        self.form.show_row(self.break_set, item.matched_set is not None)
        self.begin(f"Edit {called(item)}", self.type_name)

    def write(self) -> Changes:
        """Keep it."""
        assert self._item is not None
        checked(self.type_name, lambda: known_type(self.shop, self.type_name.text()))
        fields = ItemFields(
            type_name=self.type_name.text(),
            marked=self.marked.text(),
            condition=self.condition.currentData(),
            brand=self.brand.text(),
            date_code=self.date_code.text(),
            construction=self.construction.text(),
            boxed=self.boxed.isChecked(),
            premium=self.premium.isChecked(),
            source=self.source.text(),
            cost=money(self.cost, "cost"),
            price=money(self.price, "price"),
            note=self.note.text(),
        )
        if self.break_set.isChecked():
            fields["matched_set"] = None
        version = self._item.version
        return edit_item(self.shop, item_id=self._item.id, expected_version=version, **fields)[1]


def _row(*ticks: Tick) -> QWidget:
    whole_row = QWidget()
    row = QHBoxLayout(whole_row)
    row.setContentsMargins(0, 0, 0, 0)
    for tick in ticks:
        row.addWidget(tick)
    row.addStretch(1)
    return whole_row
