"""The Shelf page: every spare, where it lies, what it read, for whom it is kept."""

from collections.abc import Callable, Sequence
from functools import partial

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QHBoxLayout, QWidget

from tubeshelf.services.changes import Kind
from tubeshelf.services.shelf_detail import item_detail
from tubeshelf.services.shelf_search import search, understood
from tubeshelf.services.shop import Shop
from tubeshelf.services.views.shelf import ItemView, ShelfView
from tubeshelf.ui.bridge import Bridge
from tubeshelf.ui.page import Page
from tubeshelf.ui.pages.shelf_acts import ACTS, keys_for, why_not
from tubeshelf.ui.pages.shelf_list import ShelfList
from tubeshelf.ui.pages.shelf_pane import ShelfPane
from tubeshelf.ui.parts.buttons import Act
from tubeshelf.ui.parts.chips import Chips
from tubeshelf.ui.parts.search import SearchField
from tubeshelf.ui.parts.split import Split
from tubeshelf.ui.parts.text import label

SHOWN = 500
"""Rows that are read at once; the rest when it is asked for."""


class ShelfPage(Page):
    """Finds, receives, reads, moves, promises and installs spares."""

    name = "shelf"
    shows = frozenset({Kind.ITEM, Kind.JOB, Kind.TYPE, Kind.TESTER, Kind.SETTING})

    def __init__(self, shop: Shop, bridge: Bridge) -> None:
        super().__init__()
        self._shop, self._bridge = shop, bridge
        self._limit: int | None = SHOWN
        self.search = SearchField("Find a tag, type, bin, verdict, free", "Ctrl+L")
        self.chips, self.found = Chips(), label("", "soft")
        self.list, self.pane = ShelfList(), ShelfPane(shop)
        self.split = Split(self.list, self.pane)
        self._compose()
        self._connect()

    def load(self) -> None:
        """Read the rows that the search finds, and the one in hand."""
        text = self.search.text()
        self.pane.forget()
        view = search(self._shop, find=text, limit=self._limit)
        self.chips.show_chips(list(enumerate(words for _, words in understood(self._shop, find=text))))
        self.list.show_shelf(view, searched=bool(text.strip()))
        self._say_title(view)
        self.keys_changed.emit()

    def keys(self) -> Sequence[tuple[str, str]]:
        """What works now."""
        if self.pane.form is not None:
            return (("Enter", "save"), ("Tab", "next field"), ("Esc", "back to the list"))
        item = self.list.in_hand()
        always = (("Ctrl R", "receive"), ("Ctrl L", "search"))
        return always if item is None else (*keys_for(item), *always)

    def first(self) -> QWidget:
        """The list."""
        return self.list.first

    def show_thing(self, kind: Kind, thing_id: int) -> None:
        """Bring a tube or lot into hand, wherever it is; of a type, all of it."""
        if kind is Kind.TYPE:
            self._look_for(self._shop.book.designation(thing_id))
            return
        if kind is not Kind.ITEM:
            return
        self._load()
        if not self._take(thing_id):
            self._look_for("")
        if not self._take(thing_id):
            self._show_all()
        if not self._take(thing_id):
            self._look_for(item_detail(self._shop, item_id=thing_id).item.tag)
            self._take(thing_id)
        self.split.show_detail()

    def ask(self, name: str) -> None:
        """Open the form of an act, or say why there is none."""
        self.notice.clear()
        item, act = self.list.in_hand(), next((a for a in ACTS if a.name == name), None)
        if act is not None and item is None:
            self.notice.tell("Take a tube or lot in hand first.")
        elif act is not None and item is not None and not act.can(item):
            self.notice.tell(why_not(act, item))
        elif self.attempt(lambda: self.pane.begin(name, tuple(self.list.chosen()))):
            self.split.show_detail()
            self.keys_changed.emit()

    # ---- Composing

    def _compose(self) -> None:
        receive = Act("Receive", "Ctrl+R", icon="receive")
        receive.clicked.connect(lambda: self.ask("receive"))
        self.head.add(receive)
        self.search.setProperty("role", "search")
        self.search.setMaximumWidth(420)
        line = QHBoxLayout()
        line.addWidget(self.search, 3)
        line.addWidget(self.chips, 4)
        line.addWidget(self.found)
        self.column.addLayout(line)
        self.column.addWidget(self.split, 1)

    def _connect(self) -> None:
        self.search.paused.connect(lambda: self._searched())
        self.search.returnPressed.connect(self._step_into_list)
        self.chips.dropped.connect(self._drop_word)
        self.list.picked.connect(self._picked)
        self.list.opened.connect(lambda: self.split.show_detail())
        self.list.digit.connect(self._begin_tag)
        self.list.all_wanted.connect(self._show_all)
        self.list.new_wanted.connect(lambda: self.ask("receive"))
        self.pane.acts.asked.connect(self.ask)
        self.pane.wrote.connect(self._bridge.publish)
        self.pane.tagged.connect(self._take_new)
        self.pane.received.connect(self._take_new)
        self.pane.left.connect(self._back_to_list)
        self._key(Qt.Key.Key_Down, self.search, self._step_into_list)
        self._key(Qt.Key.Key_Escape, self.search, self._leave_search)
        for act in ACTS:
            self._key(act.key, self.list.table, partial(self.ask, act.name))
            self._key(act.key, self.pane.acts, partial(self.ask, act.name), within=True)
        self._key("F9", self.list.table, self.pane.acts.show_more)
        self._key("F9", self.pane.acts, self.pane.acts.show_more, within=True)
        self._key(Qt.Key.Key_Escape, self.pane.acts, self._back_to_list, within=True)
        for half in (self.list, self.pane):
            self.split.folded.connect(partial(setattr, half, "folded"))

    def _key(
        self, keys: str | Qt.Key, where: QWidget, act: Callable[[], None], *, within: bool = False
    ) -> None:
        """A key that works while a widget (or one ``within`` it) has the focus; elsewhere it is typing."""
        context = (
            Qt.ShortcutContext.WidgetWithChildrenShortcut if within else Qt.ShortcutContext.WidgetShortcut
        )
        key = QShortcut(QKeySequence(keys), where)
        key.setContext(context)
        key.activated.connect(act)

    # ---- Going about

    def _picked(self, item: object) -> None:
        self.attempt(lambda: self.pane.show_item(item if isinstance(item, ItemView) else None))
        self.keys_changed.emit()

    def _take(self, item_id: int) -> bool:
        return self.list.table.take_in_hand(item_id)

    def _take_new(self, item_id: int) -> None:
        """Bring into hand what came to be, without leaving the form that may still be open."""
        if not self._take(item_id):
            self._look_for("")
        if not self._take(item_id):
            self._show_all()
            self._take(item_id)

    def _back_to_list(self) -> None:
        self.split.show_list()
        self.list.first.setFocus()
        self.keys_changed.emit()

    # ---- Searching

    def _searched(self) -> None:
        self._limit = SHOWN
        self.attempt(self.load)

    def _look_for(self, text: str) -> None:
        self.search.blockSignals(True)
        self.search.setText(text)
        self.search.blockSignals(False)
        self._searched()

    def _show_all(self) -> None:
        self._limit = None
        self.attempt(self.load)

    def _drop_word(self, at: object) -> None:
        words = [word for word, _ in understood(self._shop, find=self.search.text())]
        self._look_for(" ".join(word for n, word in enumerate(words) if n != at))

    def _begin_tag(self, digit: str) -> None:
        self.search.setFocus()
        self.search.setText(digit)

    def _step_into_list(self) -> None:
        self._searched()
        if self.list.in_hand() is not None:
            self.list.table.setFocus()

    def _leave_search(self) -> None:
        self._look_for("")
        self.list.first.setFocus()

    def _say_title(self, view: ShelfView) -> None:
        facts = (
            f"{view.tubes:,} {'tube' if view.tubes == 1 else 'tubes'}",
            f"{view.types:,} {'type' if view.types == 1 else 'types'}",
            f"{view.promised:,} promised",
        )
        self.head.show_title("Shelf", *facts)
        self.found.setText(f"{view.total:,} found" if self.search.text().strip() else f"{view.total:,} rows")
