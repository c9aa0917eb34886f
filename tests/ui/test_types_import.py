"""Types from a file in the window: choose, look at what it would do, mend, import, take back."""

from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import QSettings
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from tests.ui.drivers.jobs import answer_file_dialogue
from tests.ui.drivers.types import TypesDriver, open_types
from tubeshelf.services.undo import take_back
from tubeshelf.store.record import Record


@pytest.fixture
def types(
    file_record: Record, qtbot: QtBot, shown: Callable[..., QWidget], settings: QSettings
) -> TypesDriver:
    return open_types(file_record, qtbot, shown, settings)


def test_a_file_is_read_mended_imported_and_taken_back_by_keys(types: TypesDriver, tmp_path: Path) -> None:
    file = tmp_path / "ours.csv"
    file.write_text("designation,function,base,heaters\nQX1,triode,octal,6.3\n12AX7,,,\n", encoding="utf-8")
    sheet = types.page.pane.imports
    types.press("Ctrl+I")
    assert "designation, function, base" in sheet.lines.toPlainText()
    assert not sheet.act.isEnabled()
    types.press("Ctrl+O")
    answer_file_dialogue(types.qtbot, sheet, file)
    types.qtbot.waitUntil(lambda: "Line 2, heaters: “6.3” is no heater" in sheet.lines.toPlainText())
    assert dict(sheet.facts.shown)["problems"] == "1"
    types.window.activateWindow()  # a window manager does this when a dialogue closes
    types.qtbot.waitUntil(types.window.isActiveWindow)
    assert types.focus is sheet.again
    assert not sheet.act.isEnabled()

    file.write_text("designation,function,base,heaters\nQX1,triode,octal,6.3/0.3 2-7\n12AX7,,,\n")
    types.press("F5")
    types.qtbot.waitUntil(lambda: sheet.lines.toPlainText() == "QX1: new, triode, octal")
    assert dict(sheet.facts.shown) == {"new": "1", "changed": "0", "as they are": "1", "problems": "0"}
    types.press("Ctrl+Return")
    assert types.in_hand() == "QX1"
    assert types.window.status.said.text().startswith("1 type from ours.csv")
    take_back(types.shop)
    assert types.shop.book.id_of("QX1") is None


def test_a_file_that_is_no_table_is_told_on_the_sheet(types: TypesDriver, tmp_path: Path) -> None:
    file = tmp_path / "ours.csv"
    file.write_bytes(b"PK\x03\x04")
    types.press("Ctrl+I")
    sheet = types.page.pane.imports
    sheet.take(file)
    types.qtbot.waitUntil(lambda: "is a spreadsheet or an archive" in sheet.notice.text)
    assert not sheet.act.isEnabled()
    types.press("Esc")
    assert types.page.pane.currentWidget() is types.page.pane.sheet
