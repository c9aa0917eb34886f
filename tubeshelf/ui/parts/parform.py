"""How many of a type the shop wants on hand: asked on the Shelf and on the Types page."""

from tubeshelf.services.changes import Changes
from tubeshelf.services.shelf_edit import set_par
from tubeshelf.services.shop import Shop
from tubeshelf.services.views.shelf import TypeCount
from tubeshelf.ui.parts.actform import ActForm, whole


class ParForm(ActForm):
    """How many of a type the shop wants on hand."""

    def __init__(self, shop: Shop) -> None:
        super().__init__("Save")
        self._shop = shop
        self._type_id = 0
        self.wanted = self.blamed = self.line("&Wanted on hand", "empty: none said")

    def open_for(self, count: TypeCount) -> None:
        """Ask about a type."""
        self._type_id = count.type_id
        self.wanted.setText("" if count.par is None else str(count.par))
        self.begin(f"How many {count.designation} the shop wants on hand", self.wanted)

    def write(self) -> Changes:
        """Keep the par."""
        quantity = whole(self.wanted) if self.wanted.text().strip() else None
        return set_par(self._shop, type_id=self._type_id, quantity=quantity)[1]
