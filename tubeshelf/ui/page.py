"""What every page is: a title, its keys, and how it learns of changes."""

from collections.abc import Callable, Sequence

from PySide6.QtCore import Signal
from PySide6.QtGui import QFocusEvent, QShowEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget

from tubeshelf.domain.errors import UserError
from tubeshelf.services.changes import Changes, Kind
from tubeshelf.ui import tokens
from tubeshelf.ui.parts.head import TitleLine
from tubeshelf.ui.parts.notice import Notice


class Page(QWidget):
    """Base of all pages.

    ``said`` carries words for the status line, ``go`` a ``Place`` to go to, ``keys_changed`` that
    other keys work now. A subclass sets ``name`` and ``shows``, fills ``column`` and overrides
    ``load``, and where it has them ``keys``, ``first``, ``show_thing`` and ``print_out``.
    """

    said = Signal(str)
    go = Signal(object)
    keys_changed = Signal()

    name = ""
    shows: frozenset[Kind] = frozenset()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._stale = True
        self.head = TitleLine()
        self.notice = Notice()
        self.column = QVBoxLayout(self)
        self.column.setContentsMargins(tokens.MARGIN, tokens.GAP, tokens.MARGIN, tokens.MARGIN)
        self.column.setSpacing(10)
        self.column.addWidget(self.head)
        self.column.addWidget(self.notice)

    def load(self) -> None:
        """Read what the page shows and show it."""

    def keys(self) -> Sequence[tuple[str, str]]:
        """The (key, what it does) that work now."""
        return ()

    def show_thing(self, kind: Kind, thing_id: int) -> None:
        """Bring a thing of that kind into hand."""

    def first(self) -> QWidget | None:
        """Where the keyboard begins on this page.

        Not a focus proxy: with one, Tab would jump over all that stands before it.
        """
        return None

    def print_out(self) -> None:
        """Ctrl P: what this page puts on paper."""
        self.notice.tell("There is nothing to print on this page.")

    def may_close(self) -> bool:
        """Whether the window may be closed now; if not, the page asks what it has to."""
        return True

    def reload(self, changes: Changes) -> None:
        """Take notice of changes: at once if the page is on show, else when it is shown next.

        The page that began the act knows already.
        """
        if changes.origin == self.name != "" or not any(changes.touches(kind) for kind in self.shows):
            return
        if self.isVisible():
            self._load()
        else:
            self._stale = True

    def attempt(self, act: Callable[[], object]) -> bool:
        """Do something that may be refused; a refusal is said on the page. True if it was done."""
        self.notice.clear()
        try:
            act()
        except UserError as error:
            self.notice.fail(error.sentence)
            return False
        return True

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Go on to where the keyboard begins."""
        super().focusInEvent(event)
        if (first := self.first()) is not None:
            first.setFocus(event.reason())

    def showEvent(self, event: QShowEvent) -> None:
        """Load if something changed meanwhile."""
        super().showEvent(event)
        if self._stale:
            self._load()

    def _load(self) -> None:
        self._stale = False
        try:
            self.load()
        except UserError as error:
            self._stale = True
            self.notice.fail(error.sentence)
