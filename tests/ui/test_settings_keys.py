"""Moving the five keys of the bench on the Settings page."""

from collections.abc import Callable

import pytest
from PySide6.QtCore import QSettings
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from tubeshelf.services.shop import open_shop
from tubeshelf.store.record import Record
from tubeshelf.ui.pages.settings import SettingsPage
from tubeshelf.ui.pages.settings_keys import KeysSheet
from tubeshelf.ui.signs import Signs, stored_signs
from tubeshelf.ui.start import Program


@pytest.fixture
def program(
    file_record: Record, qapp: QApplication, settings: QSettings, shown: Callable[..., QWidget], qtbot: QtBot
) -> Program:
    made = Program(qapp, lambda: open_shop(file_record), settings)
    shown(made.window, 1366, 768)
    qtbot.waitUntil(lambda: made.window.current is not None)
    return made


@pytest.fixture
def keys(program: Program) -> KeysSheet:
    page = program.window.open_page("settings")
    assert isinstance(page, SettingsPage)
    return page.signs


def move(keys: KeysSheet, act: str, to: str) -> None:
    """Choose another key as the keyboard does: letter by letter in the list."""
    choice = keys.keys[act]
    choice.setFocus()
    QTest.keyClicks(choice, to)
    choice.activated.emit(choice.currentIndex())


def test_a_moved_key_holds_at_once_and_at_the_next_start(
    program: Program, keys: KeysSheet, settings: QSettings
) -> None:
    move(keys, "slash", "=")
    assert program.signs == Signs(slash="=")
    assert stored_signs(settings) == Signs(slash="=")
    assert program.window.status.said.text() == "Saved the keys of the bench on this computer"


def test_two_acts_on_one_key_are_told_in_one_sentence_and_not_kept(
    program: Program, keys: KeysSheet, settings: QSettings
) -> None:
    move(keys, "slash", "+")
    (said,) = [e for e in keys.findChildren(QWidget) if e.property("role") == "error" and e.isVisible()]
    assert said.property("text") == (
        "+ is “as intended, read again” already: choose another key for “take back”."
    )
    assert program.signs == Signs()
    assert stored_signs(settings) == Signs()
    move(keys, "plus", "#")
    assert program.signs == Signs(plus="#", slash="+"), "swapped one after the other"
    assert not said.isVisible()


def test_as_usual_puts_them_back(program: Program, keys: KeysSheet, settings: QSettings) -> None:
    move(keys, "star", ";")
    keys.usual.click()
    assert program.signs == Signs()
    assert stored_signs(settings) == Signs()
    assert keys.keys["star"].currentData() == "*"
