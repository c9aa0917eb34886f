"""The Testers page: the instruments of the bench, their limits and what to dial in."""

from collections.abc import Callable, Sequence

from PySide6.QtCore import QSignalBlocker, Qt
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QStackedWidget, QWidget

from tubeshelf.services.changes import Changes, Kind
from tubeshelf.services.setting_lines import retire_line
from tubeshelf.services.shop import Shop
from tubeshelf.services.testers import list_testers, retire_tester
from tubeshelf.services.views.types import SettingLineView, TesterDetail
from tubeshelf.ui.bridge import Bridge
from tubeshelf.ui.page import Page
from tubeshelf.ui.pages.testers_form import TesterForm
from tubeshelf.ui.pages.testers_list import TesterList
from tubeshelf.ui.pages.testers_sheet import TesterSheet
from tubeshelf.ui.parts.buttons import Act
from tubeshelf.ui.parts.empty import Empty
from tubeshelf.ui.parts.sheet import Sheet
from tubeshelf.ui.parts.split import Split

_NOTHING = "The tester in hand shows here: its scale, how well it repeats, and a line for each test."


class TestersPage(Page):
    """Adds and changes testers and their setting lines."""

    name = "testers"
    shows = frozenset({Kind.TESTER, Kind.TYPE})

    def __init__(self, shop: Shop, bridge: Bridge) -> None:
        super().__init__()
        self._shop, self._bridge = shop, bridge
        self.list, self.sheet, self.form = TesterList(), TesterSheet(shop), TesterForm(shop)
        self.new = Act("New tester", "Ctrl+N", icon="add", primary=True)
        self._nothing = Sheet()
        self._nothing.body.addWidget(Empty(_NOTHING), 1)
        self.pane = QStackedWidget()
        for view in (self._nothing, self.sheet, self.form):
            self.pane.addWidget(view)
        self.split = Split(self.list, self.pane, shares=(1, 3))
        self.head.add(self.new)
        self.column.addWidget(self.split, 1)
        self._connect()

    def load(self) -> None:
        """Read the testers, and the lines of the one in hand."""
        before = self.list.in_hand()
        testers = list_testers(self._shop)
        self.list.show_testers(testers)
        tester = self.list.in_hand()
        if tester is not None and before is not None and tester.id == before.id:
            self._picked(tester)
        self._say_title(testers)
        self.keys_changed.emit()

    def keys(self) -> Sequence[tuple[str, str]]:
        """What works now."""
        if self.pane.currentWidget() is self.form:
            return (("Ctrl Enter", "save"), ("Esc", "back"))
        if self.list.in_hand() is None:
            return (("Ctrl N", "new tester"),)
        return (
            ("Enter", "to its lines"),
            ("F2", "edit tester, cell"),
            ("Ctrl L", "add line"),
            ("Del", "retire line"),
            ("Esc", "back to the list"),
            ("Ctrl N", "new tester"),
        )

    def first(self) -> QWidget:
        """The list."""
        return self.list.first

    def show_thing(self, kind: Kind, thing_id: int) -> None:
        """Bring a tester into hand; of a type, its first line on the tester in hand."""
        self._load()
        if kind is Kind.TESTER:
            self.list.table.take_in_hand(thing_id)
        self.split.show_detail()

    def new_tester(self) -> None:
        """Begin a tester."""
        self._enter_form()
        self.form.begin_new()

    def edit_tester(self) -> None:
        """Change the tester in hand."""
        if (tester := self.list.in_hand()) is not None:
            self._enter_form()
            self.form.edit(tester)

    def _connect(self) -> None:
        self.new.clicked.connect(self.new_tester)
        self.list.new_wanted.connect(self.new_tester)
        self.list.picked.connect(self._picked)
        self.list.opened.connect(lambda: self._to_lines())
        self.sheet.edit_wanted.connect(self.edit_tester)
        self.sheet.retire_wanted.connect(self._retire)
        self.sheet.line_retired.connect(self._retire_line)
        self.sheet.wrote.connect(self._cell_kept)
        self.form.left.connect(self._leave_form)
        self.form.saved.connect(self._saved)
        edit = QShortcut(QKeySequence("F2"), self.list)
        edit.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        edit.activated.connect(self.edit_tester)
        back = QShortcut(QKeySequence("Esc"), self.sheet.table)
        back.setContext(Qt.ShortcutContext.WidgetShortcut)
        back.activated.connect(self._back_to_list)

    def _picked(self, tester: object) -> None:
        if isinstance(tester, TesterDetail):
            self.attempt(lambda: self.sheet.show_tester(tester))
        if self.pane.currentWidget() is not self.form:
            self.pane.setCurrentWidget(self.sheet if isinstance(tester, TesterDetail) else self._nothing)
        self.keys_changed.emit()

    def _to_lines(self) -> None:
        self.split.show_detail()
        self.sheet.table.setFocus()

    def _enter_form(self) -> None:
        self.notice.clear()
        self.pane.setCurrentWidget(self.form)
        self.split.show_detail()
        self.keys_changed.emit()

    def _leave_form(self) -> None:
        self.pane.setCurrentWidget(self.sheet if self.list.in_hand() is not None else self._nothing)
        self._back_to_list()

    def _back_to_list(self) -> None:
        self.split.show_list()
        self.list.first.setFocus()
        self.keys_changed.emit()

    def _saved(self, changes: Changes) -> None:
        self._leave_form()
        self._bridge.publish(changes)
        if self.form.saved_id is not None:
            self.show_thing(Kind.TESTER, self.form.saved_id)

    def _retire(self) -> None:
        tester = self.list.in_hand()
        if tester is not None:
            self._write(lambda: retire_tester(self._shop, tester_id=tester.id, retired=not tester.retired)[1])

    def _retire_line(self, line: SettingLineView) -> None:
        self._write(lambda: retire_line(self._shop, line_id=line.id)[1])

    def _cell_kept(self, changes: Changes) -> None:
        """The table has it already; the list counts its lines anew."""
        with QSignalBlocker(self.list):
            self.list.show_testers(list_testers(self._shop))
        self._bridge.publish(changes)

    def _write(self, act: Callable[[], Changes]) -> None:
        done: list[Changes] = []
        if self.attempt(lambda: done.append(act())):
            self._bridge.publish(done[0])

    def _say_title(self, testers: Sequence[TesterDetail]) -> None:
        used = [tester for tester in testers if not tester.retired]
        lines = sum(tester.lines for tester in used)
        said = f"{len(used)} {'tester' if len(used) == 1 else 'testers'}" if used else ""
        self.head.show_title("Testers", said, f"{lines:,} setting lines" if lines else "")
