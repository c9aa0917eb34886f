"""Values of the set, entered on the Bench by keys, and what is missing as left."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLineEdit
from pytestqt.qtbot import QtBot

from tests.ui.drivers.bench import Bench, BenchDriver
from tubeshelf.domain.cautions import MEASURING
from tubeshelf.domain.fitting import Bias
from tubeshelf.domain.set_fields import PROPOSED, Quantity, SetField
from tubeshelf.domain.written_facts import WrittenFacts
from tubeshelf.services import facts_edit, intake, jobs, set_fields, set_values
from tubeshelf.services.undo import take_back


def fields_for(bench: Bench, fields: tuple[SetField, ...] = tuple(PROPOSED)) -> None:
    """Name the fields of the model, with fixed bias at both output tubes."""
    job = bench.job()
    assert job.model_id is not None
    set_fields.save_set_fields(bench.shop, model_id=job.model_id, fields=fields)
    fixed = WrittenFacts(bias=Bias.FIXED)
    facts_edit.set_socket_facts(bench.shop, job_id=job.id, facts={"V3": fixed, "V4": fixed})


def values(bench: Bench) -> dict[str, str]:
    view = set_values.measured_in(bench.shop, job_id=bench.job_id)
    return {one.name: one.text for one in view.values if one.value is not None}


def at(driver: BenchDriver) -> str:
    """How the field with the keyboard is called."""
    focus = driver.page.window().focusWidget()
    assert focus is not None
    return focus.accessibleName()


@pytest.fixture
def measuring(at_bench: BenchDriver, bench: Bench) -> BenchDriver:
    """The panel open on the fields proposed."""
    fields_for(bench)
    at_bench.page.load()
    return at_bench.press("Ctrl+E")


def test_the_number_pad_alone_enters_all_of_them(measuring: BenchDriver, bench: Bench) -> None:
    assert at(measuring) == "Line, V"
    for text in ("117.5", "320", "-11,5", "36", "38", "24"):
        measuring.enter(text)
    assert values(bench) == {
        "Line": "117.5 V",
        "B+": "320 V",
        "Bias": "−11.5 V",
        "Cathode current V3": "36 mA",
        "Cathode current V4": "38 mA",
        "Burn-in": "24 h",
    }
    assert [said.partition(",")[0] for said in measuring.said][-2:] == [
        "Cathode current V4: 38 mA",
        "Burn-in: 24 h",
    ]
    measuring.enter()
    assert measuring.page.table.field.hasFocus()
    assert measuring.page.detail.in_set.isHidden()


def test_the_keys_of_the_panel_stand_at_the_foot_while_it_is_open(measuring: BenchDriver) -> None:
    assert measuring.page.keys() == (("Enter", "keep, next"), ("↑ ↓", "back, on"), ("Esc", "done"))
    measuring.escape()
    at_the_foot = measuring.page.keys()
    assert ("Ctrl E", "measured in the set") in at_the_foot


def test_the_caution_stands_where_the_values_are_entered(measuring: BenchDriver) -> None:
    assert MEASURING in measuring.detail
    assert "Lethal voltages are present" in MEASURING
    assert "that person decides" in MEASURING


def test_dissipation_and_difference_are_told_as_soon_as_they_are_known(measuring: BenchDriver) -> None:
    measuring.enter("117").enter("320").enter("-11").enter("36")
    # 36 mA × 320 V = 11.52 W of the 12 W of a 6BQ5 (Philips handbook).
    assert "V3 6BQ5: at most 11.5 W of 12 W plate rating, 96 %." in measuring.detail
    assert "36 mA × 320 V; the screen's share is counted in: worst case" in measuring.detail
    measuring.enter("40")
    assert "V3 and V4 are 4 mA apart, 10.5 %." in measuring.detail


def test_too_much_is_said_on_the_page_until_it_is_mended(measuring: BenchDriver) -> None:
    notice = measuring.page.notice
    measuring.enter("117").enter("320").enter("-11").enter("40")
    assert notice.text.startswith(
        "Job 1, V3 6BQ5: at most 12.8 W of 12 W plate rating, 107 %: over its rating"
    )
    assert "first with the current limited" in notice.text
    assert "that person decides" in notice.text
    measuring.enter("36").enter("24")
    assert notice.isVisible()
    for _ in range(4):
        measuring.press(Qt.Key.Key_Up)
    assert at(measuring) == "Bias, V"
    measuring.enter()
    QTest.keyClicks(focus(measuring), "36")  # the field is selected whole
    measuring.press(Qt.Key.Key_Enter)
    assert not notice.isVisible()


def focus(driver: BenchDriver) -> QLineEdit:
    found = driver.page.window().focusWidget()
    assert isinstance(found, QLineEdit)
    return found


def test_what_is_no_number_is_said_at_its_field_and_the_next_is_not_reached(
    measuring: BenchDriver, bench: Bench
) -> None:
    measuring.enter("117").enter("12AX7")
    assert at(measuring) == "B+, V"
    assert "“12AX7” is not a number" in measuring.detail
    assert focus(measuring).text() == "12AX7"
    assert values(bench) == {"Line": "117 V"}
    measuring.press("Ctrl+A").enter("320")
    assert at(measuring) == "Bias, V"
    assert "is not a number" not in measuring.detail


def test_tab_keeps_a_value_as_enter_does_and_escape_drops_what_is_typed(
    measuring: BenchDriver, bench: Bench
) -> None:
    measuring.type("117").press(Qt.Key.Key_Tab)
    assert values(bench) == {"Line": "117 V"}
    measuring.type("320").escape()
    QApplication.processEvents()
    assert values(bench) == {"Line": "117 V"}
    measuring.press("Ctrl+E")
    assert at(measuring) == "B+, V"
    assert focus(measuring).text() == ""


def test_an_empty_field_strikes_and_taking_back_shows_at_once(measuring: BenchDriver, bench: Bench) -> None:
    measuring.enter("117").press(Qt.Key.Key_Up).press("Ctrl+A").press(Qt.Key.Key_Delete)
    measuring.press(Qt.Key.Key_Enter)
    assert values(bench) == {}
    panel = measuring.page.detail.in_set
    changes = take_back(bench.shop)
    measuring.page.reload(changes)
    assert panel.fields[0].text() == "117"


def test_what_another_window_measures_shows_and_what_is_typed_here_stays(
    measuring: BenchDriver, bench: Bench
) -> None:
    measuring.enter("117").type("32")
    job = bench.job()
    field = next(
        f for f in set_fields.set_fields(bench.shop, model_id=job.model_id or 0) if f.name == "Burn-in"
    )
    _, changes = set_values.set_value(bench.shop, job_id=job.id, field_id=field.id or 0, text="8")
    assert changes is not None
    measuring.page.reload(changes)
    assert [one.text() for one in measuring.page.detail.in_set.fields][-1] == "8"
    assert focus(measuring).text() == "32"
    assert at(measuring) == "B+, V"


def test_a_model_without_fields_offers_those_proposed(at_bench: BenchDriver, bench: Bench) -> None:
    at_bench.press("Ctrl+E")
    assert "Nothing is said yet about what is measured in the Larkmere A12" in at_bench.detail
    at_bench.press(Qt.Key.Key_Enter)
    assert at(at_bench) == "Line, V"
    at_bench.enter("117")
    assert values(bench) == {"Line": "117 V"}


def test_a_box_of_loose_tubes_is_in_no_set(at_bench: BenchDriver, bench: Bench) -> None:
    number, _ = intake.new_job(bench.shop, customer="Ada", title="shoebox", complement="V1 output 6BQ5")
    at_bench.page.open_job(jobs.open_job(bench.shop, number=number).id)
    at_bench.press("Ctrl+E")
    assert at_bench.page.notice.text == "A box of loose tubes is in no set to measure in."
    assert at_bench.page.detail.in_set.isHidden()


def test_an_output_tube_in_hand_shows_what_was_measured_at_it(measuring: BenchDriver, qtbot: QtBot) -> None:
    measuring.enter("117").enter("320").enter("-11").enter("36").escape()
    measuring.page.go_to("V3")
    part = measuring.page.detail.measured
    qtbot.waitUntil(part.isVisible)
    assert "at most 11.5 W of 12 W plate rating, 96 %" in measuring.detail
    assert "117 V" not in measuring.detail
    measuring.page.go_to("V1")
    QTest.qWait(50)
    assert not part.isVisible()


def test_a_field_of_ones_own_is_asked_for_as_well(at_bench: BenchDriver, bench: Bench) -> None:
    fields_for(
        bench,
        (SetField("Hum at the speaker", "mV"), SetField("Ip", "mA", Quantity.PLATE_MA, per_socket=True)),
    )
    at_bench.page.load()
    at_bench.press("Ctrl+E").enter("12")
    assert at(at_bench) == "Ip V3, mA"
    assert values(bench) == {"Hum at the speaker": "12 mV"}
