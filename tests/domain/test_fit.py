from dataclasses import replace

from tests.domain.tubes import judged, output, rules, serves, twin
from tubeshelf.domain.catalog import Catalog
from tubeshelf.domain.fit import judge_fit
from tubeshelf.domain.fitting import Outcome
from tubeshelf.domain.words import say

AX = replace(twin("12AX7", plate_v_max=300.0), equivalents=("ECC83",))
AY = twin("12AY7", figures={"mu": 44.0, "gm_umho": 1750.0})


def test_the_same_tube_under_another_name_is_the_right_type() -> None:
    judgement = judge_fit(Catalog([AX]), "ecc 83", "12AX7")
    assert (judgement.intended, judgement.found, judgement.outcome) == ("ecc 83", "12AX7", Outcome.RIGHT_TYPE)
    assert say(judgement.reasons[0]) == "the designed type under another name: 12AX7 for ecc 83"
    assert say(judge_fit(Catalog([AX]), "12AX7", "12-ax7").reasons[0]) == "the designed type"


def test_what_is_not_in_the_table_is_unknown_with_names_that_look_like_it() -> None:
    judgement = judge_fit(Catalog([AX]), "12AX8", "NEVER1")
    assert judgement.outcome is Outcome.UNKNOWN
    assert [say(reason) for reason in judgement.reasons] == [
        "12AX8 is not in the type table; near it: 12AX7",
        "NEVER1 is not in the type table",
    ]


def test_a_ruggedised_name_outside_the_table_is_not_taken_for_the_plain_type() -> None:
    assert judge_fit(Catalog([AX]), "12AX7", "12AX7WA").outcome is Outcome.UNKNOWN


def test_an_entry_accepts_a_difference_under_its_conditions_in_one_direction() -> None:
    entry = serves(AX, AY, "lower gain")
    judgement = judged(AX, AY, entry)
    assert judgement.outcome is Outcome.ACCEPTED_SUBSTITUTE
    assert judgement.conditions[0] == "lower gain"
    assert rules(judgement) == ["listed_substitute", "mu_differs"]
    assert {reason.outcome for reason in judgement.reasons} == {Outcome.ACCEPTED_SUBSTITUTE}
    assert judged(AY, AX, entry).outcome is Outcome.WRONG_TYPE


def test_an_entry_never_silences_harm_or_another_base() -> None:
    hungry, beam = twin("X", "5/0.9 4-5", nine="nc"), output("6V6GT")
    assert judged(AX, hungry, serves(AX, hungry)).outcome is Outcome.HARMFUL
    assert judged(AX, beam, serves(AX, beam)).outcome is Outcome.CANNOT_SEAT


def test_an_entry_never_accepts_another_cutoff_function_or_a_cold_heater() -> None:
    for found in (
        output("B", cutoff="sharp"),
        output("B", sections="1 pentode", cutoff="remote"),
        output("B", "7.5/0.45 2-7", cutoff="remote"),
    ):
        designed = output("A", cutoff="remote")
        assert judged(designed, found, serves(designed, found, grade=1)).outcome is Outcome.WRONG_TYPE


def test_an_entry_accepts_figures_that_the_table_lacks() -> None:
    bare = twin("X", figures={})
    assert judged(AX, bare).outcome is Outcome.UNKNOWN
    assert judged(AX, bare, serves(AX, bare)).outcome is Outcome.ACCEPTED_SUBSTITUTE


def test_an_unlisted_pair_without_a_difference_says_that_it_is_unlisted() -> None:
    judgement = judged(AX, twin("7025", plate_v_max=330.0))
    assert judgement.outcome is Outcome.ACCEPTED_SUBSTITUTE
    assert judgement.conditions[0].startswith("no listed substitute")


def test_every_difference_is_told_worst_first() -> None:
    found = twin("X", "5/0.9 4-5", nine="nc", figures={"mu": 20.0, "gm_umho": 1600.0}, plate_v_max=200.0)
    judgement = judged(AX, found)
    severities = [reason.outcome.severity for reason in judgement.reasons]
    assert severities == sorted(severities, reverse=True)
    assert {"heater_over", "heater_cold", "rating_lower", "mu_differs"} <= set(rules(judgement))
    assert judgement.conditions == ()
