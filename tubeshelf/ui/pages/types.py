"""The Types page: the table of types with the shop's own values over it, and a data sheet of each."""

from collections.abc import Callable, Sequence
from functools import partial

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QHBoxLayout, QWidget

from tubeshelf.domain.types import Substitute
from tubeshelf.services.changes import Changes, Kind
from tubeshelf.services.shop import Shop
from tubeshelf.services.types import list_types
from tubeshelf.services.types_edit import drop_substitute, retire_type
from tubeshelf.services.views.types import TypeRow
from tubeshelf.ui.bridge import Bridge
from tubeshelf.ui.page import Page
from tubeshelf.ui.pages.types_detail import ACTS
from tubeshelf.ui.pages.types_list import TypeList
from tubeshelf.ui.pages.types_pane import TypePane, show_distribution
from tubeshelf.ui.parts.buttons import Act
from tubeshelf.ui.parts.form import Choice
from tubeshelf.ui.parts.search import SearchField
from tubeshelf.ui.parts.split import Split
from tubeshelf.ui.runner import Runner


class TypesPage(Page):
    """Finds types, shows them, and changes what the shop says of them."""

    name = "types"
    shows = frozenset({Kind.TYPE, Kind.TESTER, Kind.ITEM})

    def __init__(self, shop: Shop, bridge: Bridge, runner: Runner | None = None) -> None:
        super().__init__()
        self._shop, self._bridge = shop, bridge
        self.search = SearchField("Find a designation, another name, a function", "Ctrl+K")
        self.which = Choice([("In use", False), ("With retired", True)], name="Which types", frame=True)
        self.new = Act("New type", "Ctrl+N", icon="add", primary=True)
        self.file = Act("From a file", "Ctrl+I", icon="receive")
        self.list, self.pane = TypeList(), TypePane(shop, runner or Runner(self))
        self.split = Split(self.list, self.pane, shares=(1, 1))
        self._shortcuts: list[QShortcut] = []
        self._compose()
        self._connect()

    def load(self) -> None:
        """Read the types that the search finds, and the one in hand."""
        text = self.search.text().strip()
        everything = list_types(self._shop, retired=self.which.currentData())
        rows = list_types(self._shop, find=text, retired=self.which.currentData()) if text else everything
        before = self.list.in_hand()
        self.list.show_types(rows, len(everything))
        self._say_title(everything)
        if text and (exact := self._shop.book.id_of(text)) is not None:
            self.list.table.take_in_hand(exact)
        row = self.list.in_hand()
        if row is not None and before is not None and row.type_id == before.type_id:
            self.pane.show_type(row.type_id)
        self._tell_keys()

    def keys(self) -> Sequence[tuple[str, str]]:
        """What works now."""
        if self.pane.currentWidget() is self.pane.entry:
            return (("Ctrl Enter", "save"), ("Esc", "back"), ("→", "take the grey text"))
        if self.pane.currentWidget() is self.pane.imports:
            return (
                ("Ctrl O", "choose a file"),
                ("F5", "read it again"),
                ("Ctrl Enter", "import"),
                ("Esc", "back"),
            )
        if self.pane.form is self.pane.may_go:
            return (("Esc", "close"),)
        if self.pane.form is not None:
            return (("Enter", "save"), ("Esc", "back"))
        if self.list.in_hand() is None:
            return (("Ctrl N", "new type"), ("Ctrl K", "search"))
        acts = [(key.replace("+", " "), words.lower()) for words, key in ACTS.values()]
        first = [("Enter", "data sheet")] if self.split.is_folded else []
        return (*first, *acts, ("Ctrl N", "new type"), ("Ctrl K", "search"))

    def first(self) -> QWidget:
        """The list."""
        return self.list.first

    def show_thing(self, kind: Kind, thing_id: int) -> None:
        """Bring a type into hand, wherever it is in the list."""
        if kind is not Kind.TYPE:
            return
        self._load()
        if not self.list.table.take_in_hand(thing_id):
            self._look_everywhere(thing_id)
        self.split.show_detail()

    def ask(self, name: str) -> None:
        """Do one of ``ACTS`` with the type in hand, or begin its form."""
        self.notice.clear()
        row = self.list.in_hand()
        if row is None and name not in ("new", "import"):
            self.notice.tell("Take a type in hand first.")
        elif row is not None and name == "retire":
            self._write(lambda: retire_type(self._shop, type_id=row.type_id, retired=not row.retired)[1])
        elif row is not None and name == "picture":
            self.attempt(lambda: show_distribution(self, row.designation, *self.pane.chosen_readings()))
        else:
            self.split.show_detail()
            self.attempt(lambda: self.pane.begin(name))
            self._tell_keys()

    def _compose(self) -> None:
        self.head.add(self.which, self.file, self.new)
        self.search.setProperty("role", "search")
        self.search.setMaximumWidth(520)
        line = QHBoxLayout()
        line.addWidget(self.search, 2)
        line.addStretch(1)
        self.column.addLayout(line)
        self.column.addWidget(self.split, 1)

    def _connect(self) -> None:
        self.search.paused.connect(lambda: self.attempt(self.load))
        self.search.returnPressed.connect(self._step_into_list)
        down = QShortcut(QKeySequence(Qt.Key.Key_Down), self.search)
        down.setContext(Qt.ShortcutContext.WidgetShortcut)
        down.activated.connect(self._step_into_list)
        self.which.currentIndexChanged.connect(lambda: self.attempt(self.load))
        self.new.clicked.connect(lambda: self.ask("new"))
        self.file.clicked.connect(lambda: self.ask("import"))
        self.list.new_wanted.connect(lambda: self.ask("new"))
        self.list.picked.connect(self._picked)
        self.list.opened.connect(self._opened)
        self.list.digit.connect(self._begin_search)
        self.pane.sheet.asked.connect(self.ask)
        self.pane.sheet.drop_wanted.connect(self._drop)
        self.pane.sheet.type_wanted.connect(self._go_to)
        self.pane.wrote.connect(self._bridge.publish)
        self.pane.made.connect(self._made)
        self.pane.left.connect(self._back_to_list)
        self.pane.currentChanged.connect(self._tell_keys)
        self.split.folded.connect(self._tell_keys)
        for name, (_, key) in (*ACTS.items(), ("edit", ("", "F2"))):
            self._shortcut(key, partial(self.ask, name))
        self._shortcut("Esc", self._back_to_list)

    def _shortcut(self, key: str, act: Callable[[], object]) -> None:
        """A key that works beside list and data sheet, but not within a form."""
        made = QShortcut(QKeySequence(key), self.split)
        made.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        made.activated.connect(act)
        self._shortcuts.append(made)

    def _tell_keys(self) -> None:
        for shortcut in self._shortcuts:
            shortcut.setEnabled(not self.pane.entering)
        self.keys_changed.emit()

    def _picked(self, row: object) -> None:
        self.attempt(lambda: self.pane.show_type(row.type_id if isinstance(row, TypeRow) else None))
        self._tell_keys()

    def _opened(self, row: object) -> None:
        if self.split.is_folded:
            self.split.show_detail()
        else:
            self.ask("edit")

    def _drop(self, entry: Substitute) -> None:
        intended, found = self._shop.book.id_of(entry.intended), self._shop.book.id_of(entry.found)
        if intended is not None and found is not None:
            self._write(lambda: drop_substitute(self._shop, intended_id=intended, found_id=found)[1])

    def _write(self, act: Callable[[], Changes]) -> None:
        done: list[Changes] = []
        if self.attempt(lambda: done.append(act())):
            self._bridge.publish(done[0])

    def _made(self, type_id: int) -> None:
        self.show_thing(Kind.TYPE, type_id)

    def _go_to(self, designation: str) -> None:
        if (type_id := self._shop.book.id_of(designation)) is not None:
            self.show_thing(Kind.TYPE, type_id)

    def _begin_search(self, digit: str) -> None:
        self.search.setText(digit)
        self.search.setFocus()

    def _back_to_list(self) -> None:
        self.split.show_list()
        self.list.first.setFocus()
        self._tell_keys()

    def _step_into_list(self) -> None:
        self.attempt(self.load)
        if self.list.in_hand() is not None:
            self.list.table.setFocus()

    def _look_everywhere(self, type_id: int) -> None:
        tube = self._shop.book.type(type_id)
        for field in (self.search, self.which):
            field.blockSignals(True)
        self.search.clear()
        if tube is not None and tube.retired:
            self.which.choose(True)
        for field in (self.search, self.which):
            field.blockSignals(False)
        self._load()
        self.list.table.take_in_hand(type_id)

    def _say_title(self, rows: Sequence[TypeRow]) -> None:
        own = sum(row.origin == "this shop" for row in rows)
        changed = sum(row.origin == "changed here" and not row.retired for row in rows)
        self.head.show_title(
            "Types",
            f"{len(rows):,} types",
            f"{own:,} of your own" if own else "",
            f"{changed:,} with values of your own" if changed else "",
        )
