"""The Settings page: what the shop says of itself, how the window looks, where the record is."""

from collections.abc import Callable, Sequence
from pathlib import Path

from PySide6.QtWidgets import QHBoxLayout, QLabel, QVBoxLayout, QWidget

from tubeshelf.services.backup import backup_name, backup_record
from tubeshelf.services.changes import Changes, Kind
from tubeshelf.services.settings_form import read_settings, settings_fields
from tubeshelf.services.shop import Shop, save_settings
from tubeshelf.ui import tokens
from tubeshelf.ui.bridge import Bridge
from tubeshelf.ui.page import Page
from tubeshelf.ui.pages.settings_keys import KeysSheet
from tubeshelf.ui.parts.ask_file import ask_where
from tubeshelf.ui.parts.buttons import Act
from tubeshelf.ui.parts.fieldsheet import FieldSheet
from tubeshelf.ui.parts.form import Choice
from tubeshelf.ui.parts.named import TextLines
from tubeshelf.ui.parts.sheet import Sheet, section
from tubeshelf.ui.parts.text import label
from tubeshelf.ui.runner import Runner
from tubeshelf.ui.signs import USUAL, Signs
from tubeshelf.ui.theme import Scheme

_SCHEMES = (("As the system", Scheme.SYSTEM), ("Light", Scheme.LIGHT), ("Dark", Scheme.DARK))
_SAVED = "Every entry is in the record as soon as it is made. A copy elsewhere helps when the disk fails."


class ShopForm(FieldSheet):
    """What goes on papers and what estimates start from."""

    def __init__(self, shop: Shop) -> None:
        super().__init__("The workshop", "Save")
        self._shop = shop
        self.back.hide()
        self.back.setEnabled(False)
        form = self.add_form("On papers")
        self.name = form.line("name", "&Name", "The workshop")
        form.add("address", "&Address", TextLines(3))
        form.add("old_tubes", "&Old tubes", TextLines(2, "what the statement says of them"))
        form.add("warranty", "&Warranty", TextLines(2, "what the statement says of it"))
        form = self.add_form("For estimates and checks")
        form.line("currency", "&Currency", "such as EUR; empty: none shown")
        form.line("labour", "Usual &labour", "such as 45.00")
        form.line("estimate_days", "Estimate holds, &days", "empty: no term")
        form.line("warranty_days", "Warrant&y, days", "empty: no term", "Counted from a job’s closing day.")
        form.line(
            "high_line_v", "&Highest line, V", "125", "On a 117 V supply: heater strings are checked at it."
        )
        self.body.addStretch(1)

    def show_settings(self) -> None:
        """As they are in the record."""
        self.fill(settings_fields(self._shop.settings))

    def save(self) -> None:
        """Keep them."""
        if (changes := self.keep(self._write)) is not None:
            self.saved.emit(changes)

    def _write(self) -> Changes:
        return save_settings(self._shop, settings=read_settings(self.texts()))[1]


class SettingsPage(Page):
    """``choose_scheme`` is called with the look that is chosen."""

    name = "settings"
    shows = frozenset({Kind.SETTING})

    def __init__(
        self,
        shop: Shop,
        bridge: Bridge,
        *,
        scheme: Scheme = Scheme.SYSTEM,
        choose_scheme: Callable[[Scheme], None] | None = None,
        signs: Signs = USUAL,
        choose_signs: Callable[[Signs], None] | None = None,
        runner: Runner | None = None,
    ) -> None:
        super().__init__()
        self._shop, self._bridge = shop, bridge
        self._runner = runner or Runner(self)
        self.form = ShopForm(shop)
        self.form.saved.connect(self._bridge.publish)
        self.scheme = Choice(_SCHEMES)
        self.scheme.choose(scheme)
        self.scheme.setEnabled(choose_scheme is not None)
        if choose_scheme is not None:
            self.scheme.activated.connect(lambda: choose_scheme(self.scheme.currentData()))
        self.signs = KeysSheet(signs)
        self.signs.setEnabled(choose_signs is not None)
        if choose_signs is not None:
            self.signs.chosen.connect(choose_signs)
        self.signs.said.connect(self.said)
        self.where = label(shop.record.where, wrap=True)
        self.backup = Act("Back up now", "Ctrl+B", icon="save")
        self.backup.clicked.connect(self._ask_where)
        self.head.show_title("Settings")
        self._compose()

    def load(self) -> None:
        """Show the settings as they are in the record."""
        self.form.show_settings()

    def keys(self) -> Sequence[tuple[str, str]]:
        """What works here."""
        return (("Ctrl Enter", "save"), ("Ctrl B", "back up now"))

    def first(self) -> QWidget:
        """The name of the workshop."""
        return self.form.name

    def back_up(self, to: Path) -> None:
        """Copy the record to a new file, and say so or what kept it."""
        self.notice.clear()
        self._runner.run(
            "Backing up",
            lambda ticket: backup_record(self._shop, to=to),
            self._backed_up,
            self.notice.fail,
        )

    def _backed_up(self, words: str) -> None:
        self.notice.tell(f"{words}.")
        self.said.emit(words)

    def _ask_where(self) -> None:
        ask_where(self, "Back up the record", backup_name(self._shop), {"tubeshelf": "Record"}, self.back_up)

    def _compose(self) -> None:
        looks, record = Sheet("Appearance"), Sheet("The record")
        line = QHBoxLayout()
        line.setSpacing(tokens.MARGIN)
        name = QLabel("Loo&k")
        name.setBuddy(self.scheme)
        self.scheme.setAccessibleName("Look")
        line.addWidget(name)
        line.addWidget(self.scheme)
        line.addStretch(1)
        looks.body.addLayout(line)
        for part in (section("It is here"), self.where, label(_SAVED, "soft", wrap=True)):
            record.body.addWidget(part)
        below = QHBoxLayout()
        below.addWidget(self.backup)
        below.addStretch(1)
        record.body.addLayout(below)
        side = QWidget()
        column = QVBoxLayout(side)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(tokens.GAP)
        column.addWidget(looks)
        column.addWidget(self.signs, 1)
        column.addWidget(record)
        row = QHBoxLayout()
        row.setSpacing(tokens.GAP)
        row.addWidget(self.form, 3)
        row.addWidget(side, 2)
        self.column.addLayout(row, 1)
