"""A shop to put spares into, and a driver that uses the shelf page as a technician does: by keys."""

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLabel, QLineEdit, QWidget
from pytestqt.qtbot import QtBot

from tests.ui.drivers.bench import set_up
from tubeshelf.domain.jobs import Condition
from tubeshelf.services.shelf_detail import item_detail
from tubeshelf.services.shelf_moves import receive
from tubeshelf.services.shop import Shop
from tubeshelf.services.undo import take_back
from tubeshelf.services.views.shelf import ItemView
from tubeshelf.ui.bridge import Bridge
from tubeshelf.ui.pages.shelf import ShelfPage

__all__ = ["ShelfDriver", "lot", "set_up", "stored", "tube"]


def tube(shop: Shop, type_name: str = "12AX7", bin: str = "C2", marked: str = "") -> int:
    """One tagged tube on the shelf."""
    (item_id,), _ = receive(shop, type_name=type_name, bin=bin, marked=marked, condition=Condition.PULL)
    return item_id


def lot(shop: Shop, quantity: int, type_name: str = "12AX7", bin: str = "C5") -> int:
    """A counted lot on the shelf."""
    (item_id,), _ = receive(shop, type_name=type_name, bin=bin, quantity=quantity, lot=True)
    return item_id


def stored(shop: Shop, item_id: int) -> ItemView:
    """What the record holds of a tube or lot, read afresh."""
    return item_detail(shop, item_id=item_id).item


class ShelfDriver:
    """Keys in, words out."""

    def __init__(
        self, qtbot: QtBot, shop: Shop, show: Callable[..., QWidget], size: tuple[int, int] = (1366, 690)
    ) -> None:
        self._qtbot, self._shop = qtbot, shop
        self.bridge = Bridge()
        self.page = ShelfPage(shop, self.bridge)
        self.said: list[str] = []
        self.bridge.changed.connect(self.page.reload)
        self.bridge.changed.connect(lambda changes: self.said.append(changes.said))
        show(self.page, *size)
        self.page.setFocus()

    # ---- Keys

    def press(self, *keys: str) -> "ShelfDriver":
        """Press keys by name, where the keyboard is: ``M``, ``Ctrl+R``, ``Return``."""
        for key in keys:
            QTest.keySequence(self._focus(), key)
        return self

    def type(self, text: str) -> "ShelfDriver":
        """Type over what stands in the field; in a choice, the first letters choose."""
        if isinstance(self._focus(), QLineEdit):
            self.press("Ctrl+A")
        QTest.keyClicks(self._focus(), text)
        return self

    def tab(self, times: int = 1) -> "ShelfDriver":
        """To the next field."""
        for _ in range(times):
            QTest.keyClick(self._focus(), Qt.Key.Key_Tab)
        return self

    def enter(self, text: str = "") -> "ShelfDriver":
        """Type, if there is anything to type, and press Enter."""
        if text:
            self.type(text)
        return self.press("Return")

    def find(self, words: str) -> "ShelfDriver":
        """Search as one types, and wait until the list has followed."""
        self.press("Ctrl+L").type(words)
        self._qtbot.wait(150)
        return self

    def take(self, item_id: int) -> "ShelfDriver":
        """Take a row in hand, the list having the focus."""
        assert self.page.list.table.take_in_hand(item_id)
        self.page.list.table.setFocus()
        return self

    def take_back(self) -> "ShelfDriver":
        """What Ctrl+Z of the window does."""
        self.bridge.publish(take_back(self._shop))
        return self

    def _focus(self) -> QWidget:
        focus = self.page.window().focusWidget()
        assert focus is not None
        return focus

    # ---- What is shown

    @property
    def rows(self) -> list[str]:
        """The rows: tag (or lot with its number) and type."""
        rows = self.page.list.model.rows
        return [f"{f'lot {row.quantity}' if row.lot else row.tag} {row.designation}" for row in rows]

    @property
    def keys(self) -> dict[str, str]:
        """The keys that work now, with what they do."""
        return dict(self.page.keys())

    def cells(self, item_id: int) -> dict[str, str]:
        """What the cells of a row say, by column."""
        model = self.page.list.model
        row = next(row for row in model.rows if row.id == item_id)
        return {column.title: column.cell(row).spoken for column in model.columns}

    @property
    def in_hand(self) -> int | None:
        """The id of the row in hand."""
        item = self.page.list.in_hand()
        return None if item is None else item.id

    @property
    def pane(self) -> str:
        """All words of the right half that are on show."""
        self._qtbot.wait(1)  # new labels are shown when control returns to Qt
        return _texts(self.page.pane)

    @property
    def left(self) -> str:
        """All words of the left half that are on show."""
        return _texts(self.page.list)

    @property
    def title(self) -> str:
        """The title line."""
        return " ".join(label.accessibleName() for label in self.page.head.findChildren(QLabel))

    @property
    def complaint(self) -> str:
        """What is said beside the field that has the focus."""
        return self._focus().accessibleDescription()

    @property
    def field(self) -> str:
        """The name of the field that has the focus."""
        return self._focus().accessibleName()

    @property
    def notice(self) -> str:
        """What is said above the page."""
        return self.page.notice.text


def _texts(widget: QWidget) -> str:
    return "\n".join(label.text() for label in widget.findChildren(QLabel) if label.isVisible())
