import pytest

from tests.domain.tubes import judged, output, rectifier, rules, serves, twin
from tubeshelf.domain.fitting import Outcome
from tubeshelf.domain.words import say

PLAIN, SELECTED = twin("12AX7"), twin("7025")


def test_a_selected_version_serves_for_the_plain_one_and_not_the_other_way() -> None:
    entry = serves(PLAIN, SELECTED, grade=1)
    assert judged(PLAIN, SELECTED, entry).outcome is Outcome.ACCEPTED_SUBSTITUTE
    backwards = judged(SELECTED, PLAIN, entry)
    assert backwards.outcome is Outcome.WRONG_TYPE
    assert [say(reason) for reason in backwards.reasons] == [
        "one way only: a 7025 may replace a 12AX7, not the other way"
    ]


def test_a_pair_listed_both_ways_serves_both_ways() -> None:
    both = serves(PLAIN, SELECTED, grade=1), serves(SELECTED, PLAIN, "more noise possible")
    assert judged(SELECTED, PLAIN, *both).outcome is Outcome.ACCEPTED_SUBSTITUTE


def test_the_one_way_entry_is_told_before_the_lower_ratings_and_after_harm() -> None:
    weak, strong = rectifier("5U4G", dc_ma=225.0), rectifier("5U4GB", dc_ma=275.0)
    assert rules(judged(strong, weak, serves(weak, strong))) == ["one_way", "rating_lower"]
    weaker = rectifier("5Y3", dc_ma=125.0)
    assert rules(judged(strong, weaker, serves(weaker, strong)))[:2] == ["rectifier_current", "one_way"]


def test_output_tubes_of_two_families_are_wrong_types_unless_listed() -> None:
    designed, found = output("6CA7", family="6CA7"), output("KT88", family="KT88")
    judgement = judged(designed, found)
    assert (judgement.outcome, rules(judgement)) == (Outcome.WRONG_TYPE, ["output_not_listed"])
    assert say(judgement.reasons[0]) == "an output tube not listed for this one: load and bias differ"
    listed = judged(designed, found, serves(designed, found, "rebias"))
    assert listed.outcome is Outcome.ACCEPTED_SUBSTITUTE


@pytest.mark.parametrize("section", ["1 power triode", "1 power pentode"])
def test_power_triodes_and_pentodes_are_output_tubes_too(section: str) -> None:
    one, other = (output(name, family=name, sections=section) for name in ("A", "B"))
    assert rules(judged(one, other)) == ["output_not_listed"]


def test_no_output_tube_is_told_of_two_tubes_of_other_work() -> None:
    assert judged(twin("A", family="A"), twin("B", family="B")).outcome is Outcome.ACCEPTED_SUBSTITUTE
    triode = output("A", family="A", sections="1 triode", figures={"mu": 20.0})
    assert "output_not_listed" not in rules(judged(output("6V6"), triode))


def test_a_condition_is_not_said_twice() -> None:
    designed = output("6L6G", family="6L6")
    found = output("KT66", family="KT66", figures={"gm_umho": 4100.0, "grid_v": -15.0})
    entry = serves(designed, found, "rebias", "larger bulb: check the room")
    assert judged(designed, found, entry).conditions == (
        "larger bulb: check the room",
        "rebias: −15 V grid bias in the data where −12.5 V was designed",
    )


def test_the_characteristic_that_decides_is_told_first() -> None:
    high = twin("12AX7", figures={"mu": 100.0, "gm_umho": 1600.0}, plate_v_max=330.0)
    low = twin(
        "12BH7", "6.3/0.6 4+5-9 | 12.6/0.3 4-5", figures={"mu": 16.5, "gm_umho": 3100.0}, plate_v_max=300.0
    )
    assert rules(judged(high, low)) == ["mu_differs", "heater_current", "rating_lower", "gm_differs"]
    cold = twin("6CG7", "6.3/0.6 4-5", nine="nc", figures={"mu": 20.0, "gm_umho": 2600.0})
    assert rules(judged(cold, high))[0] == "heater_under"
