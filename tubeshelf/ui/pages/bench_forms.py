"""Small sheets in the detail: a mark that is not what the tube is, and a socket changed on purpose."""

from collections.abc import Callable

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from tubeshelf.domain.catalog import Catalog
from tubeshelf.domain.jobs import FoundState
from tubeshelf.services.views.bench import SocketView
from tubeshelf.ui.pages.bench_field import offered
from tubeshelf.ui.parts.buttons import Act
from tubeshelf.ui.parts.form import Form, Tick
from tubeshelf.ui.parts.text import label


class SmallForm(QFrame):
    """A box with a question, a few fields, Save and Cancel. ``closed`` when it is done with."""

    saved = Signal()
    closed = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.setProperty("role", "box")
        self.title = label("", "strong", wrap=True)
        self.form = Form()
        self.near = label("", "small", wrap=True)
        save, cancel = Act("Save", shown="Enter", primary=True), Act("Cancel", shown="Esc")
        save.clicked.connect(self.saved)
        cancel.clicked.connect(self.leave)
        row = QHBoxLayout()
        row.addStretch(1)
        row.addWidget(cancel)
        row.addWidget(save)
        column = QVBoxLayout(self)
        column.setContentsMargins(12, 8, 12, 10)
        column.setSpacing(6)
        for widget in (self.title, self.form, self.near):
            column.addWidget(widget)
        column.addLayout(row)
        self.hide()

    def line(self, words: str, hint: str = "") -> QLineEdit:
        """Add a field of one line."""
        field = QLineEdit()
        field.setPlaceholderText(hint)
        self.form.row(words, field)
        return field

    def suggest(self, field: QLineEdit, catalog: Callable[[], Catalog]) -> None:
        """While a type is typed, say which names the table has."""

        def say(text: str) -> None:
            names = ", ".join(name for name, _ in offered(catalog(), text))
            self._say_near(f"In the type table: {names}" if names else "")

        field.textEdited.connect(say)

    def _say_near(self, words: str) -> None:
        self.near.setText(words)
        self.near.setVisible(bool(words))

    def open_at(self, title: str, field: QWidget) -> None:
        """Show it with the cursor in a field."""
        self.title.setText(title)
        self._say_near("")
        self.form.clear()
        self.show()
        field.setFocus()

    def leave(self) -> None:
        """Close without saving."""
        self.hide()
        self.closed.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter saves from every field, Escape leaves."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.saved.emit()
        elif event.key() == Qt.Key.Key_Escape:
            self.leave()
        else:
            super().keyPressEvent(event)


class FoundForm(SmallForm):
    """What is marked on the tube, what it is believed to be and why, and whether it is another one."""

    def __init__(self, catalog: Callable[[], Catalog]) -> None:
        super().__init__()
        self.marked = self.line("&Marked", "leave empty if it cannot be read")
        self.believed = self.line("&Is a", "the type you take it for")
        self.reason = self.line("B&ecause", "such as: basing and getter")
        self.another = Tick("Another tube than last time")
        self.form.row("", self.another)
        self.suggest(self.believed, catalog)

    def open_for(self, socket: SocketView) -> None:
        """Ask about the tube in a socket, filled with what was said before."""
        found = socket.found
        looked = found.state in (FoundState.TYPE, FoundState.UNREADABLE)
        self.marked.setText(found.marked)
        self.believed.setText(found.designation if looked else "")
        self.reason.setText(found.reason)
        self.another.setChecked(False)
        self.open_at(f"The tube in {socket.position}", self.believed if found.marked else self.marked)


class ModifiedForm(SmallForm):
    """Which type somebody changed a socket to on purpose."""

    def __init__(self, catalog: Callable[[], Catalog]) -> None:
        super().__init__()
        self.type_name = self.line("Now &for", "empty: as designed")
        self.note = self.line("&Note", "who, when, what was rewired")
        self.suggest(self.type_name, catalog)

    def open_for(self, socket: SocketView) -> None:
        """Ask about a socket."""
        self.type_name.setText(socket.intended if socket.modified else "")
        self.note.clear()
        title = f"{socket.position} was designed for a {socket.designed}. Changed on purpose?"
        self.open_at(title, self.type_name)
