"""The short forms of a type: copy it, say what may serve for it."""

from tubeshelf.services.changes import Changes
from tubeshelf.services.shop import Shop
from tubeshelf.services.types_edit import copy_type, save_substitute
from tubeshelf.ui.pages.types_words import GRADES
from tubeshelf.ui.parts.actform import ActForm, Refused
from tubeshelf.ui.parts.typefield import type_field

FOR_THIS, FOR_OTHER = "for this", "for other"


class CopyForm(ActForm):
    """A type under a new name. ``copied`` is then the id of the new type."""

    def __init__(self, shop: Shop) -> None:
        super().__init__("Copy")
        self._shop = shop
        self._type_id = 0
        self.copied: int | None = None
        self.name = self.blamed = self.line("&New designation")

    def open_for(self, type_id: int) -> None:
        """Ask for the new name."""
        self._type_id = type_id
        self.name.clear()
        self.begin(f"Copy {self._shop.book.designation(type_id)} as a type of your own", self.name)

    def write(self) -> Changes:
        """Make the copy."""
        if not self.name.text().strip():
            raise Refused(self.name, "Type the designation of the new type.")
        self.copied, changes = copy_type(self._shop, type_id=self._type_id, designation=self.name.text())
        return changes


class SubstituteForm(ActForm):
    """An entry of the shop's own: which type may serve for which, how well, under which conditions."""

    def __init__(self, shop: Shop) -> None:
        super().__init__("Accept")
        self._shop = shop
        self._type_id = 0
        self.which = self.choice("&Which")
        self.other = type_field(shop)
        self.form.row("T&ype", self.other)
        self.grade = self.choice("&Grade", [(f"{n} {words}", n) for n, words in GRADES.items()])
        self.conditions = self.line("C&onditions", "such as parallel heaters only; rebias")
        self.note = self.line("&Note", "on whose word, if you like")

    def open_for(self, type_id: int) -> None:
        """Ask about a type."""
        self._type_id = type_id
        name = self._shop.book.designation(type_id)
        self.which.offer([(f"may serve for {name}", FOR_THIS), (f"{name} may serve for", FOR_OTHER)])
        self.which.setCurrentIndex(0)
        for field in (self.other, self.conditions, self.note):
            field.clear()
        self.grade.choose(2)
        self.begin("A substitute that this shop accepts. Every fit is still checked for harm.", self.other)

    def write(self) -> Changes:
        """Keep the entry."""
        typed = self.other.text().strip()
        other = self._shop.book.id_of(typed) if typed else None
        if other is None:
            near = ", ".join(self._shop.book.catalog.near(typed)) if typed else ""
            unknown = f"{typed} is not in the type table{f'; near it: {near}' if near else ''}."
            raise Refused(self.other, unknown if typed else "Type the other type.")
        for_this = self.which.currentData() == FOR_THIS
        return save_substitute(
            self._shop,
            intended_id=self._type_id if for_this else other,
            found_id=other if for_this else self._type_id,
            grade=self.grade.currentData(),
            conditions=self.conditions.text(),
            note=self.note.text(),
        )[1]
