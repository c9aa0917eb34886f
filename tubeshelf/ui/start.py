"""Starting the window: painted first, then the record is opened and the pages are built as they are shown."""

import sys
from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from PySide6.QtCore import QSettings
from PySide6.QtWidgets import QApplication

from tubeshelf import __version__
from tubeshelf.domain.errors import UserError
from tubeshelf.paths import log_folder
from tubeshelf.services.changes import Changes, Kind
from tubeshelf.ui.lean import settle
from tubeshelf.ui.place import Hit, Place
from tubeshelf.ui.theme import Scheme, Theme
from tubeshelf.ui.trouble import Trouble
from tubeshelf.ui.window import Hooks, MainWindow, PageSpec, settings_file

if TYPE_CHECKING:
    from tubeshelf.services.shop import Shop
    from tubeshelf.ui.page import Page

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
    """The window with the shop behind it, which is opened once, after the first picture.

    ``refusal`` says why the record could not be opened, as long as it could not.
    """

    def __init__(self, app: QApplication, open_the_shop: Callable[[], "Shop"], settings: QSettings) -> None:
        self._open_the_shop = open_the_shop
        self._settings = settings
        self._shop: Shop | None = None
        self.refusal = ""
        self.theme = Theme(app, Scheme(str(settings.value("scheme", str(Scheme.SYSTEM)))))
        hooks = Hooks(find=self._find, take_back=self._take_back)
        self.window = MainWindow(self._pages(), settings=settings, hooks=hooks, about=ABOUT)

    @property
    def shop(self) -> "Shop":
        """The shop, opened at the first question. Raises UserError if that cannot be done."""
        if self._shop is None:
            try:
                self._shop = self._open_the_shop()
            except UserError as error:
                self.refusal = error.sentence
                raise
            self.refusal = ""
            if self._shop.record.read_only:
                self.window.keep_telling(self._shop.record.read_only)
        return self._shop

    def close(self) -> None:
        """Close the record."""
        if self._shop is not None:
            self._shop.record.close()

    def _pages(self) -> Sequence[PageSpec]:
        return (
            PageSpec("bench", "&Bench", self._bench),
            PageSpec("jobs", "&Jobs", self._jobs),
            PageSpec("shelf", "&Shelf", self._shelf),
            PageSpec("types", "&Types", self._types),
            PageSpec("testers", "T&esters", self._testers),
            PageSpec("settings", "Settings", self._settings_page, in_bar=False, shortcut="Ctrl+,"),
            PageSpec("help", "Help", _help, in_bar=False, shortcut="Shift+F1"),
        )

    def _bench(self) -> "Page":
        from tubeshelf.ui.pages.bench import BenchPage
        from tubeshelf.ui.printing import papers_for

        papers = papers_for(self.window, self.shop)
        return BenchPage(
            self.shop,
            self.window.bridge,
            print_retube=papers.retube,
            show_picture=papers.picture,
            last_job=self._last_job(),
            remember=lambda job_id: self._settings.setValue("job", [self.shop.record.where, job_id]),
        )

    def _last_job(self) -> int | None:
        """The job that was on the bench when this record was open last."""
        match self._settings.value("job"):
            case [where, job_id] if where == self.shop.record.where:
                return int(job_id)
        return None

    def _jobs(self) -> "Page":
        from tubeshelf.ui.pages.jobs import JobsPage
        from tubeshelf.ui.printing import papers_for

        return JobsPage(self.shop, self.window.bridge, papers_for(self.window, self.shop))

    def _shelf(self) -> "Page":
        from tubeshelf.ui.pages.shelf import ShelfPage

        return ShelfPage(self.shop, self.window.bridge)

    def _types(self) -> "Page":
        from tubeshelf.ui.pages.types import TypesPage

        return TypesPage(self.shop, self.window.bridge, self.window.runner)

    def _testers(self) -> "Page":
        from tubeshelf.ui.pages.testers import TestersPage

        return TestersPage(self.shop, self.window.bridge)

    def _settings_page(self) -> "Page":
        from tubeshelf.ui.pages.settings import SettingsPage

        return SettingsPage(
            self.shop,
            self.window.bridge,
            scheme=self.theme.scheme,
            choose_scheme=self._choose_scheme,
            runner=self.window.runner,
        )

    def _choose_scheme(self, scheme: Scheme) -> None:
        self.theme.choose(scheme)
        self._settings.setValue("scheme", str(scheme))

    def _find(self, text: str) -> Sequence[Hit]:
        from tubeshelf.services.find import find_anything

        return [
            Hit(find.title, find.sub, Place(PAGE_OF[find.kind], find.kind, find.thing_id))
            for find in find_anything(self.shop, text=text)
        ]

    def _take_back(self) -> Changes | None:
        from tubeshelf.services.undo import take_back

        return take_back(self.shop)


def _help() -> "Page":
    from tubeshelf.ui.help import HelpPage

    return HelpPage()


def run(open_the_shop: Callable[[], "Shop"]) -> int:
    """Open the window and stay until it is closed; gives the exit status.

    Raises UserError in the end if the record could not be opened, which the window has told already.
    """
    # Named here, because asking for the style, or setting one, builds PySide's class of all that a style has.
    app = QApplication([sys.argv[0], "-style", "fusion"])
    app.setApplicationName("tubeshelf")
    app.setApplicationVersion(__version__)
    settings = QSettings(str(settings_file()), QSettings.Format.IniFormat)
    trouble = Trouble(app, log_folder())
    program = Program(app, open_the_shop, settings)
    trouble.speak_through(program.window.fail)
    program.window.filled.connect(settle)
    program.window.show()
    program.window.activateWindow()
    status = app.exec()
    program.close()
    trouble.uninstall()
    if program.refusal:
        raise UserError(program.refusal)
    return status
