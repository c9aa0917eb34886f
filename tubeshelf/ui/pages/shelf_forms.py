"""The short forms of the shelf: tag, move, count, scrap, sell, give back, matched set."""

from collections.abc import Sequence
from typing import ClassVar

from PySide6.QtWidgets import QLineEdit

from tubeshelf.services.changes import Changes
from tubeshelf.services.shelf_edit import make_set
from tubeshelf.services.shelf_moves import count_lot, give_back, move, scrap, sell, tag_from_lot
from tubeshelf.services.shop import Shop
from tubeshelf.services.views.shelf import ItemView
from tubeshelf.ui.pages.shelf_words import called
from tubeshelf.ui.parts.actform import ActForm, Refused, whole


class ItemForm(ActForm):
    """A form about one tube or lot."""

    def __init__(self, shop: Shop, act: str) -> None:
        super().__init__(act)
        self.shop = shop
        self._item: ItemView | None = None

    @property
    def item(self) -> ItemView:
        """The tube or lot that it is about."""
        assert self._item is not None
        return self._item

    def open_for(self, item: ItemView) -> None:
        """Ask about a tube or lot."""
        self._item = item


class SomeForm(ItemForm):
    """A form about a tube, or about some of a lot: then it asks how many."""

    verb: ClassVar[str]

    def __init__(self, shop: Shop, act: str) -> None:
        super().__init__(shop, act)
        self.many = self.line("&How many")

    def open_for(self, item: ItemView) -> None:
        """How many: all, until something else is said."""
        super().open_for(item)
        self.form.show_row(self.many, item.lot)
        self.many.setText(str(item.quantity))
        self.begin(f"{self.verb} {called(item)}", self.first())

    def first(self) -> QLineEdit:
        """Where the cursor begins."""
        return self.many

    def quantity(self) -> int | None:
        """How many of a lot; all if it is a tube."""
        return whole(self.many) if self.item.lot else None


class MoveForm(SomeForm):
    """Into another bin."""

    verb = "Move"

    def __init__(self, shop: Shop) -> None:
        super().__init__(shop, "Move")
        self.bin = self.blamed = self.line("To b&in", "such as C2")

    def first(self) -> QLineEdit:
        """The bin; for it is what changes."""
        return self.bin

    def open_for(self, item: ItemView) -> None:
        """From the bin where it lies."""
        self.bin.setText(item.bin)
        super().open_for(item)

    def write(self) -> Changes:
        """Move it."""
        quantity = self.quantity()
        return move(self.shop, item_id=self.item.id, bin=self.bin.text(), quantity=quantity)[1]


class ScrapForm(SomeForm):
    """Away, with a reason."""

    verb = "Scrap"

    def __init__(self, shop: Shop) -> None:
        super().__init__(shop, "Scrap")
        self.reason = self.blamed = self.line("&Why", "such as short, open heater, cracked")

    def first(self) -> QLineEdit:
        """The reason."""
        return self.reason

    def open_for(self, item: ItemView) -> None:
        """With the verdict for a reason, if that speaks against the tube."""
        spoken = item.verdict not in ("good", "not read", "unjudged")
        self.reason.setText(item.verdict if spoken else "")
        super().open_for(item)

    def write(self) -> Changes:
        """Throw it away."""
        quantity = self.quantity()
        return scrap(self.shop, item_id=self.item.id, reason=self.reason.text(), quantity=quantity)[1]


class SellForm(SomeForm):
    """Over the counter."""

    verb = "Sell"

    def __init__(self, shop: Shop) -> None:
        super().__init__(shop, "Sell")
        self.note = self.blamed = self.line("&Note", "to whom, if you like")

    def first(self) -> QLineEdit:
        """How many of a lot, else the note."""
        return self.many if self.item.lot else self.note

    def open_for(self, item: ItemView) -> None:
        """Without a note."""
        self.note.clear()
        super().open_for(item)

    def write(self) -> Changes:
        """Sell it."""
        quantity = self.quantity()
        return sell(self.shop, item_id=self.item.id, note=self.note.text(), quantity=quantity)[1]


class TagForm(ItemForm):
    """Some of a lot get a tag each. ``first_tagged`` is the id of the first of them."""

    def __init__(self, shop: Shop) -> None:
        super().__init__(shop, "Tag")
        self.many = self.blamed = self.line("&How many")
        self.bin = self.line("Into b&in")
        self.first_tagged: int | None = None

    def open_for(self, item: ItemView) -> None:
        """One, in the lot's own bin."""
        super().open_for(item)
        self.many.setText("1")
        self.bin.setText(item.bin)
        self.begin(f"Tag tubes from the {called(item)}", self.many)

    def write(self) -> Changes:
        """Give out the tags."""
        quantity = whole(self.many)
        ids, changes = tag_from_lot(
            self.shop, item_id=self.item.id, quantity=quantity, bin=self.bin.text() or None
        )
        self.first_tagged = ids[0]
        return changes


class CountForm(ItemForm):
    """How many of a lot there are; of a tube, 1 or 0."""

    def __init__(self, shop: Shop) -> None:
        super().__init__(shop, "Counted")
        self.counted = self.blamed = self.line("&Counted")
        self.reason = self.line("&Note", "such as one broken")

    def open_for(self, item: ItemView) -> None:
        """Nothing is filled in: a count is not copied from what is believed."""
        super().open_for(item)
        self.counted.clear()
        self.reason.clear()
        self.begin(f"Count {called(item)}", self.counted)

    def write(self) -> Changes:
        """Write the count down."""
        counted = whole(self.counted)
        return count_lot(self.shop, item_id=self.item.id, counted=counted, reason=self.reason.text())[1]


class GiveBackForm(ItemForm):
    """A customer's own tube goes home."""

    def __init__(self, shop: Shop) -> None:
        super().__init__(shop, "Give back")

    def open_for(self, item: ItemView) -> None:
        """Ask once."""
        super().open_for(item)
        self.begin(f"Give {called(item)} back to {item.owner}?", self.act)

    def write(self) -> Changes:
        """Hand it over."""
        return give_back(self.shop, item_id=self.item.id)[1]


class SetForm(ActForm):
    """Tubes that belong together."""

    def __init__(self, shop: Shop) -> None:
        super().__init__("Make the set")
        self._shop = shop
        self._items: tuple[ItemView, ...] = ()
        self._tags = self.blamed = self.line("T&ubes")
        self._tags.setReadOnly(True)

    def open_for(self, items: Sequence[ItemView]) -> None:
        """Ask about the rows chosen in the list."""
        self._items = tuple(items)
        self._tags.setText(", ".join(item.tag or f"lot of {item.quantity}" for item in items))
        self.begin("One matched set of the tubes chosen in the list", self.act)

    def write(self) -> Changes:
        """Make the set."""
        if len(self._items) < 2:
            raise Refused(self._tags, "Choose at least two tubes in the list: hold Shift with the arrows.")
        return make_set(self._shop, item_ids=[item.id for item in self._items])[1]
