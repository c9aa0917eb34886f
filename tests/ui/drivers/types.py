"""The Types page in its window, used as a technician does: by keys."""

from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtCore import QSettings, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from tests.ui.drivers.keyboard import Driver, in_window
from tubeshelf.domain.types import TubeType
from tubeshelf.services.shop import open_shop
from tubeshelf.store.record import Record
from tubeshelf.ui.pages.types import TypesPage
from tubeshelf.ui.pages.types_edit import TypeForm
from tubeshelf.ui.pages.types_sections import SectionCard
from tubeshelf.ui.parts.buttons import Link
from tubeshelf.ui.parts.named import TextField


@dataclass
class TypesDriver(Driver[TypesPage]):
    """Finds types and changes them."""

    @property
    def names(self) -> list[str]:
        """The types in the list."""
        return [row.designation for row in self.page.list.model.rows]

    @property
    def form(self) -> TypeForm:
        """The form of a type, which has to be open."""
        assert self.page.pane.currentWidget() is self.page.pane.entry, "no type is being edited"
        return self.page.pane.entry

    def find(self, text: str) -> list[str]:
        """Type into the search field as it stands and wait for the list."""
        self.page.search.setFocus()
        self.press("Ctrl+A")
        self.press("Delete")
        self.write(text)
        self.qtbot.wait(150)
        return self.names

    def take(self, name: str) -> None:
        """Take a type in hand, with the list in focus."""
        assert self.page.list.table.take_in_hand(self.id(name)), f"{name} is not in the list"
        self.page.list.table.setFocus()

    def in_hand(self) -> str:
        """The type in hand."""
        row = self.page.list.in_hand()
        return "" if row is None else row.designation

    def cells(self, name: str) -> list[str]:
        """What the row of a type says, cell by cell."""
        row = next(row for row in self.page.list.model.rows if row.designation == name)
        return [column.cell(row).spoken for column in self.page.list.model.columns]

    def id(self, name: str) -> int:
        """The row id of a type."""
        found = self.shop.book.id_of(name)
        assert found is not None, f"{name} is not in the table"
        return found

    def tube(self, name: str) -> TubeType:
        """What the record holds of a type."""
        found = self.shop.book.type(self.id(name))
        assert found is not None
        return found

    def sheet(self) -> str:
        """All that the data sheet says."""
        return self.texts(self.page.pane.sheet)

    def field(self, name: str) -> TextField:
        """A field of the form."""
        field = self.form.field(name)
        assert isinstance(field, TextField)
        return field

    def card(self, section: str) -> SectionCard:
        """The card of a section in the form."""
        return next(card for card in self.form.sections.cards if card.name.text() == section)

    def click(self, spoken: str) -> None:
        """Take a link of the data sheet by its name."""
        links = self.page.pane.sheet.findChildren(Link)
        link = next(x for x in links if x.isVisibleTo(self.page) and spoken in (x.text(), x.accessibleName()))
        QTest.mouseClick(link, Qt.MouseButton.LeftButton)


def open_types(
    record: Record, qtbot: QtBot, shown: Callable[..., QWidget], settings: QSettings, *, width: int = 1366
) -> TypesDriver:
    """The window with the Types page on a record."""
    shop = open_shop(record)
    window, page = in_window(
        "types", lambda w: TypesPage(shop, w.bridge, w.runner), qtbot, shown, settings, width
    )
    return TypesDriver(shop, window, page, qtbot)
