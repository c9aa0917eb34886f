"""The window: painted before pages and services are imported, then filled with one page after the other."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QByteArray, QEvent, QSettings, Qt, QTimer, Signal
from PySide6.QtGui import QAction, QCloseEvent, QKeySequence, QPaintEvent, QShortcut
from PySide6.QtWidgets import QMainWindow, QStackedWidget, QVBoxLayout, QWidget

from tubeshelf.domain.errors import UserError
from tubeshelf.services.changes import Changes
from tubeshelf.ui import tokens
from tubeshelf.ui.bridge import Bridge
from tubeshelf.ui.icons import app_icon
from tubeshelf.ui.parts.keys import StatusLine
from tubeshelf.ui.place import Hit, Place
from tubeshelf.ui.runner import Runner
from tubeshelf.ui.topbar import TopBar

if TYPE_CHECKING:
    from tubeshelf.ui.page import Page
    from tubeshelf.ui.parts.empty import Empty


@dataclass(frozen=True, slots=True)
class PageSpec:
    """A page that can be shown. ``factory`` imports and builds it, at the first show.

    ``title`` marks its mnemonic with ``&``. Pages not ``in_bar`` are in the menu, with ``shortcut``.
    """

    name: str
    title: str
    factory: "Callable[[], Page]"
    in_bar: bool = True
    shortcut: str = ""


@dataclass(frozen=True, slots=True)
class Hooks:
    """What the window asks of the program without knowing it.

    ``take_back`` reverses the last act of this bench and gives its Changes, or None if there is none;
    ``do_again`` does again what was taken back last.
    ``new_window`` shows another window on the same record, ``large_figures`` opens and closes the view that
    is legible at two metres. ``quit`` closes every window; without it there is only this one.
    """

    find: Callable[[str], Sequence[Hit]] = lambda text: ()
    take_back: Callable[[], Changes | None] = lambda: None
    do_again: Callable[[], Changes | None] = lambda: None
    clock: Callable[[], datetime] = datetime.now
    new_window: Callable[[], object] = lambda: None
    large_figures: Callable[[], object] = lambda: None
    quit: Callable[[], object] | None = None


def settings_file() -> Path:
    """Where the window's state is kept."""
    import platformdirs

    return Path(platformdirs.user_config_dir("tubeshelf", appauthor=False)) / "window.ini"


class MainWindow(QMainWindow):
    """Top bar, one page, status line. ``bridge`` and ``runner`` are shared by all pages.

    ``filled`` says that the first page is on show, ``left`` that the window was closed.
    """

    filled = Signal()
    left = Signal()

    def __init__(
        self, pages: Sequence[PageSpec], *, settings: QSettings, hooks: Hooks | None = None, about: str = ""
    ) -> None:
        super().__init__()
        self._specs = {spec.name: spec for spec in pages}
        self._pages: dict[str, Page] = {}
        self._current: Page | None = None
        self._refusal: Empty | None = None
        self._settings = settings
        self._hooks = hooks or Hooks()
        self._about = about
        self._opened = False
        self.bridge = Bridge(self)
        self.runner = Runner(self)
        self.setWindowTitle("tubeshelf")
        self.setMinimumSize(1024, 640)
        self.stack = QStackedWidget()
        self.status = StatusLine()
        in_bar = [(spec.name, spec.title) for spec in pages if spec.in_bar]
        self.bar = TopBar(in_bar, lambda text: self._hooks.find(text), self._actions())
        self._compose()
        self._connect([name for name, _ in in_bar])
        self._restore()

    @property
    def current(self) -> "Page | None":
        """The page on show."""
        return self._current

    def use(self, hooks: Hooks) -> None:
        """Connect the window to the program, which may come later than the first picture."""
        self._hooks = hooks

    def open_page(self, name: str) -> "Page | None":
        """Show a page, building it if this is the first time; None if it could not be built."""
        try:
            page = self._pages.get(name) or self._build(name)
        except UserError as error:
            self._refused(name, error.sentence)
            return None
        self._current = page
        self.stack.setCurrentWidget(page)
        self.bar.show_current(name)
        self.setWindowTitle(f"{self._specs[name].title.replace('&', '')} – tubeshelf")
        self._show_keys()
        page.setFocus()
        return page

    def keep_telling(self, words: str) -> None:
        """Say above every page what holds as long as the window is open."""
        from tubeshelf.ui.parts.notice import Notice

        notice = Notice()
        line = QVBoxLayout()
        line.setContentsMargins(tokens.MARGIN, tokens.GAP, tokens.MARGIN, 0)
        line.addWidget(notice)
        self._column.insertLayout(1, line)
        notice.tell(words)

    def go(self, place: Place) -> None:
        """Show a page with a thing in hand."""
        page = self.open_page(place.page)
        if page is not None and place.kind is not None and place.thing_id is not None:
            page.show_thing(place.kind, place.thing_id)

    def say(self, words: str) -> None:
        """Words for the status line."""
        self.status.say(words)

    def fail(self, sentence: str) -> None:
        """A sentence that no page has taken: on the page that is on show."""
        if self.current is not None:
            self.current.notice.fail(sentence)
        else:
            self.say(sentence)

    def take_back(self) -> None:
        """Reverse the last act."""
        self._walk(self._hooks.take_back, "There is nothing to take back.")

    def do_again(self) -> None:
        """Do again what was taken back last."""
        self._walk(self._hooks.do_again, "There is nothing to do again.")

    def _walk(self, one_act: Callable[[], Changes | None], nothing: str) -> None:
        try:
            changes = one_act()
        except UserError as error:
            self.fail(error.sentence)
            return
        if changes is None:
            self.say(nothing)
        else:
            self.bridge.publish(changes)

    def quit(self) -> None:
        """Close all windows of the program."""
        (self._hooks.quit or self.close)()

    def show_keys(self) -> None:
        """F1: the keys of this page and of the window."""
        from tubeshelf.ui.keysheet import KeySheet

        page = self.current
        here = tuple(page.keys()) if page is not None else ()
        sheet = KeySheet(self, (("On this page", here), ("Everywhere", _EVERYWHERE)))
        if "help" in self._specs:
            sheet.help_wanted.connect(lambda: self.open_page("help"))
        sheet.show()
        sheet.setFocus()

    def show_about(self) -> None:
        """What program this is."""
        from PySide6.QtWidgets import QMessageBox

        box = QMessageBox(QMessageBox.Icon.NoIcon, "About tubeshelf", self._about, parent=self)
        box.setTextFormat(Qt.TextFormat.PlainText)
        box.setIconPixmap(app_icon().pixmap(64, 64))
        box.open()

    def paintEvent(self, event: QPaintEvent) -> None:
        """After the first picture the first page is built."""
        super().paintEvent(event)
        if not self._opened:
            self._opened = True
            QTimer.singleShot(0, self._open_first)

    def changeEvent(self, event: QEvent) -> None:
        """Coming back to the window, the keys may be others."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.ActivationChange and self._opened:
            self._show_keys()

    def closeEvent(self, event: QCloseEvent) -> None:
        """Remember how the window stood; nothing needs saving, since every entry already is.

        A page may have something to ask before: then it is shown, and the window stays.
        """
        for name, page in self._pages.items():
            if not page.may_close():
                self.open_page(name)
                event.ignore()
                return
        self._settings.setValue("geometry", self.saveGeometry())
        self._settings.setValue("page", self.current.name if self.current else "")
        self._settings.sync()
        self.runner.wait()
        super().closeEvent(event)
        self.left.emit()

    def _open_first(self) -> None:
        self.setWindowIcon(app_icon())
        if self.current is None:
            wanted = str(self._settings.value("page", ""))
            self.open_page(wanted if wanted in self._specs else next(iter(self._specs)))
        self.filled.emit()

    def _refused(self, name: str, sentence: str) -> None:
        """In place of a page that could not be built: why, and to try again."""
        from tubeshelf.ui.parts.empty import Empty

        if self._refusal is not None:
            self.stack.removeWidget(self._refusal)
            self._refusal.deleteLater()
        self._refusal = Empty(sentence, "Try again", icon="warning")
        self._refusal.asked.connect(lambda: self.open_page(name))
        self._current = None
        self.stack.addWidget(self._refusal)
        self.stack.setCurrentWidget(self._refusal)
        self.bar.show_current(name)
        self._show_keys()
        self._refusal.act.setFocus()

    def _build(self, name: str) -> "Page":
        page = self._specs[name].factory()
        page.name = name
        page.said.connect(self.say)
        page.go.connect(self.go)
        page.keys_changed.connect(self._show_keys)
        self.bridge.changed.connect(page.reload)
        self._pages[name] = page
        self.stack.addWidget(page)
        return page

    def _show_keys(self) -> None:
        here = tuple(self.current.keys()) if self.current is not None else ()
        self.status.foot.show_keys((*here, ("F1", "all keys")))

    def _told(self, changes: Changes) -> None:
        if changes.said:
            self.say(f"{changes.said}, {self._hooks.clock():%H:%M:%S}")

    def _print(self) -> None:
        if self.current is not None:
            self.current.print_out()

    def _actions(self) -> list[QAction]:
        made = [
            self._action("Take back", "Ctrl+Z", self.take_back),
            self._action("Do again", "Ctrl+Y", self.do_again, "Ctrl+Shift+Z"),
            self._action("Print", "Ctrl+P", self._print),
        ]
        for spec in self._specs.values():
            if not spec.in_bar:
                open_it = lambda _=False, name=spec.name: self.open_page(name)  # noqa: E731
                made.append(self._action(spec.title, spec.shortcut, open_it))
        made.append(self._action("Large figures", "F11", lambda: self._hooks.large_figures()))
        made.append(self._action("New window", "Shift+F11", lambda: self._hooks.new_window()))
        made.append(self._action("Keys", "F1", self.show_keys))
        if self._about:
            made.append(self._action("About tubeshelf", "", self.show_about))
        made.append(self._action("Quit", "Ctrl+Q", self.quit))
        return made

    def _action(self, words: str, shortcut: str, act: Callable[[], object], also: str = "") -> QAction:
        action = QAction(words, self)
        action.setShortcuts([QKeySequence(keys) for keys in (shortcut, also) if keys])
        action.triggered.connect(lambda: act())
        self.addAction(action)
        return action

    def _compose(self) -> None:
        whole = QWidget()
        column = self._column = QVBoxLayout(whole)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.bar)
        column.addWidget(self.stack, 1)
        column.addWidget(self.status)
        self.setCentralWidget(whole)

    def _connect(self, in_bar: Sequence[str]) -> None:
        self.bar.picked.connect(self.open_page)
        self.bar.finder.chosen.connect(lambda hit: self.go(hit.place))
        self.bridge.changed.connect(self._told)
        self.runner.busy.connect(self.status.busy)
        self.runner.idle.connect(self.status.rest)
        self.status.cancelled.connect(self.runner.cancel)
        for number, name in enumerate(in_bar, start=1):
            key = QShortcut(QKeySequence(f"Ctrl+{number}"), self)
            key.activated.connect(lambda name=name: self.open_page(name))

    def _restore(self) -> None:
        geometry = self._settings.value("geometry")
        if not isinstance(geometry, QByteArray) or not self.restoreGeometry(geometry):
            self.resize(1366, 768)


_EVERYWHERE = (
    ("Ctrl 1 … 5", "go to a page"),
    ("Ctrl F", "find a tag, type, bin, job, customer"),
    ("Ctrl Z", "take back the last act"),
    ("Ctrl Y", "do it again"),
    ("Ctrl P", "print"),
    ("Alt M", "menu"),
    ("F8", "details, in a narrow window"),
    ("Tab", "next field"),
    ("Ctrl ,", "settings"),
    ("F11", "large figures, on a second screen"),
    ("Shift F11", "new window, on the same record"),
    ("Shift F1", "help pages"),
    ("Ctrl Q", "quit"),
)
