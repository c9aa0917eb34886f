"""Leakage, gas and life test against the tester's limit, else against period practice."""

import pytest

from tests.domain.tubes import OUTPUT, RECTIFIER, TAPPED, TWIN, tube
from tubeshelf.domain.errors import UserError
from tubeshelf.domain.judging import NO_PASS_LIMITS, Mark, Observation, PassLimits
from tubeshelf.domain.observing import (
    Proposal,
    compared_text,
    forbids_quality_test,
    observed_value,
    proposed,
    unit_of,
)
from tubeshelf.domain.types import Heating, TubeType

TRIODES = tube("12XX7", TWIN, TAPPED, "1+2 triode")
POWER = tube("6XX6", OUTPUT, "6.3/0.9", "1 beam power", base="octal")
PENTODE = tube("6XX5", "1:1.grid1 2:1.cathode 3:heater 4:heater 5:1.plate", "6.3/0.3", "1 pentode")
OLD = tube("XX45", RECTIFIER, "2.5/1.5", "1 power triode", heating=Heating.FILAMENT)


def told(
    mark: Mark,
    value: float,
    tube: TubeType | None,
    *,
    place: str = "",
    last: float | None = None,
    passes: PassLimits = NO_PASS_LIMITS,
) -> Proposal:
    said = proposed(mark, value, passes=passes, tube=tube, place=place, last=last)
    assert said is not None
    return said


@pytest.mark.parametrize(
    ("value", "tube", "place", "is_fault"),
    [
        (4.9, TRIODES, "1-2", True),
        (5.0, TRIODES, "1-2", False),
        (1.0, TRIODES, "3-4", False),  # pin 3 is a cathode, pin 4 the heater
        (0.9, TRIODES, "4-3", True),
        (0.9, TRIODES, "heater-cathode", True),
        (0.5, POWER, "7-8", False),
        (0.49, POWER, "7-8", True),
        (0.49, TRIODES, "", True),
        (20.0, TRIODES, "", False),
        (2.0, TRIODES, "", None),  # enough from heater to cathode, too little between elements
        (2.0, None, "2-5", None),
    ],
)
def test_leakage_by_period_practice(
    value: float, tube: TubeType | None, place: str, is_fault: bool | None
) -> None:
    assert told(Mark.LEAKAGE, value, tube, place=place).is_fault is is_fault


def test_the_limit_of_the_tester_goes_before_period_practice() -> None:
    own = PassLimits(leakage_least=2.0, gas_most=3.0, gas_unit="divisions")
    assert told(Mark.LEAKAGE, 3, TRIODES, place="1-2", passes=own).words == (
        "3 MΩ is not under 2 MΩ (the tester's limit): no fault."
    )
    assert (
        told(Mark.GAS, -4, TRIODES, passes=own).words
        == "4 divisions is over 3 divisions (the tester's limit): a fault."
    )


def test_leakage_is_told_with_where_the_limit_comes_from() -> None:
    assert told(Mark.LEAKAGE, 0.05, POWER, place="7-8").words == (
        "0.05 MΩ is under 0.5 MΩ (heater to cathode of a power type, period practice): a fault. "
        "No quality test below 0.1 MΩ."
    )


@pytest.mark.parametrize(
    ("value", "tube", "is_fault"),
    [
        (0.2, TRIODES, False),
        (0.21, TRIODES, True),
        (-0.21, TRIODES, True),  # the sign says which way it flows
        (2.0, POWER, False),
        (2.1, POWER, True),
        (0.2, PENTODE, False),
        (1.0, PENTODE, None),
        (2.1, PENTODE, True),
    ],
)
def test_gas_by_data_sheets(value: float, tube: TubeType, is_fault: bool | None) -> None:
    assert told(Mark.GAS, value, tube).is_fault is is_fault


def test_divisions_without_a_limit_say_nothing() -> None:
    assert proposed(Mark.GAS, 3, passes=PassLimits(gas_unit="divisions"), tube=TRIODES) is None


@pytest.mark.parametrize(
    ("value", "is_fault"), [(5900.0, False), (5700.0, None), (5400.0, None), (5399.0, True), (6600.0, False)]
)
def test_a_life_test_against_the_last_reading(value: float, is_fault: bool | None) -> None:
    # from 6,340: 10 % lower is 5,706, 15 % lower is 5,389
    last = 6340.0 if value != 5399.0 else 6400.0
    assert told(Mark.LIFE_TEST, value, TRIODES, last=last).is_fault is is_fault


def test_a_life_test_says_nothing_of_a_filament() -> None:
    assert told(Mark.LIFE_TEST, 3000, OLD, last=6000.0).is_fault is None
    assert "thoriated" in told(Mark.LIFE_TEST, 3000, OLD, last=6000.0).words


def test_a_life_test_in_words() -> None:
    assert compared_text(5200, 6340) == "18 % below 6,340"
    assert compared_text(6500, 6340) == "2.5 % above 6,340"


@pytest.mark.parametrize(
    ("tube", "value", "fault", "words"),
    [
        (TRIODES, 3, False, "good after good: no fall, no fault."),
        (TRIODES, 2, None, "doubtful after good: a strong tube hardly moves; words do not say by how much."),
        (OLD, 2, None, "doubtful after good. With a thoriated filament that says nothing."),
    ],
)
def test_a_life_test_by_word_has_no_per_cent(
    tube: TubeType, value: float, fault: bool | None, words: str
) -> None:
    merit = ("poor", "doubtful", "good")
    said = proposed(Mark.LIFE_TEST, value, passes=NO_PASS_LIMITS, tube=tube, last=3, words=merit)
    assert said == Proposal(fault, words)
    assert observed_value(Mark.LIFE_TEST, words.split()[0].upper(), "", merit) == value
    assert observed_value(Mark.LIFE_TEST, str(value), "", merit) == value
    with pytest.raises(UserError, match="reads in words: 1 poor"):
        observed_value(Mark.LIFE_TEST, "4", "", merit)


def test_what_has_no_value_or_no_limit_proposes_nothing() -> None:
    assert proposed(Mark.NOISE, 2, passes=NO_PASS_LIMITS, tube=TRIODES) is None
    assert proposed(Mark.GAS, None, passes=NO_PASS_LIMITS, tube=TRIODES) is None
    assert proposed(Mark.LIFE_TEST, 5000, passes=NO_PASS_LIMITS, tube=TRIODES, last=None) is None


def test_values_as_they_are_typed() -> None:
    assert observed_value(Mark.LEAKAGE, "0,4", "MΩ") == 0.4
    assert observed_value(Mark.GAS, "-0.3", "µA") == -0.3
    assert observed_value(Mark.NOISE, "3", "") == 3
    assert observed_value(Mark.NOISE, "0", "") == 0
    assert observed_value(Mark.GAS, " ", "µA") is None
    for mark, text, sentence in (
        (Mark.NOISE, "4", "from 0"),
        (Mark.NOISE, "1.5", "from 0"),
        (Mark.LEAKAGE, "-1", "0 or more"),
    ):
        with pytest.raises(UserError, match=sentence):
            observed_value(mark, text, "")


def test_units() -> None:
    assert unit_of(Mark.LEAKAGE, NO_PASS_LIMITS) == "MΩ"
    assert unit_of(Mark.GAS, NO_PASS_LIMITS) == "µA"
    assert unit_of(Mark.GAS, PassLimits(gas_unit="divisions")) == "divisions"
    assert unit_of(Mark.LIFE_TEST, NO_PASS_LIMITS, "µmho") == "µmho"
    assert unit_of(Mark.SHORT, NO_PASS_LIMITS) is None


def test_a_short_and_a_heavy_leakage_forbid_a_quality_test() -> None:
    short = Observation(Mark.SHORT, is_fault=True)
    leak = Observation(Mark.LEAKAGE, is_fault=False, value=0.05, unit="MΩ")
    tied = Observation(Mark.SHORT, is_fault=False, pins="4-5")
    assert forbids_quality_test([tied, short]) == short
    assert forbids_quality_test([leak]) == leak
    assert forbids_quality_test([tied, Observation(Mark.LEAKAGE, is_fault=True, value=0.1)]) is None
