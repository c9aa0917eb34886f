from tests.domain.tubes import fact, judged, output, rules, tube, twin
from tubeshelf.domain.fitting import Outcome
from tubeshelf.domain.types import TubeType


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
