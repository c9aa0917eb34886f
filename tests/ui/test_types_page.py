"""The table of types in the window: finding one, its data sheet, and the shop's own values over it."""

from collections.abc import Callable

import pytest
from PySide6.QtCore import QSettings
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from tests.services.shelfwork import tube
from tests.ui.drivers.types import TypesDriver, open_types
from tubeshelf.domain.fitting import Outcome
from tubeshelf.services.fitting import judge_pair
from tubeshelf.services.setting_lines import setting_lines
from tubeshelf.services.shelf_moves import receive
from tubeshelf.services.shelf_reading import read_spare
from tubeshelf.services.testers import save_tester
from tubeshelf.services.types_edit import save_type
from tubeshelf.store.record import Record
from tubeshelf.ui.parts.buttons import Link
from tubeshelf.ui.parts.picture import PictureWindow


@pytest.fixture
def types(
    file_record: Record, qtbot: QtBot, shown: Callable[..., QWidget], settings: QSettings
) -> TypesDriver:
    return open_types(file_record, qtbot, shown, settings)


def test_a_type_is_found_by_its_name_another_name_or_its_function(types: TypesDriver) -> None:
    every = len(types.names)
    assert every == len(types.shop.book.ids())
    assert "12AX7" in types.find("ecc83")
    assert "6BQ5" not in types.names
    assert types.in_hand() == "12AX7"
    assert {"5AR4", "5Y3GT"} <= set(types.find("full-wave octal"))
    assert types.find("zz99") == []
    assert "No type has all the words" in types.texts(types.page.list)
    assert len(types.find("")) == every


def test_a_figure_typed_on_the_list_begins_a_search(types: TypesDriver) -> None:
    types.take("6BQ5")
    types.write("12ax7a")
    types.qtbot.waitUntil(lambda: types.names == ["12AX7A"])


def test_the_column_of_own_types_takes_no_room_while_there_is_none(types: TypesDriver) -> None:
    table = types.page.list.table
    on_hand, origin = 3, 4
    assert table.isColumnHidden(origin)
    assert table.columnViewportPosition(on_hand) + table.columnWidth(on_hand) == table.viewport().width()
    types.take("5751")
    types.press("Ctrl+D")
    types.write("5751X")
    types.press("Return")
    assert not table.isColumnHidden(origin)
    assert table.columnViewportPosition(origin) + table.columnWidth(origin) == table.viewport().width()


def test_the_data_sheet_says_what_the_table_knows(types: TypesDriver) -> None:
    types.take("12AX7")
    said = types.sheet()
    assert "dual triode · noval · also ECC83" in said
    assert "6.3 V 0.3 A between pins 4+5 and 9" in said
    assert "Sections 1 and 2, triode: gm 1,600 µmho, µ 100, rp 62,500 Ω" in said
    assert "at plate 250 V, grid −2 V, plate current 1.2 mA" in said
    assert "plate 300 V" in said
    assert "lower gain; parallel heaters only" in said
    assert "Confidence high" in said
    assert types.page.pane.sheet.base.accessibleName().startswith("noval base from below: 1 plate (2)")


@pytest.mark.parametrize(
    ("name", "says"), [("0C3", "Possible trace of radioactive"), ("83", "Possible mercury")]
)
def test_cautions_stand_on_the_sheet_and_defer(types: TypesDriver, name: str, says: str) -> None:
    types.take(name)
    assert says in types.page.pane.sheet.cautions.text
    assert "local codes" in types.page.pane.sheet.cautions.text
    types.take("12AX7")
    assert not types.page.pane.sheet.cautions.isVisible()


def test_a_changed_bogey_is_the_shops_own_and_told_as_that(types: TypesDriver) -> None:
    types.take("12AX7")
    types.press("E")
    figure = types.card("1").figures["gm_umho"]
    assert (figure.text(), figure.placeholderText()) == ("", "1600")
    types.fill(figure, "1700,5")
    types.press("Ctrl+Return")
    assert [s.gm_umho for s in types.tube("12AX7").sections] == [1700.5, 1600.0]
    assert types.shop.book.shop_fields(types.id("12AX7")) == ("sections",)
    assert "gm 1,700.5 µmho (own; shipped 1,600)" in types.sheet()
    assert "Your own: sections and bogey values." in types.sheet()
    assert types.cells("12AX7")[-1] == "changed"
    types.press("E")
    assert types.card("1").figures["gm_umho"].text() == "1700.5"
    types.fill(types.card("1").figures["gm_umho"], "")
    types.press("Ctrl+Return")
    assert types.shop.book.shop_fields(types.id("12AX7")) == ()
    assert types.tube("12AX7").sections[0].gm_umho == 1600


def test_saving_without_a_change_makes_nothing_the_shops_own(types: TypesDriver) -> None:
    for name in ("12AX7", "5AR4", "0C3", "6BE6"):
        types.take(name)
        before = types.tube(name)
        types.press("F2")
        types.press("Ctrl+Return")
        assert types.shop.book.shop_fields(types.id(name)) == ()
        assert types.tube(name) == before


def test_right_takes_the_shipped_value_and_a_dash_forgets_it(types: TypesDriver) -> None:
    types.take("12AX7")
    types.press("E")
    heaters = types.field("heaters")
    heaters.setFocus()
    types.press("Right")
    assert heaters.text() == "6.3/0.3 4+5-9 | 12.6/0.15 4-5"
    types.fill(types.field("plate_v_max"), "-")
    types.press("Ctrl+Return")
    assert types.tube("12AX7").ratings.plate_v_max is None
    assert types.shop.book.shop_fields(types.id("12AX7")) == ("plate_v_max",)
    types.press("E")
    assert types.field("plate_v_max").text() == "–"


def test_a_heater_that_cannot_be_read_is_told_beside_it_and_stays(types: TypesDriver) -> None:
    types.take("6BQ5")
    types.press("E")
    types.fill(types.field("heaters"), "six volts")
    types.fill(types.card("1").figures["grid_v"], "minus seven")
    types.press("Ctrl+Return")
    form = types.form
    assert "no heater: type volts/amperes and pins" in form.forms[0].complaint(types.field("heaters"))
    assert "Section 1, grid V: “minus seven” is not a number" in form.forms[1].complaint(form.sections)
    assert types.field("heaters").text() == "six volts"
    assert types.focus is types.field("heaters")
    assert types.tube("6BQ5").heaters[0].volts == 6.3
    types.fill(types.field("heaters"), "6.3/0.8 4-5")
    types.fill(types.card("1").figures["grid_v"], "-7.5")
    types.press("Ctrl+Return")
    assert types.tube("6BQ5").heaters[0].amperes == 0.8
    assert types.tube("6BQ5").sections[0].grid_v == -7.5


def test_escape_leaves_the_form_without_a_change(types: TypesDriver) -> None:
    types.take("12AX7")
    types.press("E")
    types.fill(types.field("note"), "not meant")
    types.press("Esc")
    assert types.focus is types.page.list.table
    assert types.shop.book.shop_fields(types.id("12AX7")) == ()


def test_a_new_type_takes_its_pins_from_a_known_basing_and_is_used_in_fits(types: TypesDriver) -> None:
    types.press("Ctrl+N")
    assert types.on_field == "Designation"
    types.write("12ZZ7")
    types.fill(types.field("function"), "dual triode")
    types.fill(types.field("basing"), "9a")
    assert types.field("base").placeholderText() == "noval"
    types.fill(types.field("heaters"), "6.3/0.3 4+5-9 | 12.6/0.15 4-5")
    for section in ("1", "2"):
        types.press("Ctrl+Shift+N")
        assert types.card(section).function.hasFocus()
        types.write("triode")
        types.fill(types.card(section).figures["mu"], "98")
    types.press("Ctrl+Return")
    assert types.errors() == []
    assert types.in_hand() == "12ZZ7"
    assert types.cells("12ZZ7")[-1] == "own"
    tube = types.tube("12ZZ7")
    assert (tube.base, tube.basing.at("1"), tube.sections[1].mu) == ("noval", ("2.plate",), 98)
    assert "A type of your own." in types.sheet()
    catalog = types.shop.book.catalog
    assert judge_pair(catalog=catalog, intended="12ZZ7", found="12zz7").outcome is Outcome.RIGHT_TYPE
    assert judge_pair(catalog=catalog, intended="6BQ5", found="12ZZ7").outcome is not Outcome.UNKNOWN


def test_a_new_type_without_its_needs_is_told_all_of_them(types: TypesDriver) -> None:
    types.press("Ctrl+N")
    types.write("12AX7")
    types.press("Ctrl+Return")
    assert [s for s in types.errors() if s.startswith("Type")] == [
        "Type what it is, such as dual triode.",
        "Type its base, such as noval.",
    ]
    types.fill(types.field("function"), "dual triode")
    types.fill(types.field("base"), "noval")
    types.press("Ctrl+Return")
    assert any("12AX7 is in the table already" in s for s in types.errors())


def test_a_copy_goes_under_its_own_name(types: TypesDriver) -> None:
    types.take("5751")
    types.press("Ctrl+D")
    types.press("Return")
    assert types.errors() == ["Type the designation of the new type."]
    types.write("5751X")
    types.press("Return")
    assert types.in_hand() == "5751X"
    copy, original = types.tube("5751X"), types.tube("5751")
    assert (copy.heaters, copy.sections, copy.equivalents) == (original.heaters, original.sections, ())


def test_a_retired_type_goes_from_the_list_and_comes_back(types: TypesDriver) -> None:
    types.take("6BQ5")
    types.press("Del")
    assert "6BQ5" not in types.names
    assert types.tube("6BQ5").retired
    types.page.which.setCurrentIndex(1)
    types.take("6BQ5")
    assert types.cells("6BQ5")[-1] == "retired"
    types.press("Del")
    assert not types.tube("6BQ5").retired
    types.page.which.setCurrentIndex(0)
    assert "6BQ5" in types.names


def test_par_is_typed_beside_the_type(types: TypesDriver) -> None:
    types.take("6BQ5")
    types.press("A")
    types.write("a few")
    types.press("Return")
    assert len(types.errors()) == 1
    types.press("Ctrl+A")
    types.write("8")
    types.press("Return")
    assert types.page.pane.detail is not None
    assert types.page.pane.detail.par == 8
    assert types.focus is types.page.list.table


def test_a_substitute_of_the_shops_own_is_accepted_and_dropped(types: TypesDriver) -> None:
    types.take("6BQ5")
    types.press("S")
    types.write("6BQ55")
    types.press("Return")
    assert any("6BQ55 is not in the type table; near it: 6BQ5" in s for s in types.errors())
    types.fill(types.page.pane.substitute.other, "6AQ5")
    types.fill(types.page.pane.substitute.conditions, "rewire; rebias")
    types.press("Return")
    (entry,) = (s for s in types.shop.book.catalog.substitutes_for("6BQ5") if s.origin == "shop")
    assert (types.shop.book.catalog.find(entry.found), entry.conditions) == (
        types.tube("6AQ5"),
        ("rewire", "rebias"),
    )
    assert "serves: rewire; rebias (own)" in types.sheet()
    catalog = types.shop.book.catalog
    assert judge_pair(catalog=catalog, intended="6BQ5", found="6AQ5").outcome is Outcome.CANNOT_SEAT
    types.click("Drop 6AQ5")
    assert not [s for s in types.shop.book.catalog.substitutes_for("6BQ5") if s.origin == "shop"]


def test_a_limit_is_added_and_changed_from_the_type(types: TypesDriver) -> None:
    types.take("12AX7")
    types.press("L")
    assert types.errors() == ["The shop has no tester yet: add one on the Testers page first."]
    types.press("Esc")
    meter = {"name": "Tester B", "method": "transconductance", "unit": "µmho", "field_names": "range; bias"}
    save_tester(types.shop, fields=meter)
    types.press("L")
    form = types.page.pane.limit
    form.section.choose("1")
    types.fill(form.good_from, "900")
    types.fill(form.reject_below, "1000")
    types.fill(form.dialled["range"], "C")
    types.press("Return")
    assert any("Reject has to lie below good" in s for s in types.errors())
    types.fill(form.reject_below, "700,5")
    types.press("Return")
    (line,) = setting_lines(types.shop, type_id=types.id("12AX7"))
    assert line.limit is not None
    assert (line.section, line.limit.good_from, line.limit.reject_below) == ("1", 900, 700.5)
    assert line.fields == (("range", "C"), ("bias", ""))
    assert line.limit.dated == types.shop.today
    assert "good from 900, reject below 700.5 µmho" in types.sheet()
    types.click("Tester B")
    types.fill(form.good_from, "950")
    types.press("Return")
    (line,) = setting_lines(types.shop, type_id=types.id("12AX7"))
    assert line.limit is not None
    assert line.limit.good_from == 950
    types.click("Change Tester B section 1")
    form.retire.click()
    assert setting_lines(types.shop, type_id=types.id("12AX7")) == ()


def test_what_comes_in_elsewhere_shows_at_once(types: TypesDriver) -> None:
    types.take("6BQ5")
    assert types.page.pane.sheet.facts.shown[0] == ("on hand", "0")
    _, changes = receive(types.shop, type_name="EL84", quantity=3, lot=True, bin="A1")
    types.window.bridge.publish(changes)
    assert types.page.pane.sheet.facts.shown[0] == ("on hand", "3")
    assert types.cells("6BQ5")[3] == "3 on hand, 3 free"


def test_a_form_being_filled_in_outlives_a_reload(types: TypesDriver) -> None:
    types.take("6BQ5")
    types.press("E")
    types.fill(types.field("note"), "halfway")
    _, changes = save_type(types.shop, key=types.tube("12AX7").key, fields={"note": "elsewhere"})
    types.window.bridge.publish(changes)
    assert types.field("note").text() == "halfway"


def test_narrow_the_keys_work_on_the_data_sheet_too(
    file_record: Record, qtbot: QtBot, shown: Callable[..., QWidget], settings: QSettings
) -> None:
    types = open_types(file_record, qtbot, shown, settings, width=1024)
    types.take("6BQ5")
    types.press("Return")
    assert types.page.pane.sheet.isVisible()
    assert not types.page.list.isVisible()
    types.press("E")
    assert types.form.isVisible()
    types.press("Esc")
    assert types.page.list.isVisible()
    assert types.focus is types.page.list.table


def test_the_readings_of_a_type_are_drawn_and_opened_as_a_picture(types: TypesDriver) -> None:
    types.take("12AX7")
    types.press("F7")
    assert "nothing to draw" in types.page.notice.text
    meter = {"name": "Tester B", "method": "transconductance", "unit": "µmho", "good_percent": "66"}
    tester_id, _ = save_tester(types.shop, fields=meter)
    for text in ("1480", "1610"):
        item_id = tube(types.shop)
        _, changes = read_spare(
            types.shop, item_id=item_id, line_id=None, section="1", tester_id=tester_id, text=text
        )
        assert changes is not None
        types.window.bridge.publish(changes)
    histogram = types.page.pane.sheet.readings.histogram
    assert histogram.view.values == (1480, 1610)
    assert histogram.view.scale.good_from == 1056
    types.press("F7")
    (picture,) = types.page.findChildren(PictureWindow)
    assert picture.isVisible()
    assert picture.windowTitle().startswith("Readings of 12AX7")
    picture.close()


def test_what_may_go_where_a_type_belongs_is_listed_and_leads_on(types: TypesDriver) -> None:
    receive(types.shop, type_name="5751", quantity=3, bin="C2")
    types.take("12AX7")
    types.press("W")
    panel = types.page.pane.may_go

    def listed() -> list[str]:
        links = [link.text() for link in panel.findChildren(Link) if link.isVisible()]
        return [name for name in links if not name.startswith("Show")]

    said = types.texts(panel)
    assert "What may go into a socket for 12AX7" in said
    assert "parallel heaters only" in said
    assert ("3 free" in said, "none" in said) == (True, True)
    assert listed()[0] == "12AX7"
    assert listed().index("12AX7A") < listed().index("5751")
    types.press("Space")
    assert listed() == ["5751"]
    types.click("5751, serves, 3 free")
    assert types.in_hand() == "5751"
    types.press("W")
    types.press("Esc")
    assert not panel.isVisible()
