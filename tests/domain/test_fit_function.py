from dataclasses import replace

import pytest

from tests.domain.tubes import fact, judged, output, rectifier, rules, serves, tube, twin
from tubeshelf.domain.fitting import Outcome
from tubeshelf.domain.types import TubeType
from tubeshelf.domain.words import say


def triode(mu: float | None, gm: float | None, name: str = "B") -> TubeType:
    return twin(name, figures={"mu": mu, "gm_umho": gm})


def test_a_mu_over_a_quarter_away_is_a_wrong_type_with_both_numbers() -> None:
    judgement = judged(triode(100.0, 1600.0, "12AX7"), triode(17.0, 1600.0, "12AU7"))
    assert judgement.outcome is Outcome.WRONG_TYPE
    assert rules(judgement) == ["mu_differs"]
    assert (fact(judgement, "mu_differs", "found"), fact(judgement, "mu_differs", "designed")) == (17, 100)
    assert judged(triode(100.0, 1600.0, "A"), triode(81.0, 1600.0)).outcome is Outcome.ACCEPTED_SUBSTITUTE


def test_a_gm_over_35_per_cent_away_is_a_wrong_type() -> None:
    assert rules(judged(triode(20.0, 2000.0, "A"), triode(20.0, 2750.0))) == ["gm_differs"]
    assert judged(triode(20.0, 2000.0, "A"), triode(20.0, 2650.0)).outcome is Outcome.ACCEPTED_SUBSTITUTE


def test_a_type_without_figures_is_unknown_not_accepted() -> None:
    judgement = judged(triode(100.0, 1600.0, "A"), triode(None, None))
    assert judgement.outcome is Outcome.UNKNOWN
    assert rules(judgement) == ["figures_missing"]


def test_the_mu_of_a_pentode_is_no_characteristic_of_it() -> None:
    one = output("A", figures={"gm_umho": 4100.0, "mu": 300.0})
    assert judged(one, output("B", figures={"gm_umho": 4100.0, "mu": 900.0})).outcome == "accepted_substitute"


def test_beam_power_and_power_pentode_do_the_same_work() -> None:
    assert (
        judged(output("6V6"), output("6F6", sections="1 power pentode")).outcome
        is Outcome.ACCEPTED_SUBSTITUTE
    )


def test_a_power_triode_is_not_a_triode_and_a_pentode_is_not_a_power_pentode() -> None:
    for found in ("1 power triode", "1 pentode"):
        assert "function_differs" in rules(judged(output("6V6"), output("X", sections=found)))


def test_cutoff_has_to_agree_also_where_a_substitute_is_listed() -> None:
    for found in ("sharp", "semi"):
        judgement = judged(output("6BA6", cutoff="remote"), output("6AU6", cutoff=found))
        assert judgement.outcome is Outcome.WRONG_TYPE
        assert rules(judgement) == ["cutoff_differs"]
    assert judged(output("A", cutoff="remote"), output("B")).outcome is Outcome.ACCEPTED_SUBSTITUTE


def test_an_output_tube_of_other_bias_is_to_be_rebiased() -> None:
    found = output("6L6", figures={"gm_umho": 4100.0, "grid_v": -14.0})
    assert (
        "rebias: −14 V grid bias in the data where −12.5 V was designed"
        in judged(output("6V6"), found).conditions
    )


def test_the_section_that_differs_is_named_where_sections_are_not_alike() -> None:
    pins = "1:t.grid1 2:t.cathode+d1.cathode 3:heater 4:heater 5:d1.plate 6:nc 7:t.plate"

    def diode_triode(name: str, mu: float) -> TubeType:
        return tube(name, pins, "6.3/0.3 3-4", "t triode, d1 diode", figures={"mu": mu, "gm_umho": 1200.0})

    judgement = judged(diode_triode("6AV6", 100.0), diode_triode("6AT6", 70.0))
    assert fact(judgement, "mu_differs", "section") == "t"


@pytest.mark.parametrize("cutoff", ["remote", "semi"])
def test_a_triode_without_a_cutoff_is_a_sharp_one(cutoff: str) -> None:
    plain, other = triode(33.0, 12500.0, "6DJ8"), replace(triode(33.0, 12500.0, "6ES8"), cutoff=cutoff)
    for judgement in (judged(plain, other), judged(other, plain)):
        assert rules(judgement) == ["cutoff_differs"]
    assert say(judged(plain, other).reasons[0]) == (
        f"{'semi-remote' if cutoff == 'semi' else cutoff} cut-off where sharp cut-off was designed"
    )


def test_figures_at_a_12_volt_plate_are_no_likeness() -> None:
    usual = output("12BD6", figures={"gm_umho": 2000.0, "plate_v": 250.0}, sections="1 pentode")
    hybrid = output("12AF6", figures={"gm_umho": 1500.0, "plate_v": 12.6}, sections="1 pentode")
    for one, other in ((usual, hybrid), (hybrid, usual)):
        assert (judged(one, other).outcome, rules(judged(one, other))) == (
            Outcome.WRONG_TYPE,
            ["plate_class"],
        )
    battery = output("1T4", figures={"gm_umho": 2000.0, "plate_v": 67.5}, sections="1 pentode")
    assert judged(usual, battery).outcome is Outcome.ACCEPTED_SUBSTITUTE


# ---- what the table lacks


@pytest.mark.parametrize("lacking", ["plate_v_max", "piv_v"])
def test_a_rating_stated_for_the_designed_type_alone_is_unknown_unless_listed(lacking: str) -> None:
    designed, found = output("A", **{lacking: 300.0}), output("B")
    assert (judged(designed, found).outcome, rules(judged(designed, found))) == (
        Outcome.UNKNOWN,
        ["figures_missing"],
    )
    assert judged(found, designed).outcome is Outcome.ACCEPTED_SUBSTITUTE
    assert judged(designed, found, serves(designed, found)).outcome is Outcome.ACCEPTED_SUBSTITUTE


def test_a_plate_dissipation_stated_for_one_only_is_unknown() -> None:
    designed = output("A", figures={"gm_umho": 4100.0, "plate_w_max": 12.0})
    assert judged(designed, output("B")).outcome is Outcome.UNKNOWN


def test_a_rectifier_of_unknown_drop_is_unknown_in_either_direction() -> None:
    known, unknown = rectifier("5Y3"), rectifier("GZ32", drop_v=None, drop_ma=None)
    for judgement in (judged(known, unknown), judged(unknown, known)):
        assert (judgement.outcome, rules(judgement)) == (Outcome.UNKNOWN, ["figures_missing"])
        assert say(judgement.reasons[0]) == "the table lacks the figures of GZ32 to compare the two types"


def test_two_types_that_do_different_work_need_no_figures_to_be_compared() -> None:
    beam, full_wave = output("25L6GT", plate_v_max=200.0), rectifier("25Z6GT")
    assert "figures_missing" not in rules(judged(beam, full_wave))
