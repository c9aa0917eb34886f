"""The right half of the shelf: the tube in hand, and above it or in its place a form to fill in."""

from PySide6.QtCore import QTimer, Signal
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QScrollArea, QVBoxLayout, QWidget

from tubeshelf.services.shelf_detail import item_detail
from tubeshelf.services.shop import Shop
from tubeshelf.services.spare_lines import Spread, free_readings
from tubeshelf.services.views.shelf import ItemDetail, ItemView
from tubeshelf.ui.pages.shelf_detail import ActsPart, ItemPart, TypePart
from tubeshelf.ui.pages.shelf_forms import (
    CountForm,
    GiveBackForm,
    ItemForm,
    MoveForm,
    ScrapForm,
    SellForm,
    SetForm,
    TagForm,
)
from tubeshelf.ui.pages.shelf_jobs import InstallForm, PromiseForm
from tubeshelf.ui.pages.shelf_read import ReadForm
from tubeshelf.ui.pages.shelf_receive import EditForm, ReceiveForm
from tubeshelf.ui.parts.actform import ActForm
from tubeshelf.ui.parts.parform import ParForm
from tubeshelf.ui.parts.sheet import Sheet
from tubeshelf.ui.parts.text import label, rule

_NOTHING = "The tube in hand shows here: its type’s numbers, what it read, and what happened to it."


class ShelfPane(Sheet):
    """``wrote`` carries the Changes of a form, ``tagged`` and ``received`` the id of what came to be,
    ``left`` says that the form is done with."""

    wrote = Signal(object)
    tagged = Signal(int)
    received = Signal(int)
    left = Signal()

    def __init__(self, shop: Shop) -> None:
        super().__init__(scrolls=True)
        self._shop = shop
        self.folded = False
        self._spreads: dict[int, tuple[Spread, ...]] = {}
        self.detail: ItemDetail | None = None
        self.form: ActForm | None = None
        self.receive, self.read, self.edit = ReceiveForm(shop), ReadForm(shop), EditForm(shop)
        self.tag, self.par, self.set = TagForm(shop), ParForm(shop), SetForm(shop)
        self.about: dict[str, ItemForm | EditForm] = {
            "read": self.read,
            "tag": self.tag,
            "edit": self.edit,
            "move": MoveForm(shop),
            "count": CountForm(shop),
            "scrap": ScrapForm(shop),
            "sell": SellForm(shop),
            "give": GiveBackForm(shop),
            "promise": PromiseForm(shop),
            "install": InstallForm(shop),
        }
        self.type_part, self.item_part, self.acts = TypePart(shop), ItemPart(), ActsPart()
        self._nothing = label(_NOTHING, "soft", wrap=True)
        self._compose()

    def show_item(self, item: ItemView | None) -> None:
        """Show another tube, or the same as it is now; a form that is being filled in stays."""
        if item is None:
            self.detail = None
        else:
            self.detail = item_detail(self._shop, item_id=item.id)
            item = self.detail.item
            self.type_part.show_type(self.detail.count, self._spreads_of(item), self.detail)
            self.item_part.show_item(self.detail, self._shop.settings.currency)
            self.acts.show_item(item)
        self._arrange()

    def forget(self) -> None:
        """What was read may have changed: read it again with the next tube."""
        self._spreads.clear()

    def _spreads_of(self, item: ItemView) -> tuple[Spread, ...]:
        """Kept while one walks along the list, where the next tube is mostly of the same type."""
        if item.type_id is None:
            return ()
        if item.type_id not in self._spreads:
            self._spreads[item.type_id] = free_readings(self._shop, type_id=item.type_id)
        return self._spreads[item.type_id]

    def begin(self, name: str, chosen: tuple[ItemView, ...] = ()) -> None:
        """Open a form: on the tube in hand, its type, or the tubes chosen in the list."""
        form = self._form_called(name)
        if self.form not in (None, form):
            self._put_away()
        self.form = form
        self._arrange()
        if name == "receive":
            self.receive.open()
        elif name == "set":
            self.set.open_for(chosen)
        elif self.detail is not None and name == "par" and self.detail.count is not None:
            self.par.open_for(self.detail.count)
        elif self.detail is not None and name in self.about:
            self.about[name].open_for(self.detail.item)
        QTimer.singleShot(0, self._to_top)

    def leave(self) -> None:
        """Put the form away."""
        self._put_away()
        self._arrange()
        self.left.emit()

    def showEvent(self, event: QShowEvent) -> None:
        """In a narrow window the keys are those of the half that is on show."""
        super().showEvent(event)
        if self.folded and self.form is None:
            self.acts.take_focus()

    def _form_called(self, name: str) -> ActForm:
        others: dict[str, ActForm] = {"receive": self.receive, "par": self.par, "set": self.set}
        return others[name] if name in others else self.about[name]

    def _put_away(self) -> None:
        if self.form is not None:
            self.form.hide()
        self.form = None

    def _arrange(self) -> None:
        """Which parts are on show."""
        alone = self.form is not None and self.form.alone
        for part in self._parts:
            part.setVisible(self.detail is not None and not alone)
        self._foot.setVisible(self.detail is not None and self.form is None)
        self._nothing.setVisible(self.detail is None and not alone)

    def _to_top(self) -> None:
        if (area := self.findChild(QScrollArea)) is not None:
            area.verticalScrollBar().setValue(0)

    def _compose(self) -> None:
        for form in (self.receive, self.par, self.set, *self.about.values()):
            form.left.connect(self.leave)
            form.wrote.connect(self.wrote)
            self.body.addWidget(form)
        self.tag.wrote.connect(lambda: self.tagged.emit(self.tag.first_tagged))
        self.receive.received.connect(self.received)
        self._parts = (self.type_part, rule(), self.item_part)
        for part in (self._nothing, *self._parts):
            self.body.addWidget(part)
        self.body.addStretch(1)
        self._foot = QWidget()
        foot = QVBoxLayout(self._foot)
        foot.setContentsMargins(0, 0, 0, 0)
        foot.setSpacing(0)
        foot.addWidget(rule())
        self.acts.setContentsMargins(14, 10, 14, 12)
        foot.addWidget(self.acts)
        self._frame.addWidget(self._foot)
        self._arrange()
