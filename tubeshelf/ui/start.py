"""Starting the window: painted first, then the record is opened and the pages are built as they are shown."""

import sys
from collections.abc import Callable, Sequence
from importlib import import_module
from typing import TYPE_CHECKING

from PySide6.QtCore import QSettings
from PySide6.QtWidgets import QApplication

from tubeshelf import __version__
from tubeshelf.services.changes import Changes, Kind
from tubeshelf.ui.page import Page
from tubeshelf.ui.place import Hit, Place
from tubeshelf.ui.theme import Scheme, Theme
from tubeshelf.ui.trouble import Trouble, log_folder
from tubeshelf.ui.window import Hooks, MainWindow, PageSpec, settings_file

if TYPE_CHECKING:
    from tubeshelf.services.shop import Shop

ABOUT = f"""tubeshelf {__version__}

Bench records for people who service vacuum-tube equipment.

The program advises; it never says that a set is safe to power. Tubes work at lethal voltages, which stay \
after the plug is out. Follow your local codes; where the law asks for a qualified or licensed person, that \
person decides."""

PAGE_OF = {
    Kind.JOB: "bench",
    Kind.ITEM: "shelf",
    Kind.TYPE: "types",
    Kind.TESTER: "testers",
}
"""The page that shows a thing of each kind which the search field finds."""


class Program:
    """The window with the shop behind it, which is opened once, after the first picture."""

    def __init__(self, app: QApplication, open_the_shop: Callable[[], "Shop"], settings: QSettings) -> None:
        self._open_the_shop = open_the_shop
        self._shop: Shop | None = None
        self.theme = Theme(app, Scheme(str(settings.value("scheme", str(Scheme.SYSTEM)))))
        hooks = Hooks(find=self._find, take_back=self._take_back)
        self.window = MainWindow(self._pages(), settings=settings, hooks=hooks, about=ABOUT)

    @property
    def shop(self) -> "Shop":
        """The shop, opened at the first question."""
        if self._shop is None:
            self._shop = self._open_the_shop()
            if self._shop.record.read_only:
                self.window.say(self._shop.record.read_only)
        return self._shop

    def close(self) -> None:
        """Close the record."""
        if self._shop is not None:
            self._shop.record.close()

    def _pages(self) -> Sequence[PageSpec]:
        return (
            PageSpec("bench", "&Bench", lambda: self._page("bench", "BenchPage")),
            PageSpec("jobs", "&Jobs", lambda: self._page("jobs", "JobsPage")),
            PageSpec("shelf", "&Shelf", lambda: self._page("shelf", "ShelfPage")),
            PageSpec("types", "&Types", lambda: self._page("types", "TypesPage")),
            PageSpec("testers", "T&esters", lambda: self._page("testers", "TestersPage")),
            PageSpec("settings", "Settings", lambda: self._page("settings", "SettingsPage"), False, "Ctrl+,"),
            PageSpec("help", "Help", _help, False, "Shift+F1"),
        )

    def _page(self, module: str, name: str) -> Page:
        """A page, imported now. Each is given the shop and the window it stands in."""
        shop = self.shop
        page: Page = getattr(import_module(f"tubeshelf.ui.pages.{module}"), name)(shop, self.window)
        return page

    def _find(self, text: str) -> Sequence[Hit]:
        from tubeshelf.services.find import find_anything

        return [
            Hit(find.title, find.sub, Place(PAGE_OF[find.kind], find.kind, find.thing_id))
            for find in find_anything(self.shop, text=text)
        ]

    def _take_back(self) -> Changes | None:
        from tubeshelf.services.undo import take_back

        return take_back(self.shop)


def _help() -> Page:
    from tubeshelf.ui.help import HelpPage

    return HelpPage()


def run(open_the_shop: Callable[[], "Shop"]) -> int:
    """Open the window and stay until it is closed; gives the exit status."""
    app = QApplication(sys.argv[:1])
    app.setApplicationName("tubeshelf")
    app.setApplicationVersion(__version__)
    settings = QSettings(str(settings_file()), QSettings.Format.IniFormat)
    trouble = Trouble(app, log_folder())
    program = Program(app, open_the_shop, settings)
    trouble.speak_through(program.window.fail)
    program.window.show()
    status = app.exec()
    program.close()
    trouble.uninstall()
    return status
