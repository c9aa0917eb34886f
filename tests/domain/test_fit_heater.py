from dataclasses import replace

import pytest

from tests.domain.tubes import OUTPUT, fact, judged, output, rectifier, rules, serves, tube, twin
from tubeshelf.domain.fitting import Outcome
from tubeshelf.domain.types import TubeType
from tubeshelf.domain.words import say

SIX_VOLTS_ONLY = "6.3/0.365 4-5"


def test_a_six_volt_twin_triode_burns_where_the_socket_is_wired_for_twelve() -> None:
    judgement = judged(twin("12AX7"), twin("6DJ8", SIX_VOLTS_ONLY, nine="shield"))
    assert judgement.outcome is Outcome.HARMFUL
    assert fact(judgement, "heater_over", "percent") == pytest.approx(200)
    assert fact(judgement, "heater_over", "pins") == "4-5"
    assert fact(judgement, "heater_cold", "pins") == "4+5-9"


def test_it_stays_cold_where_the_socket_is_known_to_be_wired_for_six() -> None:
    judgement = judged(twin("12AX7"), twin("6DJ8", SIX_VOLTS_ONLY, nine="shield"), heater_v=6.3)
    assert judgement.outcome is Outcome.WRONG_TYPE
    assert rules(judgement) == ["heater_cold"]


def test_a_tapped_heater_on_its_ends_alone_gets_half_its_volts() -> None:
    judgement = judged(twin("6DJ8", "6.3/0.3 4-5", nine="shield"), twin("12AX7"))
    assert judgement.outcome is Outcome.WRONG_TYPE
    assert fact(judgement, "heater_under", "percent") == pytest.approx(50)
    assert fact(judgement, "heater_under", "rated") == pytest.approx(12.6)


def test_a_tapped_heater_is_right_in_every_wiring_of_a_tapped_socket() -> None:
    assert judged(twin("12AX7"), twin("7025")).outcome is Outcome.ACCEPTED_SUBSTITUTE


def test_half_a_tapped_heater_can_stay_cold() -> None:
    one_half = tube(
        "A",
        "1:1.plate 2:1.grid1 3:1.cathode 4:heater 5:nc 6:nc 7:nc 8:nc 9:heater",
        "6.3/0.15 4-9",
        "1 triode",
    )
    assert "heater_half_cold" in rules(judged(one_half, twin("12AX7")))


@pytest.mark.parametrize(
    ("volts", "outcome"), [(6.3, "accepted_substitute"), (5.72, "harmful"), (5.74, "accepted_substitute")]
)
def test_over_110_per_cent_is_harmful(volts: float, outcome: str) -> None:
    assert judged(output("A"), output("B", f"{volts}/0.45 2-7")).outcome == outcome


@pytest.mark.parametrize(("volts", "rule"), [(6.99, "no_difference"), (7.01, "heater_under")])
def test_under_90_per_cent_is_a_wrong_type(volts: float, rule: str) -> None:
    assert rules(judged(output("A"), output("B", f"{volts}/0.45 2-7"))) == [rule]


def test_a_heater_of_which_the_table_knows_nothing_is_unknown() -> None:
    assert judged(output("A"), output("B", "", heating="heater")).outcome is Outcome.UNKNOWN


# ---- current in parallel


def test_half_an_ampere_more_than_designed_is_the_most_for_a_bare_pair() -> None:
    assert judged(rectifier("5Y3"), rectifier("5U4", "5/3 2-8")).outcome is Outcome.HARMFUL
    just_half = judged(rectifier("5Y3"), rectifier("X", "5/2.5 2-8"))
    assert just_half.outcome is Outcome.WRONG_TYPE
    assert rules(just_half) == ["heater_current"]
    assert just_half.conditions == ("check what the winding is rated for",)


def test_a_little_more_or_less_current_is_a_condition() -> None:
    more = judged(output("A", "6.3/0.9 2-7"), output("B", "6.3/1.0 2-7"))
    assert more.outcome is Outcome.ACCEPTED_SUBSTITUTE
    assert "takes 1 A where 0.9 A was designed: check the winding" in more.conditions
    less = judged(output("B", "6.3/0.9 2-7"), output("A", "6.3/0.45 2-7"))
    assert less.outcome is Outcome.ACCEPTED_SUBSTITUTE
    assert any("takes 0.45 A where 0.9 A was designed" in c for c in less.conditions)


def test_a_known_winding_decides_over_the_bare_pair() -> None:
    big, small = output("6CA7", "6.3/1.5 2-7"), output("6L6", "6.3/0.9 2-7")
    inside = judged(small, big, winding_a=4.0, winding_load_a=3.0)
    assert inside.outcome is Outcome.ACCEPTED_SUBSTITUTE
    assert "takes 1.5 A where 0.9 A was designed: check the winding" in inside.conditions
    over = judged(small, big, winding_a=3.5, winding_load_a=3.0)
    assert over.outcome is Outcome.HARMFUL
    assert fact(over, "winding_overloaded", "total_a") == pytest.approx(3.6)


def test_a_winding_is_overloaded_by_the_tube_alone_where_its_load_is_unknown() -> None:
    judgement = judged(output("A", "6.3/0.9 2-7"), output("B", "6.3/1.2 2-7"), winding_a=1.0)
    assert rules(judgement) == ["winding_overloaded"]


@pytest.mark.parametrize(("load", "outcome"), [(3.9, Outcome.HARMFUL), (4.1, Outcome.ACCEPTED_SUBSTITUTE)])
def test_over_115_per_cent_of_the_designed_load_is_harmful(load: float, outcome: Outcome) -> None:
    judgement = judged(output("A", "6.3/0.9 2-7"), output("B", "6.3/1.5 2-7"), winding_load_a=load)
    assert judgement.outcome is outcome


# ---- series strings


def _beam(name: str, volts: float, amperes: float = 0.15) -> TubeType:
    return output(name, f"{volts}/{amperes} 2-7", OUTPUT)


def test_a_35_volt_tube_in_the_50_volt_place_runs_the_whole_string_high() -> None:
    judgement = judged(_beam("50L6GT", 50), _beam("35L6GT", 35), series=True)
    assert judgement.outcome is Outcome.HARMFUL
    # by hand: 117 V / 0.15 A = 780 ohms, less 15 V / 0.15 A = 100 ohms, leaves 680 ohms
    assert fact(judgement, "string_over", "others_percent") == pytest.approx(100 * 117 / 680 / 0.15)
    assert fact(judgement, "string_over", "found_high_percent") == pytest.approx(100 * 125 / 680 / 0.15)


def test_the_designed_line_is_no_fault_of_the_same_heater() -> None:
    high = judged(_beam("A", 50), _beam("B", 50), series=True, string_high_v=140.0)
    assert high.outcome is Outcome.ACCEPTED_SUBSTITUTE


def test_a_string_tube_of_more_volts_runs_everything_low() -> None:
    judgement = judged(_beam("35L6GT", 35), _beam("50L6GT", 50), series=True)
    assert judgement.outcome is Outcome.WRONG_TYPE
    assert rules(judgement) == ["string_differs"]


def test_the_same_volts_at_other_amperes_is_wrong_in_a_string_only() -> None:
    designed, found = twin("12AX7"), twin("5751", "6.3/0.33 4+5-9 | 12.6/0.165 4-5")
    assert judged(designed, found).outcome is Outcome.ACCEPTED_SUBSTITUTE
    assert rules(judged(designed, found, series=True)) == ["string_differs"]


def test_a_six_volt_0_3_ampere_tube_in_a_0_15_ampere_string_burns_the_others() -> None:
    judgement = judged(_beam("12A", 12.6), _beam("6A", 6.3, 0.3), series=True)
    assert judgement.outcome is Outcome.HARMFUL
    assert fact(judgement, "string_over", "others_high_percent") > 110


def test_a_heater_of_half_the_amperes_burns_itself_in_the_string() -> None:
    judgement = judged(_beam("A", 12.6, 0.3), _beam("B", 12.6, 0.15), series=True)
    assert judgement.outcome is Outcome.HARMFUL
    assert fact(judgement, "string_over", "found_high_percent") > 110
    assert fact(judgement, "string_over", "others_high_percent") < 110


def test_a_tapped_socket_in_a_string_is_taken_in_the_wiring_that_suits_the_found_heater() -> None:
    judgement = judged(twin("12AX7"), twin("X", "12.6/0.15 4-5", nine="nc"), series=True)
    assert judgement.outcome is Outcome.ACCEPTED_SUBSTITUTE


def test_volts_within_ten_per_cent_and_amperes_within_five_are_near_enough() -> None:
    assert (
        judged(_beam("A", 12.6), _beam("B", 12.0, 0.155), series=True).outcome is Outcome.ACCEPTED_SUBSTITUTE
    )


def test_no_entry_makes_another_heater_right_for_a_string() -> None:
    designed, found = twin("12AX7"), twin("5751", "6.3/0.35 4+5-9 | 12.6/0.175 4-5")
    entry = serves(designed, found, "parallel heaters only")
    assert judged(designed, found, entry).outcome is Outcome.ACCEPTED_SUBSTITUTE
    assert judged(designed, found, entry, series=True).outcome is Outcome.WRONG_TYPE


def test_a_heater_without_two_ends_in_the_wiring_leaves_the_string_cold() -> None:
    judgement = judged(twin("12AX7"), twin("6DJ8", "6.3/0.3 4-5", nine="nc"), series=True, heater_v=6.3)
    assert rules(judgement) == ["heater_cold"]


# ---- what is known of the wiring


@pytest.mark.parametrize("pins", ["4+5-9", "9-4+5", " 5 + 4 - 9 "])
def test_a_known_wiring_leaves_the_other_one_out(pins: str) -> None:
    designed, found = twin("12AX7"), twin("6DJ8", SIX_VOLTS_ONLY, nine="shield")
    judgement = judged(designed, found, heater_pins=pins)
    assert rules(judgement) == ["heater_cold"]
    assert say(judgement.reasons[0]) == (
        "pin 9: heater centre tap in this socket, internal shield in the found tube: "
        "the heater stays cold at 6.3 V wiring"
    )
    assert rules(judged(designed, found, heater_pins="4-5")) == ["heater_over"]


def test_the_known_wiring_beats_the_known_volts() -> None:
    designed, found = twin("12AX7"), twin("6DJ8", SIX_VOLTS_ONLY, nine="shield")
    assert rules(judged(designed, found, heater_pins="4-5", heater_v=6.3)) == ["heater_over"]


@pytest.mark.parametrize("pins", ["", "3-4", "4+5", "-", "++--", "none", "4+5-9-9"])
def test_pins_that_are_no_wiring_of_the_type_are_passed_over(pins: str) -> None:
    designed, found = twin("12AX7"), twin("6DJ8", SIX_VOLTS_ONLY, nine="shield")
    assert judged(designed, found, heater_pins=pins) == judged(designed, found)


def test_a_cold_heater_in_a_string_puts_the_whole_string_out() -> None:
    judgement = judged(
        twin("12AX7"), twin("X", "12.6/0.15 4-5", nine="nc"), series=True, heater_pins="4+5-9", string_v=110.0
    )
    assert say(judgement.reasons[0]) == (
        "pin 9: heater centre tap in this socket, not connected in the found tube: "
        "the heater stays cold at 6.3 V wiring, and with it the whole string of 110 V"
    )


def test_a_tapped_heater_on_its_ends_says_what_the_socket_has_at_its_tap() -> None:
    judgement = judged(twin("6DJ8", "6.3/0.3 4-5", nine="shield"), twin("12AX7"))
    assert say(judgement.reasons[0]) == (
        "6.3 V across a 12.6 V heater, only 50 %; "
        "pin 9: internal shield in this socket, heater centre tap in the found tube"
    )


# ---- warm-up


def test_a_string_wants_equal_warm_up_times() -> None:
    controlled, plain = replace(_beam("6A", 6.3, 0.6), warmup_s=11.0), _beam("6", 6.3, 0.6)
    for designed, found in ((controlled, plain), (plain, controlled)):
        judgement = judged(designed, found, series=True)
        assert judgement.outcome is Outcome.ACCEPTED_SUBSTITUTE
        assert [c for c in judgement.conditions if c.startswith("warm-up: ") and "11 s" in c]
        assert not [c for c in judged(designed, found).conditions if "warm-up" in c]
    twice = judged(controlled, replace(controlled, key="B", designation="B"), series=True)
    assert not [c for c in twice.conditions if "warm-up" in c]


# ---- a centre tap on an earthed shield


def test_a_centre_tap_on_the_shields_pin_is_harmful_where_half_the_heater_gets_all_the_volts() -> None:
    shielded = twin("12DT8", "12.6/0.15 4-5", nine="shield")
    judgement = judged(shielded, twin("12AT7"))
    assert (judgement.outcome, rules(judgement)) == (Outcome.HARMFUL, ["heater_tap_earthed"])
    assert say(judgement.reasons[0]) == (
        "pin 9: internal shield in this socket, heater centre tap in the found tube: with both the shield "
        "and the winding earthed half of its heater gets 12.6 V for 6.3 V, 200 %"
    )
    assert judged(twin("X", "12.6/0.15 4-5", nine="nc"), twin("12AT7")).outcome is not Outcome.HARMFUL
    assert judged(twin("6CG7", "6.3/0.3 4-5", nine="shield"), twin("12AU7")).outcome is Outcome.WRONG_TYPE


@pytest.mark.parametrize(("volts", "rule"), [(7.0, "heater_under"), (6.99, "no_difference")])
def test_ninety_per_cent_is_the_lowest_and_already_too_low(volts: float, rule: str) -> None:
    assert rules(judged(output("A"), output("B", f"{volts}/0.45 2-7"))) == [rule]


def test_volts_a_little_off_are_told() -> None:
    def told(volts: float) -> bool:
        found = output("B", f"{volts}/0.45 2-7")
        return any(f"6.3 V across a {volts:g} V heater" in c for c in judged(output("A"), found).conditions)

    assert [told(volts) for volts in (6.0, 6.2, 6.3, 6.4, 6.6)] == [True, False, False, False, True]
