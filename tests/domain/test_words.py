import pytest

from tubeshelf.domain.fitting import Outcome, Reason
from tubeshelf.domain.words import element, number, outcome_word, say


@pytest.mark.parametrize(
    ("value", "text"),
    [
        *((2600, "2,600"), (12_345, "12,300"), (999.6, "1,000"), (116.03, "116"), (100.0, "100")),
        *((12.6, "12.6"), (2, "2"), (0.365, "0.365"), (0.0450, "0.045"), (0, "0"), (-13.5, "−13.5")),
    ],
)
def test_numbers_have_three_figures_and_no_idle_zeros(value: float, text: str) -> None:
    assert number(value) == text


@pytest.mark.parametrize(
    ("code", "name"),
    [
        *(("plate", "plate"), ("2.grid1", "control grid of section 2"), ("t.plate", "plate of the triode")),
        *(("g3", "No. 3 grid"), ("1.g3", "No. 3 grid of section 1"), ("heater.tap", "heater tap")),
    ],
)
def test_elements_are_called_by_their_trade_names(code: str, name: str) -> None:
    assert element(code) == name


def test_a_part_of_a_sentence_goes_where_its_fact_is_unknown() -> None:
    bare = Reason("mu_differs", Outcome.WRONG_TYPE, (("found", 17), ("designed", 100)))
    assert say(bare) == "µ 17 where 100 was designed"
    of_triode = Reason("mu_differs", Outcome.WRONG_TYPE, (*bare.facts, ("section", "t")))
    assert say(of_triode) == "µ 17 where 100 was designed (the triode)"


def test_a_fact_is_never_read_as_a_template() -> None:
    odd = Reason("not_in_table", Outcome.UNKNOWN, (("name", "{near}[x]"),))
    assert say(odd) == "{near}[x] is not in the type table"


def test_heater_sentences_carry_their_amperes() -> None:
    facts = (("found_a", 3.0), ("designed_a", 2.0))
    bare = say(Reason("heater_current_harm", Outcome.HARMFUL, facts))
    assert bare == "takes 3 A from a winding made for 2 A"
    alone = Reason("winding_overloaded", Outcome.HARMFUL, (("found_a", 3.0), ("winding_a", 2.0)))
    assert say(alone) == "takes 3 A from a winding rated 2 A"
    loaded = (*facts, ("total_a", 7.0), ("winding_a", 6.5))
    assert say(Reason("winding_overloaded", Outcome.HARMFUL, loaded)) == (
        "takes 3 A where 2 A was designed, 7 A in all, from a winding rated 6.5 A"
    )


@pytest.mark.parametrize(
    ("grade", "text"), [(1, "as good"), (2, "serves under its conditions"), (3, "in a pinch")]
)
def test_the_grade_of_an_entry_is_told_in_words(grade: int, text: str) -> None:
    listed = Reason("listed_substitute", Outcome.ACCEPTED_SUBSTITUTE, (("grade", grade),))
    assert say(listed) == f"listed as a substitute: {text}"


def test_every_outcome_has_its_word() -> None:
    assert [outcome_word(outcome) for outcome in Outcome] == [
        "right type",
        "accepted substitute",
        "unknown",
        "wrong type",
        "cannot seat",
        "harmful",
    ]


@pytest.mark.parametrize(
    ("name", "spoken"),
    [
        *(("12AX7", "a 12AX7"), ("83", "an 83"), ("807", "an 807"), ("EL84", "an EL84"), ("6V6", "a 6V6")),
        *(
            ("KT66", "a KT66"),
            ("117Z3", "a 117Z3"),
            ("18FW6", "an 18FW6"),
            ("1T4", "a 1T4"),
            ("UY85", "a UY85"),
        ),
    ],
)
def test_a_designation_has_the_article_it_is_read_with(name: str, spoken: str) -> None:
    one_way = Reason("one_way", Outcome.WRONG_TYPE, (("found", "5Z3"), ("designed", name)))
    assert say(one_way) == f"one way only: {spoken} may replace a 5Z3, not the other way"
