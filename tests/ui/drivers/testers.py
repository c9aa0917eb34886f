"""The Testers page in its window, used as a technician does: by keys."""

from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtCore import QSettings
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from tests.ui.drivers.keyboard import Driver, in_window
from tubeshelf.services.setting_lines import setting_lines
from tubeshelf.services.shop import open_shop
from tubeshelf.services.testers import list_testers
from tubeshelf.services.views.types import SettingLineView, TesterDetail
from tubeshelf.store.record import Record
from tubeshelf.ui.pages.testers import TestersPage
from tubeshelf.ui.pages.testers_table import CellEditor


@dataclass
class TestersDriver(Driver[TestersPage]):
    """Adds testers and types into their setting lines."""

    __test__ = False

    def tester(self, name: str) -> TesterDetail:
        """What the record holds of a tester."""
        return next(tester for tester in list_testers(self.shop) if tester.name == name)

    def lines(self, name: str) -> list[SettingLineView]:
        """What the record holds of its lines."""
        return list(setting_lines(self.shop, tester_id=self.tester(name).id))

    def take(self, name: str) -> None:
        """Take a tester in hand, with the list in focus."""
        assert self.page.list.table.take_in_hand(self.tester(name).id), f"{name} is not in the list"
        self.page.list.table.setFocus()

    def go_to(self, row: int, title: str) -> None:
        """Stand on a cell of the lines, by the title of its column."""
        model = self.page.sheet.model
        assert model is not None
        column = [column.title for column in model.columns].index(title)
        self.page.sheet.table.setFocus()
        self.page.sheet.table.setCurrentIndex(model.index(row, column))

    @property
    def at(self) -> tuple[int, str]:
        """The cell in hand: its row and the title of its column."""
        index, model = self.page.sheet.table.currentIndex(), self.page.sheet.model
        assert model is not None
        return index.row(), model.columns[index.column()].title

    @property
    def editor(self) -> CellEditor | None:
        """The field that is open in a cell."""
        return self.page.sheet.table.editor()

    def row(self, number: int) -> list[str]:
        """What a row of the lines says, cell by cell."""
        model = self.page.sheet.model
        assert model is not None
        return [column.cell(model.rows[number]).text for column in model.columns]

    def enter(self, *texts: str) -> None:
        """Type into one cell after the other, Enter after each."""
        for text in texts:
            self.write(text)
            self.press("Return")

    @property
    def sentence(self) -> str:
        """What is said under the table."""
        return self.page.sheet.sentence.text() if self.page.sheet.sentence.isVisible() else ""


def open_testers(
    record: Record, qtbot: QtBot, shown: Callable[..., QWidget], settings: QSettings, *, width: int = 1366
) -> TestersDriver:
    """The window with the Testers page on a record."""
    shop = open_shop(record)
    window, page = in_window("testers", lambda w: TestersPage(shop, w.bridge), qtbot, shown, settings, width)
    return TestersDriver(shop, window, page, qtbot)
