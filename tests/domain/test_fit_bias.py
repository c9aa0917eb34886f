import pytest

from tests.domain.tubes import fact, judged, output, rules, serves
from tubeshelf.domain.fitting import Bias, FitJudgement, Outcome
from tubeshelf.domain.types import TubeType
from tubeshelf.domain.words import say

POINT = {"gm_umho": 4000.0, "grid_v": -12.0, "plate_v": 250.0, "screen_v": 250.0, "plate_ma": 45.0}
"""A bogey point: 45 mA at 250 V and -12 V, 4 mA a volt."""


def beam(name: str, **figures: float) -> TubeType:
    return output(name, figures={**POINT, "plate_w_max": 12.0, **figures})


@pytest.mark.parametrize(
    ("bias", "sentence"),
    [
        (None, "rebias: −14 V grid bias in the data where −12 V was designed"),
        (
            Bias.FIXED,
            "rebias: set the fixed bias before B+ comes on "
            "(−14 V grid bias in the data where −12 V was designed)",
        ),
        (
            Bias.CATHODE,
            "rebias: check the cathode resistor (−14 V grid bias in the data where −12 V was designed)",
        ),
    ],
)
def test_the_kind_of_bias_says_what_to_do(bias: Bias | None, sentence: str) -> None:
    assert sentence in judged(beam("A"), beam("B", grid_v=-14.0), bias=bias).conditions


def test_a_listed_rebias_is_told_once_and_by_the_kind_of_bias() -> None:
    designed, found = beam("A"), beam("B")
    entry = serves(designed, found, "rebias", "larger bulb: check the room")
    assert judged(designed, found, entry).conditions == ("rebias", "larger bulb: check the room")
    fixed = judged(designed, found, entry, bias=Bias.FIXED).conditions
    assert fixed == ("larger bulb: check the room", "rebias: set the fixed bias before B+ comes on")
    other = beam("B", grid_v=-14.0)
    said = judged(designed, other, serves(designed, other, "rebias"), bias=Bias.FIXED).conditions
    assert [one[:6] for one in said] == ["rebias"]


def fixed(
    designed: TubeType, found: TubeType, bias_v: float, supply: float = 250.0, **facts: float
) -> FitJudgement:
    return judged(designed, found, bias=Bias.FIXED, bias_v=bias_v, plate_supply_v=supply, **facts)


def test_a_known_bias_gives_the_plate_current_of_the_found_tube() -> None:
    designed = beam("A", plate_ma=20.0)
    # by hand: 45 mA + 4 mA/V x (-10 + 12) V = 53 mA; 53 mA x 250 V = 13.25 W, 110.4 % of 12 W
    judgement = fixed(designed, beam("B"), -10.0)
    assert (judgement.outcome, rules(judgement)[0]) == (Outcome.HARMFUL, "bias_over")
    assert fact(judgement, "bias_over", "found_ma") == pytest.approx(53.0)
    assert fact(judgement, "bias_over", "watts") == pytest.approx(13.25)
    assert say(judgement.reasons[0]) == (
        "about 53 mA at −10 V bias and 250 V, 13.2 W on a plate rated 12 W, a first-order estimate"
    )


def test_up_to_ten_per_cent_over_the_rating_is_a_condition_with_the_numbers() -> None:
    judgement = fixed(beam("A", plate_ma=20.0), beam("B"), -10.1)  # 52.6 mA, 13.15 W, 109.6 %
    assert judgement.outcome is Outcome.ACCEPTED_SUBSTITUTE
    assert any("52.6 mA" in c and "first-order estimate" in c for c in judgement.conditions)


def test_the_plate_resistance_counts_where_it_is_known() -> None:
    found = beam("B", rp_ohm=10_000.0)
    # by hand: 45 mA + 4 x (-12 + 12) + 50 V / 10 kohm = 50 mA at 300 V: 15 W, 125 %
    judgement = fixed(beam("A", plate_ma=20.0), found, -12.0, 300.0)
    assert fact(judgement, "bias_over", "found_ma") == pytest.approx(50.0)


def test_a_plate_at_cut_off_draws_nothing_rather_than_less() -> None:
    judgement = fixed(beam("A"), beam("B"), -40.0)
    assert any(c.startswith("about 0 mA at −40 V bias") for c in judgement.conditions)


@pytest.mark.parametrize(
    ("supply", "estimated"), [(312.0, True), (313.0, False), (188.0, True), (187.0, False)]
)
def test_no_estimate_farther_than_a_quarter_from_the_bogey_point(supply: float, estimated: bool) -> None:
    judgement = fixed(beam("A"), beam("B"), -30.0, supply)
    assert any("first-order" in c for c in judgement.conditions) is estimated


@pytest.mark.parametrize(("screen", "estimated"), [(270.0, True), (280.0, False)])
def test_no_estimate_with_a_screen_far_from_the_bogey_point(screen: float, estimated: bool) -> None:
    judgement = fixed(beam("A"), beam("B"), -30.0, screen_supply_v=screen)
    assert any("first-order" in c for c in judgement.conditions) is estimated


def test_a_set_that_overruns_the_designed_tube_as_much_is_not_the_found_tubes_fault() -> None:
    assert fixed(beam("A"), beam("B"), -8.0).outcome is Outcome.ACCEPTED_SUBSTITUTE
    assert fixed(beam("A"), beam("B", plate_w_max=11.0), -8.0).outcome is Outcome.HARMFUL


def test_a_cathode_resistor_or_an_unknown_supply_gives_no_estimate() -> None:
    designed, found = beam("A", plate_ma=20.0), beam("B")
    assert judged(designed, found, bias=Bias.FIXED, bias_v=-2.0) == judged(designed, found, bias=Bias.FIXED)
    assert judged(designed, found, bias=Bias.CATHODE, bias_v=-2.0, plate_supply_v=250.0) == judged(
        designed, found, plate_supply_v=250.0
    )
