"""Starting the window: painted first, then the record is opened and the pages are built as they are shown."""

import sys
from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from PySide6.QtCore import QPoint, QSettings
from PySide6.QtWidgets import QApplication

from tubeshelf import __version__
from tubeshelf.domain.errors import UserError
from tubeshelf.paths import log_folder
from tubeshelf.services.changes import Changes, Kind
from tubeshelf.ui import tokens
from tubeshelf.ui.bridge import Bridges
from tubeshelf.ui.lean import settle
from tubeshelf.ui.place import Hit, Place
from tubeshelf.ui.signs import Signs, store_signs, stored_signs
from tubeshelf.ui.theme import Scheme, Theme
from tubeshelf.ui.trouble import Trouble
from tubeshelf.ui.window import Hooks, MainWindow, settings_file
from tubeshelf.ui.windowpages import WindowPages

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
    """Windows with the one shop behind them, which is opened once, after the first picture.

    ``window`` is the first of them. ``refusal`` says why the record could not be opened, as long as it could
    not.
    """

    def __init__(self, app: QApplication, open_the_shop: Callable[[], "Shop"], settings: QSettings) -> None:
        self._open_the_shop = open_the_shop
        self.settings = settings
        self._shop: Shop | None = None
        self.refusal = ""
        self.theme = Theme(app, Scheme(str(settings.value("scheme", str(Scheme.SYSTEM)))))
        self.signs = stored_signs(settings)
        self._bridges = Bridges()
        self.windows: list[MainWindow] = []
        self.window = self._make_window()

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
            for window in self.windows:
                self._tell_read_only(window)
        return self._shop

    def new_window(self) -> MainWindow:
        """Another window on the same record, or one that was closed, a little beside the one in use."""
        before = next((w for w in self.windows if w.isActiveWindow()), self.window)
        closed = next((w for w in self.windows if not w.isVisible()), None)
        window = closed or self._make_window()
        window.resize(before.size())
        window.move(before.pos() + QPoint(tokens.MARGIN * 2, tokens.MARGIN * 2))
        window.show()
        window.activateWindow()
        return window

    def quit(self) -> None:
        """Close every window, until one has something to ask."""
        all(window.close() for window in self.windows if window.isVisible())

    def fail(self, sentence: str) -> None:
        """Tell a sentence that nothing else has taken, in the window in use."""
        next((w for w in self.windows if w.isActiveWindow()), self.window).fail(sentence)

    def close(self) -> None:
        """Close the record."""
        if self._shop is not None:
            self._shop.record.close()

    def last_job(self) -> int | None:
        """The job that was put on the bench last in this record."""
        match self.settings.value("job"):
            case [where, job_id] if where == self.shop.record.where:
                return int(job_id)
        return None

    def remember_job(self, job_id: int) -> None:
        """Keep which job was put on the bench last."""
        self.settings.setValue("job", [self.shop.record.where, job_id])

    def choose_scheme(self, scheme: Scheme) -> None:
        """Wear another scheme, now and at the next start."""
        self.theme.choose(scheme)
        self.settings.setValue("scheme", str(scheme))

    def choose_signs(self, signs: Signs) -> None:
        """Drive the bench by these keys, now and at the next start."""
        self.signs = signs
        store_signs(self.settings, signs)

    def _make_window(self) -> MainWindow:
        pages = WindowPages(self)
        hooks = Hooks(
            find=self._find,
            take_back=self._take_back,
            do_again=self._do_again,
            new_window=self.new_window,
            large_figures=pages.toggle_large,
            quit=self.quit,
        )
        pages.window = MainWindow(pages.specs, settings=self.settings, hooks=hooks, about=ABOUT)
        self.windows.append(pages.window)
        self._bridges.join(pages.window.bridge)
        if self._shop is not None:
            self._tell_read_only(pages.window)
        return pages.window

    def _tell_read_only(self, window: MainWindow) -> None:
        if self._shop is not None and self._shop.record.read_only:
            window.keep_telling(self._shop.record.read_only)

    def _find(self, text: str) -> Sequence[Hit]:
        from tubeshelf.services.find import find_anything

        return [
            Hit(find.title, find.sub, Place(PAGE_OF[find.kind], find.kind, find.thing_id))
            for find in find_anything(self.shop, text=text)
        ]

    def _take_back(self) -> Changes | None:
        from tubeshelf.services.undo import take_back

        return take_back(self.shop)

    def _do_again(self) -> Changes | None:
        from tubeshelf.services.undo import do_again

        return do_again(self.shop)


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
    trouble.speak_through(program.fail)
    program.window.filled.connect(settle)
    program.window.show()
    program.window.activateWindow()
    status = app.exec()
    program.close()
    trouble.uninstall()
    if program.refusal:
        raise UserError(program.refusal)
    return status
