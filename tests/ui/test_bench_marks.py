"""Marks on the bench page: short, leakage and the like by one digit, with value and place; empty sockets."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from tests.ui.drivers.bench import Bench, BenchDriver
from tubeshelf.domain.jobs import FoundState
from tubeshelf.domain.judging import Mark, Observation
from tubeshelf.services import tester_form
from tubeshelf.services.testers import list_testers, save_tester


def seen(bench: Bench, position: str, nth: int = 0) -> Observation:
    """What was noted of a tube, in the order it was."""
    return bench.socket(position).observations[nth][2]


def test_a_short_is_marked_by_digits_and_a_reading_after_it_is_asked_about(
    at_bench: BenchDriver, bench: Bench
) -> None:
    at_bench.press("+", "*").type("1").type("2-3").enter()
    (_, _, short) = bench.socket("V1").observations[0]
    assert (short.mark, short.pins, short.is_fault) == (Mark.SHORT, "2-3", True)
    assert at_bench.row("V1")[4] == "short, pins 2–3"
    assert at_bench.warning.startswith("Do not power. V1: short, pins 2–3")
    at_bench.enter("1500")
    assert at_bench.asked.startswith(
        "V1: short, pins 2–3. A quality test may harm the tester: save it anyway?"
    )
    assert not bench.socket("V1").lines[0].readings
    at_bench.enter()
    assert [r.value for r in bench.socket("V1").lines[0].readings] == [1500]


def test_the_keys_that_work_in_the_marks_stand_at_the_foot(at_bench: BenchDriver) -> None:
    at_bench.press("+", "*")
    assert ("1 … 9", "note a mark") in tuple(at_bench.page.keys())
    at_bench.type("1")
    assert ("*", "fault or not") in tuple(at_bench.page.keys())
    at_bench.escape().escape()
    assert ("*", "mark") in tuple(at_bench.page.keys())


def test_a_short_that_a_neon_lamp_shows_has_no_pins_and_is_asked_about_as_well(
    at_bench: BenchDriver, bench: Bench
) -> None:
    at_bench.press("+", "*").type("1").enter()
    assert at_bench.row("V1")[4] == "short"
    at_bench.enter("1500")
    assert at_bench.asked.startswith("V1: short. A quality test may harm the tester")
    at_bench.escape()
    assert not bench.socket("V1").lines[0].readings


@pytest.mark.parametrize("typed", ["2.5", "2,5", "2-5"])
def test_a_pin_pair_is_typed_on_the_number_pad(at_bench: BenchDriver, bench: Bench, typed: str) -> None:
    at_bench.press("+", "*").type(f"1{typed}").enter()
    assert seen(bench, "V1").pins == "2-5"


def test_a_pin_that_the_base_lacks_is_refused_beside_the_field(at_bench: BenchDriver, bench: Bench) -> None:
    at_bench.press("+", "*").type("12.10").enter()
    assert "This base has no pin 10" in at_bench.detail
    assert not bench.socket("V1").observations


def test_two_pins_clicked_on_the_base_fill_the_field(at_bench: BenchDriver, bench: Bench) -> None:
    at_bench.press("+", "*").type("1").click_pins("2", "7")
    assert at_bench.page.detail.marks.facts.pins.text() == "2.7"
    at_bench.click_pins("3")
    assert at_bench.page.detail.marks.facts.pins.text() == "3", "a third pin begins anew"
    at_bench.click_pins("8").enter()
    assert seen(bench, "V1").pins == "3-8"


def test_pins_that_the_tube_ties_inside_are_no_short(at_bench: BenchDriver, bench: Bench) -> None:
    at_bench.press("+", "*").type("14.5").enter()
    assert "Pins 4 and 5 are joined by the heater in this type: no short." in at_bench.detail
    assert "Enter notes it as no fault" in at_bench.detail
    assert not bench.socket("V1").observations, "asked first"
    at_bench.enter()
    assert (seen(bench, "V1").mark, seen(bench, "V1").is_fault) == (Mark.SHORT, False)
    assert at_bench.warning == ""
    at_bench.enter("1500")
    assert [r.value for r in bench.socket("V1").lines[0].readings] == [1500], "no fault, no question"


def test_the_technician_may_call_a_tied_short_a_fault_all_the_same(
    at_bench: BenchDriver, bench: Bench
) -> None:
    at_bench.press("+", "*").type("14.5").press("*").enter()
    assert seen(bench, "V1").is_fault


def test_a_short_to_an_internal_connection_is_asked_about_and_stays_a_fault(
    at_bench: BenchDriver, bench: Bench
) -> None:
    at_bench.press(Qt.Key.Key_Down, Qt.Key.Key_Down, "+", "*").type("11.2").enter()
    assert "Pin 1 has an internal connection in this type: perhaps no short." in at_bench.detail
    assert not bench.socket("V3").observations
    at_bench.enter()
    assert seen(bench, "V3").is_fault


def test_leakage_is_compared_with_period_practice_and_the_technician_decides(
    at_bench: BenchDriver, bench: Bench
) -> None:
    at_bench.press("+", "*").type("2").enter("8").type("heater-cathode")
    assert "8 MΩ is not under 1 MΩ (heater to cathode, period practice): no fault." in at_bench.detail
    at_bench.enter()
    one = seen(bench, "V1")
    assert (one.mark, one.value, one.unit, one.pins) == (Mark.LEAKAGE, 8, "MΩ", "heater-cathode")
    assert not one.is_fault
    assert at_bench.row("V1")[4] == "not read"
    at_bench.press("*").type("2").enter("8").type("2.5*").enter()
    assert seen(bench, "V1", 1).is_fault, "* turns what was proposed"


def test_leakage_under_the_limit_is_proposed_as_a_fault(at_bench: BenchDriver, bench: Bench) -> None:
    at_bench.press("+", "*").type("2").enter("0,4").type("1.2")
    assert "0.4 MΩ is under 5 MΩ (between elements, period practice): a fault." in at_bench.detail
    at_bench.enter()
    assert (seen(bench, "V1").value, seen(bench, "V1").is_fault) == (0.4, True)


def test_the_limits_of_the_tester_go_first(at_bench: BenchDriver, bench: Bench) -> None:
    tester = next(t for t in list_testers(bench.shop) if t.id == bench.tester_id)
    fields = tester_form.tester_fields(tester) | {
        "leakage_least": "10",
        "gas_most": "4",
        "gas_unit": "divisions",
    }
    save_tester(bench.shop, tester_id=tester.id, expected_version=tester.version, fields=fields)
    at_bench.page.load()
    at_bench.press("+", "*").type("2").enter("8").type("2.5")
    assert "8 MΩ is under 10 MΩ (the tester's limit): a fault." in at_bench.detail
    at_bench.enter().press("*").type("3-5")
    assert "5 divisions is over 4 divisions (the tester's limit): a fault." in at_bench.detail
    at_bench.enter()
    gas = seen(bench, "V1", 1)
    assert (gas.mark, gas.value, gas.unit, gas.is_fault) == (Mark.GAS, -5, "divisions", True)


def test_noise_is_told_from_0_to_3(at_bench: BenchDriver, bench: Bench) -> None:
    at_bench.press("+", "*").type("4").enter("4")
    assert "Noise is told from 0" in at_bench.detail
    assert not bench.socket("V1").observations
    at_bench.press("Ctrl+A").enter("3")
    assert (seen(bench, "V1").value, seen(bench, "V1").is_fault) == (3, False)


def test_a_life_test_is_compared_with_the_reading_before(at_bench: BenchDriver, bench: Bench) -> None:
    at_bench.press(Qt.Key.Key_Down, Qt.Key.Key_Down).press("+").enter("9000").press("-", "*", "+")
    assert "Last: 9,000 µmho." in at_bench.detail
    at_bench.type("7000")
    assert "22 % below the last reading: over 15 % (period practice), a fault" in at_bench.detail
    at_bench.enter()
    one = seen(bench, "V3")
    assert (one.mark, one.value, one.unit, one.is_fault) == (Mark.LIFE_TEST, 7000, "µmho", True)
    assert at_bench.row("V3")[4] == "life test 7,000 µmho, 22 % below 9,000"


def test_a_life_test_of_a_line_that_was_not_read_is_refused(at_bench: BenchDriver, bench: Bench) -> None:
    at_bench.press("+", "*", "+").enter("7000")
    assert "Read the line first" in at_bench.detail
    assert not bench.socket("V1").observations


def test_a_section_that_the_set_does_not_use_is_not_asked_for(at_bench: BenchDriver, bench: Bench) -> None:
    at_bench.press("+").enter("1540").press("*", "-")
    assert bench.socket("V1").unused == ("2",)
    assert at_bench.at == "V2, what stands in it", "all that is used was read"
    assert at_bench.row("V1")[3:5] == ["1,540, section 2 not used", "good, transconductance"]
    at_bench.press(Qt.Key.Key_Up)
    QApplication.processEvents()
    assert "section 2 not used" in at_bench.page.detail.kind.accessibleName()
    at_bench.press("*", "/")
    assert bench.socket("V1").unused == ()
    assert at_bench.at == "V1, reading section 2"
    assert at_bench.row("V1")[4] == "not read, 1 of 2 lines read"


def test_a_value_of_a_mark_that_is_no_number_is_refused_beside_it(
    at_bench: BenchDriver, bench: Bench
) -> None:
    at_bench.press("+", "*").type("2").enter("much").enter()
    assert "“much” is not a number" in at_bench.detail
    assert not bench.socket("V1").observations


def test_an_empty_socket(at_bench: BenchDriver, bench: Bench) -> None:
    at_bench.press("*").type("0")
    assert bench.socket("V1").found.state is FoundState.EMPTY
    assert at_bench.row("V1")[2:5] == ["empty", "–", "–"]
    assert at_bench.row("V1")[6].startswith("replace, proposed")
    assert at_bench.page.table.field.hasFocus()
