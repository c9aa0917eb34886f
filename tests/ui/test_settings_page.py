"""The settings in the window: what the shop says of itself, the look, the record and its backup."""

from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import QSettings
from PySide6.QtWidgets import QLineEdit, QWidget
from pytestqt.qtbot import QtBot

from tests.ui.drivers.jobs import answer_file_dialogue
from tests.ui.drivers.keyboard import Driver, in_window
from tubeshelf.bootstrap import open_record
from tubeshelf.services.shop import open_shop
from tubeshelf.store.record import Record
from tubeshelf.ui.pages.settings import SettingsPage
from tubeshelf.ui.theme import Scheme


@pytest.fixture
def chosen() -> list[Scheme]:
    return []


@pytest.fixture
def page(
    file_record: Record,
    qtbot: QtBot,
    shown: Callable[..., QWidget],
    settings: QSettings,
    chosen: list[Scheme],
) -> Driver[SettingsPage]:
    shop = open_shop(file_record)
    window, made = in_window(
        "settings",
        lambda w: SettingsPage(
            shop, w.bridge, scheme=Scheme.LIGHT, choose_scheme=chosen.append, runner=w.runner
        ),
        qtbot,
        shown,
        settings,
    )
    return Driver(shop, window, made, qtbot)


def test_what_the_shop_says_of_itself_is_kept(page: Driver[SettingsPage]) -> None:
    form = page.page.form
    for name, text in (
        ("name", "Quillfen Workshop"),
        ("address", "Sluice Yard 3"),
        ("currency", "eur"),
        ("labour", "45,5"),
        ("high_line_v", "128 V"),
        ("warranty", "Ninety days."),
    ):
        page.fill(form.field(name), text)
    page.press("Ctrl+Return")
    assert page.errors() == []
    said = page.shop.settings
    assert (said.name, said.address, said.currency) == ("Quillfen Workshop", "Sluice Yard 3", "EUR")
    assert (said.labour, said.high_line_v, said.warranty) == (4550, 128, "Ninety days.")
    assert page.window.status.said.text().startswith("Settings saved")


@pytest.mark.parametrize(
    ("name", "text", "says"),
    [
        ("labour", "much", "not an amount"),
        ("high_line_v", "high", "not a number"),
        ("high_line_v", "1250", "from 117 to 150"),
        ("currency", "euros", "no currency"),
    ],
)
def test_a_mistake_stands_beside_its_field_and_nothing_is_kept(
    page: Driver[SettingsPage], name: str, text: str, says: str
) -> None:
    before = page.shop.settings
    form = page.page.form
    page.fill(form.name, "Half typed")
    page.fill(form.field(name), text)
    page.press("Ctrl+Return")
    assert [s for s in page.errors() if says in s]
    assert page.focus is form.field(name)
    assert form.name.text() == "Half typed"
    assert page.shop.settings == before


def test_the_look_is_chosen_at_once(page: Driver[SettingsPage], chosen: list[Scheme]) -> None:
    page.page.scheme.setFocus()
    page.press("Down")
    assert chosen == [Scheme.DARK]


def test_the_record_is_backed_up_where_the_user_says(page: Driver[SettingsPage], tmp_path: Path) -> None:
    assert str(page.shop.record.path) in page.texts()
    page.page.form.name.setFocus()
    page.press("Ctrl+B")
    offered = answer_file_dialogue(page.qtbot, page.page, tmp_path / "copy.tubeshelf")
    assert offered.endswith("shop-2026-03-02.tubeshelf")
    page.qtbot.waitUntil(lambda: bool(page.page.notice.text))
    assert page.page.notice.text == f"Backed up to {tmp_path / 'copy.tubeshelf'}."
    copy = open_record(str(tmp_path / "copy.tubeshelf"))
    assert open_shop(copy).settings == page.shop.settings
    copy.close()


def test_a_backup_never_goes_over_another_file(page: Driver[SettingsPage], tmp_path: Path) -> None:
    there = tmp_path / "there.tubeshelf"
    there.write_text("mine")
    page.page.back_up(there)
    page.qtbot.waitUntil(lambda: bool(page.page.notice.text))
    assert "exists already" in page.page.notice.text
    assert there.read_text() == "mine"


@pytest.mark.parametrize("typed", ["0", "-3", "soon", "1.5", "36501", "9" * 5000])
def test_a_term_that_is_no_number_of_days_is_told_beside_its_field(
    page: Driver[SettingsPage], typed: str
) -> None:
    field = page.page.form.field("warranty_days")
    assert isinstance(field, QLineEdit)
    field.setFocus()
    field.setText(typed)
    page.press("Ctrl+Return")
    assert any("number of days" in said for said in page.errors())
    assert page.shop.settings.warranty_days is None


def test_terms_are_kept_and_an_empty_one_is_none(page: Driver[SettingsPage]) -> None:
    form = page.page.form
    page.fill(form.field("warranty_days"), "90")
    page.fill(form.field("estimate_days"), "30")
    page.press("Ctrl+Return")
    assert (page.shop.settings.warranty_days, page.shop.settings.estimate_days) == (90, 30)
    page.fill(form.field("warranty_days"), "")
    page.press("Ctrl+Return")
    assert (page.shop.settings.warranty_days, page.shop.settings.estimate_days) == (None, 30)
