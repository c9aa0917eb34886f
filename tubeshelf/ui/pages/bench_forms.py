"""Small sheets in the detail: a mark that is not what the tube is, and a socket changed on purpose."""

from collections.abc import Callable

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QLineEdit, QWidget

from tubeshelf.domain.catalog import Catalog
from tubeshelf.domain.jobs import FoundState
from tubeshelf.services.views.bench import SocketView
from tubeshelf.ui.pages.bench_field import offered
from tubeshelf.ui.parts.boxform import BoxForm
from tubeshelf.ui.parts.form import Tick
from tubeshelf.ui.parts.text import label


class SocketForm(BoxForm):
    """Asks about a socket; ``saved`` when what was entered is to be kept."""

    saved = Signal()

    def __init__(self) -> None:
        super().__init__("Save")
        self._near = label("", "small", wrap=True)
        self.column.insertWidget(self.column.indexOf(self.trouble), self._near)
        self.left.connect(self.hide)

    def suggest(self, field: QLineEdit, catalog: Callable[[], Catalog]) -> None:
        """While a type is typed, say which names the table has."""

        def say(text: str) -> None:
            names = ", ".join(name for name, _ in offered(catalog(), text))
            self._say_near(f"In the type table: {names}" if names else "")

        field.textEdited.connect(say)

    def begin(self, title: str, field: QWidget) -> None:
        """Show it with the cursor in a field and nothing said yet."""
        self._say_near("")
        super().begin(title, field)

    def save(self) -> None:
        """Leave it to the page."""
        self.saved.emit()

    def _say_near(self, words: str) -> None:
        self._near.setText(words)
        self._near.setVisible(bool(words))


class FoundForm(SocketForm):
    """What is marked on the tube, what it is believed to be and why, and whether it is another one."""

    def __init__(self, catalog: Callable[[], Catalog]) -> None:
        super().__init__()
        self.marked = self.line("Mar&ked", "leave empty if it cannot be read")
        self.believed = self.line("&Is a", "the type you take it for")
        self.reason = self.line("Bec&ause", "such as: basing and getter")
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
        self.begin(f"The tube in {socket.position}", self.believed if found.marked else self.marked)


class ModifiedForm(SocketForm):
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
        self.begin(title, self.type_name)
