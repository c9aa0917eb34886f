import pytest

from tubeshelf.domain.judging import Limit, LineVerdict, Mark, Observation, Repeatability, TubeVerdict
from tubeshelf.domain.verdict import judge_line
from tubeshelf.domain.verdict_words import (
    doubt_text,
    line_text,
    mark_text,
    merit_word,
    repeat_text,
    spread_text,
    tube_text,
)

GM = Limit(good_from=7000.0, reject_below=5000.0, above=12000.0, unit="µmho")
MERIT = ("bad", "doubtful", "good")


def line(*values: float, limit: Limit | None = GM, u: float | None = 213.0) -> LineVerdict:
    return judge_line(values, limit, Repeatability(absolute=u))


def test_a_line_is_said_against_the_limit_it_is_nearest_to() -> None:
    # 1.645 times 213 is 350.4
    assert line_text(line(6900.0)) == "6,900 ± 350, good from 7,000"
    assert line_text(line(5100.0)) == "5,100 ± 350, reject below 5,000"
    assert line_text(line(6900.0, u=None)) == "6,900, good from 7,000"


def test_a_single_reading_is_said_as_it_was_typed_and_a_mean_is_rounded() -> None:
    assert line_text(line(6912.25, u=None)) == "6,912.25, good from 7,000"
    assert line_text(line(6900.0, 6900.0, 6910.0, u=None)) == "6,903.3 of three, good from 7,000"


def test_after_each_repeat_the_line_says_whether_it_is_settled() -> None:
    # 213/√2·1.645 = 247.8, 213/√3·1.645 = 202.3
    assert repeat_text(line(6900.0)) == "6,900 ± 350: read again"
    assert repeat_text(line(6900.0, 6900.0)) == "6,900 ± 250 of two: read again"
    assert repeat_text(line(6700.0, 6800.0, 6750.0)) == "6,750 ± 200 of three: weak"
    assert repeat_text(line(6900.0, 7000.0, 6950.0)) == (
        "6,950 ± 200 of three: weak, too close to call: you decide"
    )
    assert repeat_text(line(9000.0)) == "9,000 ± 350: good"
    assert repeat_text(line(6900.0, 7000.0, u=None)) == "6,950 of two: weak"
    assert repeat_text(line(6900.0, 6700.0, limit=None)) == "6,800 ± 250 of two: unjudged"


def test_the_spread_of_repeats_is_told_in_per_cent_of_their_mean() -> None:
    assert spread_text((6900, 7100)) == "spread of the repeats 2.9 %"
    assert spread_text((6900,)) == ""
    assert spread_text((0, 0)) == ""


def test_remarks_on_a_line() -> None:
    assert line_text(line(12500.0, u=None)) == "12,500, good from 7,000, above 12,000"
    assert line_text(line(0.0, u=None)) == "0, reject below 5,000, dead"
    assert line_text(line(62.0, limit=None)) == "62 ± 350, no limit"
    shop = Limit(good_from=60.0, reject_below=45.0, derived=True)
    assert line_text(line(62.0, limit=shop, u=None)) == "62, good from 60 (shop default)"


def test_a_merit_scale_is_said_in_its_words() -> None:
    limit = Limit(good_from=3.0, reject_below=2.0)
    assert line_text(line(3.0, limit=limit, u=0.3), MERIT) == "good, good from good"
    assert line_text(line(1.0, limit=limit, u=0.3), MERIT) == "bad, reject below doubtful"
    assert merit_word(2.5, MERIT) == "between doubtful and good"


@pytest.mark.parametrize(
    ("verdict", "method", "text"),
    [
        (TubeVerdict("good", True, "emission", lines_read=1), "emission", "good, emission"),
        (TubeVerdict("good", True, lines_read=1), "emission", "good, emission"),
        (TubeVerdict("good", None, "gm", lines_read=1), "", "good"),
        (
            TubeVerdict("weak", False, "gm 2", read_again=True, lines_read=2),
            "transconductance",
            "weak, transconductance, gm 2, read again",
        ),
        (TubeVerdict("good", False, "gm", lines_read=1), "", "good, too close to call"),
        (TubeVerdict("short", True, lines_read=1), "emission", "short"),
        (TubeVerdict("not read", None), "emission", "not read"),
        (
            TubeVerdict("not read", None, lines_read=1, lines_expected=2),
            "emission",
            "not read, 1 of 2 lines read",
        ),
        (
            TubeVerdict("reject", True, "gm 1", lines_read=1, lines_expected=2),
            "",
            "reject, gm 1, 1 of 2 lines read",
        ),
    ],
)
def test_a_tube_is_said_with_its_method_and_what_decided(
    verdict: TubeVerdict, method: str, text: str
) -> None:
    assert tube_text(verdict, method) == text


@pytest.mark.parametrize(
    ("observation", "text"),
    [
        (Observation(Mark.SHORT, True, pins="2-3"), "short, pins 2–3"),
        (Observation(Mark.SHORT, True, pins="5, cap"), "short, pins 5–cap"),
        (Observation(Mark.SHORT, True), "short"),
        (Observation(Mark.LEAKAGE, True, 0.4, "MΩ", "heater-cathode"), "leakage 0.4 MΩ, heater to cathode"),
        (
            Observation(Mark.LEAKAGE, True, 0.4, "MΩ", "heater to cathode"),
            "leakage 0.4 MΩ, heater to cathode",
        ),
        (Observation(Mark.GAS, False, 0.0, "µA", "5"), "gas 0 µA, pin 5"),
        (Observation(Mark.NOISE, False, 2.0), "noise 2"),
        (Observation(Mark.WHITE_GETTER, True), "white getter"),
    ],
)
def test_an_observation_is_said_with_its_value_and_place(observation: Observation, text: str) -> None:
    assert mark_text(observation) == text


@pytest.mark.parametrize(
    ("places", "text"),
    [
        ((3.0,), "good, good from good"),
        ((2.0,), "doubtful, good from good"),
        ((1.0,), "bad, reject below doubtful"),
        ((3.0, 3.0, 2.0), "between doubtful and good, good from good"),
    ],
)
def test_a_word_is_said_against_the_border_it_is_nearest_to(places: tuple[float, ...], text: str) -> None:
    limit = Limit(good_from=3.0, reject_below=2.0)
    assert line_text(judge_line(places, limit, Repeatability(), by_word=True), MERIT) == text


@pytest.mark.parametrize(
    ("values", "says"),
    [
        ((7010.0,), "read again"),
        ((7010.0, 7020.0), "read again"),
        ((7010.0, 7020.0, 6990.0), "too close to call"),
        ((9000.0,), ""),
    ],
)
def test_an_unsure_line_asks_for_three_readings_and_then_leaves_it(
    values: tuple[float, ...], says: str
) -> None:
    assert doubt_text(line(*values)) == says


def test_nothing_is_in_doubt_where_the_testers_repeatability_is_not_known() -> None:
    assert doubt_text(line(7010.0, u=None)) == ""
