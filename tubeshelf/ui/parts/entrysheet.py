"""A whole sheet in which something is entered: its notice, errors beside the fields, its two ways out."""

from collections.abc import Callable

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeySequence, QShortcut, QShowEvent
from PySide6.QtWidgets import QScrollArea, QWidget

from tubeshelf.domain.errors import UserError
from tubeshelf.ui.parts.buttons import Act
from tubeshelf.ui.parts.form import Form
from tubeshelf.ui.parts.notice import Notice
from tubeshelf.ui.parts.sheet import Sheet
from tubeshelf.ui.parts.taborder import leave_by


class EntrySheet(Sheet):
    """A sheet to fill in. ``left`` when the user goes away from it, saved or not.

    A subclass fills ``body`` and overrides ``save``. What was typed stays until it is saved.
    """

    left = Signal()

    def __init__(self, title: str, act: str, *, back: str = "Back") -> None:
        super().__init__(title, scrolls=True)
        self.notice = Notice()
        self.body.addWidget(self.notice)
        self._foot = self.foot()
        self.back = Act(back, "Esc")
        self.back.clicked.connect(self.left)
        self.act = Act(act, "Ctrl+Return", primary=True, shown="Ctrl Enter")
        self.act.clicked.connect(self.save)
        keypad = QShortcut(QKeySequence("Ctrl+Enter"), self)
        keypad.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        keypad.activated.connect(self.save)
        self._foot.addWidget(self.back)
        self._foot.addStretch(1)
        self._foot.addWidget(self.act)
        if (area := self.findChild(QScrollArea)) is not None:
            # The entry may have the keyboard before the sheet is laid out, and is then cut at the edge.
            area.verticalScrollBar().rangeChanged.connect(self._reveal_entry)

    def showEvent(self, event: QShowEvent) -> None:
        """Tab goes from the last field to the way out; the buttons were there before the fields."""
        super().showEvent(event)
        leave_by(self, self.act, self.back)

    def save(self) -> None:
        """Keep what was entered and leave, or say what is wrong."""
        raise NotImplementedError

    def attempt(self, act: Callable[[], object]) -> bool:
        """Do something that may be refused; a refusal is said on the sheet. True if it was done."""
        self.notice.clear()
        try:
            act()
        except UserError as error:
            self.notice.fail(error.sentence)
            self.reveal(self.notice)
            return False
        return True

    def complain(self, wrong: dict[QWidget, str], *forms: Form) -> bool:
        """Say beside each field what is wrong with it and go to the first; True if anything is."""
        for form in forms:
            form.clear()
        for field, sentence in reversed(wrong.items()):
            next(form for form in forms if form.isAncestorOf(field)).complain(field, sentence)
        if wrong:
            self.reveal(next(iter(wrong)))
        return bool(wrong)

    def _reveal_entry(self) -> None:
        if (entry := self.focusWidget()) is not None:
            self.reveal(entry)

    def reveal(self, widget: QWidget) -> None:
        """Scroll to a part of the sheet."""
        if (area := self.findChild(QScrollArea)) is not None:
            area.ensureWidgetVisible(widget, 0, 40)
