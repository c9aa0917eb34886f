import pytest

from tests.domain.tubes import RECTIFIER, fact, judged, output, rectifier, rules, serves, tube, twin
from tubeshelf.domain.fitting import Check, Outcome
from tubeshelf.domain.types import Heating, TubeType
from tubeshelf.domain.words import say


def test_a_lower_rating_is_a_wrong_type_with_a_check_to_make() -> None:
    judgement = judged(twin("6SN7GTB", plate_v_max=450.0), twin("6SN7GT", plate_v_max=300.0))
    assert judgement.outcome is Outcome.WRONG_TYPE
    assert rules(judgement) == ["rating_lower"]
    assert "check that the plate voltage stays within 300 V (450 V was designed)" in judgement.conditions


def test_a_higher_rating_or_one_five_per_cent_lower_is_no_difference() -> None:
    assert judged(twin("A", plate_v_max=300.0), twin("B", plate_v_max=450.0)).outcome == "accepted_substitute"
    assert judged(twin("A", plate_v_max=300.0), twin("B", plate_v_max=286.0)).outcome == "accepted_substitute"
    assert judged(twin("A", plate_v_max=300.0), twin("B", plate_v_max=284.0)).outcome == "wrong_type"


@pytest.mark.parametrize("rating", ["screen_v_max", "cathode_ma_max", "piv_v"])
def test_every_rating_of_a_type_is_compared(rating: str) -> None:
    judgement = judged(output("A", **{rating: 100.0}), output("B", **{rating: 80.0}))
    assert fact(judgement, "rating_lower", "rating") == rating


def test_dissipation_is_compared_section_by_section_and_told_once() -> None:
    figures = {"mu": 100.0, "gm_umho": 1600.0}
    judgement = judged(
        twin("A", figures={**figures, "plate_w_max": 2.5}), twin("B", figures={**figures, "plate_w_max": 1.0})
    )
    assert rules(judgement) == ["rating_lower"]


def test_a_known_supply_decides_about_the_plate_voltage() -> None:
    designed, found = output("A", plate_v_max=500.0), output("B", plate_v_max=350.0)
    over = judged(designed, found, plate_supply_v=420.0)
    assert over.outcome is Outcome.HARMFUL
    assert rules(over) == ["supply_over_rating"]
    within = judged(designed, found, plate_supply_v=320.0)
    assert within.outcome is Outcome.ACCEPTED_SUBSTITUTE
    assert "the supply of 320 V is within its plate voltage rating of 350 V" in within.conditions


def test_a_set_that_overruns_the_designed_tube_too_is_not_the_found_tubes_fault() -> None:
    judgement = judged(output("A", plate_v_max=350.0), output("B", plate_v_max=350.0), plate_supply_v=420.0)
    assert judgement.outcome is Outcome.ACCEPTED_SUBSTITUTE


def test_a_rectifier_rated_over_20_per_cent_below_is_harmful() -> None:
    harmful = judged(rectifier("A", dc_ma=125.0), rectifier("B", dc_ma=99.0))
    assert harmful.outcome is Outcome.HARMFUL
    assert rules(harmful) == ["rectifier_current"]
    nearly = judged(rectifier("A", dc_ma=125.0), rectifier("B", dc_ma=101.0))
    assert nearly.outcome is Outcome.WRONG_TYPE
    assert rules(nearly) == ["rating_lower"]


def test_a_diode_in_the_place_of_a_rectifier_is_held_to_its_current() -> None:
    diodes = tube("6H6", RECTIFIER, "5/2 2-8", "1+2 diode", base="octal", dc_ma=8.0, heating=Heating.FILAMENT)
    judgement = judged(rectifier("6X5", dc_ma=70.0), diodes)
    assert (judgement.outcome, rules(judgement)[0]) == (Outcome.HARMFUL, "rectifier_current")


def test_a_lower_drop_is_a_wrong_type_and_the_capacitors_are_to_be_checked() -> None:
    judgement = judged(rectifier("5Y3"), rectifier("5AR4", drop_v=17.0, drop_ma=250.0, dc_ma=250.0))
    assert judgement.outcome is Outcome.WRONG_TYPE
    assert rules(judgement) == ["rectifier_drop"]
    # Child's law by hand: 17 V at 250 mA is 17 V x 0.5^(2/3) = 10.7 V at 125 mA
    assert fact(judgement, "rectifier_drop", "found_v") == pytest.approx(10.71, abs=0.01)
    assert "check the filter capacitors' voltage rating: B+ rises" in judgement.conditions


def test_a_higher_drop_is_a_wrong_type_that_an_entry_may_accept() -> None:
    designed, found = rectifier("A", drop_v=20.0), rectifier("B")
    assert rules(judged(designed, found)) == ["rectifier_drop"]
    listed = judged(designed, found, serves(designed, found))
    assert listed.outcome is Outcome.ACCEPTED_SUBSTITUTE
    assert "expect a lower B+" in listed.conditions


def regulator(name: str, volts: float, most: float = 30.0) -> TubeType:
    return tube(name, "1:1.plate 2:1.cathode 7:1.cathode", "", "1 regulator", operating_v=volts, dc_ma=most)


def test_regulators_of_other_volts_are_wrong_types_even_where_listed() -> None:
    designed, found = regulator("0A2", 150), regulator("0B2", 108)
    assert rules(judged(designed, found)) == ["regulator_volts"]
    assert judged(designed, found, serves(designed, found)).outcome is Outcome.WRONG_TYPE
    assert judged(designed, regulator("X", 145)).outcome is Outcome.ACCEPTED_SUBSTITUTE
    assert rules(judged(designed, regulator("X", 150, most=20))) == ["rating_lower"]


# ---- what is known of the supplies


def test_a_known_screen_supply_decides_about_the_screen_voltage() -> None:
    designed, found = output("A", screen_v_max=400.0), output("B", screen_v_max=250.0)
    assert rules(judged(designed, found)) == ["rating_lower"]
    over = judged(designed, found, screen_supply_v=300.0)
    assert (over.outcome, rules(over)) == (Outcome.HARMFUL, ["screen_supply_over"])
    assert say(over.reasons[0]) == ("the screen supply of 300 V is above its screen voltage rating of 250 V")
    within = judged(designed, found, screen_supply_v=250.0)
    assert within.outcome is Outcome.ACCEPTED_SUBSTITUTE
    assert within.conditions == (
        "no listed substitute: compare before relying on it",
        "the screen supply of 250 V is within its screen voltage rating of 250 V",
    )
    assert judged(found, designed, screen_supply_v=300.0).outcome is Outcome.ACCEPTED_SUBSTITUTE


def test_b_plus_behind_a_rectifier_is_not_held_against_its_plates() -> None:
    designed, found = rectifier("A", plate_v_max=500.0), rectifier("B", plate_v_max=350.0)
    assert rules(judged(designed, found, plate_supply_v=400.0)) == ["rating_lower"]


def test_less_drop_is_held_against_the_capacitor() -> None:
    designed, found = rectifier("5Y3"), rectifier("5V4", drop_v=20.0)  # 60 V less 20 V at one current
    over = judged(designed, found, plate_supply_v=420.0, capacitor_v=450.0)
    assert (over.outcome, rules(over)) == (Outcome.HARMFUL, ["capacitor_over"])
    assert say(over.reasons[0]) == (
        "drops 40 V less than the designed type: B+ rises from 420 V to 460 V on a capacitor rated 450 V"
    )
    within = judged(designed, found, plate_supply_v=410.0, capacitor_v=450.0)
    assert (within.outcome, within.decided_by) == (Outcome.ACCEPTED_SUBSTITUTE, Check.RATINGS)
    assert "B+ rises by about 40 V to 450 V, within the 450 V of the capacitor" in within.conditions


def test_a_small_fall_of_the_drop_can_be_too_much_for_the_capacitor() -> None:
    designed, found = rectifier("A"), rectifier("B", drop_v=52.0)
    assert judged(designed, found, plate_supply_v=430.0).outcome is Outcome.ACCEPTED_SUBSTITUTE
    assert judged(designed, found, plate_supply_v=445.0, capacitor_v=450.0).outcome is Outcome.HARMFUL
    assert judged(found, designed, plate_supply_v=445.0, capacitor_v=450.0).outcome is not Outcome.HARMFUL


def test_a_known_b_plus_alone_gives_the_check_its_number() -> None:
    judgement = judged(rectifier("5Y3"), rectifier("5V4", drop_v=20.0), plate_supply_v=350.0)
    assert judgement.outcome is Outcome.WRONG_TYPE
    assert "check the filter capacitors' voltage rating: B+ rises by about 40 V to 390 V" in (
        judgement.conditions
    )


def test_a_capacitor_without_b_plus_decides_nothing() -> None:
    designed, found = rectifier("5Y3"), rectifier("5V4", drop_v=20.0)
    assert judged(designed, found, capacitor_v=450.0) == judged(designed, found)


def test_more_drop_is_no_matter_of_the_capacitor() -> None:
    judgement = judged(rectifier("A", drop_v=20.0), rectifier("B"), plate_supply_v=440.0, capacitor_v=400.0)
    assert (judgement.outcome, rules(judgement)) == (Outcome.WRONG_TYPE, ["rectifier_drop"])
    assert "expect a lower B+" in judgement.conditions
