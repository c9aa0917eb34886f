from datetime import date

import pytest

from tubeshelf.domain.judging import (
    DefaultRule,
    Limit,
    LineVerdict,
    Mark,
    Observation,
    Repeatability,
    Scale,
    TubeVerdict,
    Zone,
)
from tubeshelf.domain.types import Section
from tubeshelf.domain.verdict import (
    default_limit,
    judge_line,
    judge_tube,
    like_sections,
    settled,
    standard_uncertainty,
    zone,
)

GM = Limit(good_from=7000.0, reject_below=5000.0, bogey=9000.0, above=12000.0, unit="µmho")
UNKNOWN = Repeatability()


def line(value: float, limit: Limit | None = GM, r: float | None = 0.01, n: int = 1) -> LineVerdict:
    return judge_line([value] * n, limit, Repeatability(relative=r))


def test_zones_touch_the_limits_from_the_good_side() -> None:
    assert zone(7000.0, GM) is Zone.GOOD
    assert zone(6999.0, GM) is Zone.WEAK
    assert zone(5000.0, GM) is Zone.WEAK
    assert zone(4999.0, GM) is Zone.REJECT


def test_one_figure_makes_two_zones_and_none_makes_no_judgement() -> None:
    assert zone(61.0, Limit(good_from=None, reject_below=62.0)) is Zone.REJECT
    assert zone(62.0, Limit(good_from=None, reject_below=62.0)) is Zone.GOOD
    assert zone(61.0, Limit(good_from=62.0, reject_below=None)) is Zone.WEAK
    assert zone(62.0, Limit(good_from=None, reject_below=None)) is Zone.UNJUDGED
    assert zone(62.0, None) is Zone.UNJUDGED


def test_a_dead_section_is_a_reject_even_without_a_limit() -> None:
    assert zone(0.0, None) is Zone.REJECT
    assert line(0.0, None).zone is Zone.REJECT


def test_a_merit_scale_is_judged_by_position() -> None:
    words = Limit(good_from=3.0, reject_below=2.0)  # of bad, doubtful, good
    assert [zone(float(n), words) for n in (1, 2, 3)] == [Zone.REJECT, Zone.WEAK, Zone.GOOD]


def test_uncertainty_adds_both_parts_in_quadrature() -> None:
    # 3 % of 100 and 4 absolute: the 3-4-5 triangle
    assert standard_uncertainty(100.0, Repeatability(0.03, 4.0)) == pytest.approx(5.0)
    assert standard_uncertainty(100.0, Repeatability(0.03, None)) == pytest.approx(3.0)
    assert standard_uncertainty(100.0, Repeatability(None, 4.0)) == 4.0
    assert standard_uncertainty(100.0, UNKNOWN) is None


def test_sure_only_beyond_the_guard_band() -> None:
    # u = 100; 1.645 u = 164.5 from 7,000 (JCGM 106, one-sided 95 %)
    absolute = Repeatability(absolute=100.0)
    assert judge_line([7165.0], GM, absolute).sure is True
    assert judge_line([7164.0], GM, absolute).sure is False
    assert judge_line([6836.0], GM, absolute).sure is False
    assert judge_line([6835.0], GM, absolute).sure is True
    assert judge_line([7164.5], GM, absolute).probability == pytest.approx(0.95, abs=1e-4)
    assert judge_line([6900.0], GM, absolute).probability == pytest.approx(0.1587, abs=1e-4)


WORDS = Limit(good_from=3.0, reject_below=2.0)
"""Of poor, doubtful, good: the borders lie at 1.5 and 2.5."""


def test_a_word_is_as_sure_as_the_tester_repeats_within_half_a_step() -> None:
    # 1.645 times 0.3 is 0.49, of 0.31 is 0.51
    for place, word in ((1.0, Zone.REJECT), (2.0, Zone.WEAK), (3.0, Zone.GOOD)):
        near = judge_line([place], WORDS, Repeatability(absolute=0.3), by_word=True)
        assert (near.zone, near.sure) == (word, True)
        assert judge_line([place], WORDS, Repeatability(absolute=0.31), by_word=True).sure is False
    verdict = judge_line([3.0], WORDS, Repeatability(absolute=0.5), by_word=True)
    assert verdict.probability == pytest.approx(0.8413, abs=1e-4)  # Φ(1): half a step above the border


@pytest.mark.parametrize(
    ("places", "word"),
    [
        ((3.0, 3.0, 2.0), Zone.GOOD),
        ((3.0, 2.0, 2.0), Zone.WEAK),
        ((2.0, 2.0, 1.0), Zone.WEAK),
        ((2.0, 1.0, 1.0), Zone.REJECT),
        ((3.0, 2.0), Zone.WEAK),
        ((2.0, 1.0), Zone.REJECT),
    ],
)
def test_repeats_by_word_count_as_the_nearest_word_and_half_way_as_the_worse(
    places: tuple[float, ...], word: Zone
) -> None:
    assert judge_line(places, WORDS, UNKNOWN, by_word=True).zone is word


def test_the_nearest_limit_is_the_one_in_doubt() -> None:
    verdict = judge_line([5050.0], GM, Repeatability(absolute=100.0))
    assert verdict.zone is Zone.WEAK
    assert verdict.sure is False
    assert verdict.probability == pytest.approx(0.6915, abs=1e-4)  # Φ(0.5)


def test_four_repeats_halve_the_uncertainty() -> None:
    verdict = judge_line([6890.0, 6910.0, 6880.0, 6920.0], GM, Repeatability(absolute=100.0))
    assert (verdict.mean, verdict.n, verdict.u) == (6900.0, 4, 50.0)


def test_a_tester_of_unknown_repeatability_is_neither_sure_nor_unsure() -> None:
    verdict = judge_line([6900.0], GM, UNKNOWN)
    assert (verdict.zone, verdict.u, verdict.sure, verdict.probability) == (Zone.WEAK, None, None, None)


def test_a_tester_that_repeats_exactly_is_sure_on_the_limit() -> None:
    verdict = judge_line([7000.0], GM, Repeatability(absolute=0.0))
    assert (verdict.zone, verdict.sure, verdict.probability) == (Zone.GOOD, True, 1.0)


def test_above_is_a_remark_and_no_zone() -> None:
    assert line(12500.0).above is True
    assert line(12500.0).zone is Zone.GOOD
    assert line(12000.0).above is False


def test_a_line_without_reading_is_a_mistake_of_the_caller() -> None:
    with pytest.raises(ValueError, match="without a reading"):
        judge_line([], GM, UNKNOWN)


def test_the_worst_line_decides() -> None:
    verdict = judge_tube([("gm 1", "1", line(9000.0)), ("gm 2", "2", line(6000.0))], expected_lines=2)
    assert (verdict.word, verdict.decided_by, verdict.sure) == ("weak", "gm 2", True)


def test_an_unjudged_line_is_never_covered_by_a_good_one() -> None:
    verdict = judge_tube([("gm", "1", line(9000.0)), ("diode", "2", line(40.0, None))])
    assert verdict.word == "unjudged"


def test_among_good_lines_the_least_sure_decides() -> None:
    verdict = judge_tube([("gm 1", "1", line(9000.0)), ("gm 2", "2", line(7050.0))])
    assert (verdict.word, verdict.sure, verdict.decided_by, verdict.read_again) == (
        "good",
        False,
        "gm 2",
        True,
    )


def test_one_sure_reject_settles_the_tube() -> None:
    verdict = judge_tube([("gm 1", "1", line(4990.0)), ("gm 2", "2", line(1000.0))])
    assert (verdict.word, verdict.sure, verdict.decided_by) == ("reject", True, "gm 2")


def test_no_more_than_three_repeats_are_asked_for() -> None:
    twice, thrice = (judge_tube([("gm", "1", line(7050.0, n=n))]) for n in (2, 3))
    assert (twice.sure, twice.read_again, settled(twice)) == (False, True, False)
    assert (thrice.sure, thrice.read_again, settled(thrice)) == (False, False, True)


def test_a_fault_outranks_every_number() -> None:
    short = Observation(Mark.SHORT, is_fault=True, pins="2-3")
    gas = Observation(Mark.GAS, is_fault=True, value=4.0, unit="µA")
    verdict = judge_tube([("gm", "1", line(9000.0))], [gas, short], expected_lines=2)
    assert (verdict.word, verdict.sure, settled(verdict)) == ("short", True, True)


def test_an_observation_is_a_fault_only_if_the_technician_says_so() -> None:
    getter = Observation(Mark.LEAKAGE, is_fault=False, value=12.0, unit="MΩ")
    assert judge_tube([("gm", "1", line(9000.0))], [getter]).word == "good"


def test_a_half_read_tube_is_never_good_but_may_already_be_bad() -> None:
    half = judge_tube([("gm 1", "1", line(9000.0))], expected_lines=2)
    assert (half.word, half.lines_read, half.lines_expected, settled(half)) == ("not read", 1, 2, False)
    assert judge_tube([("gm 1", "1", line(4000.0))], expected_lines=2).word == "reject"
    assert judge_tube([("gm 1", "1", line(6000.0))], expected_lines=2).word == "weak"
    assert judge_tube([("gm 1", "1", line(40.0, None))], expected_lines=2).word == "not read"


def test_nothing_read_is_not_read() -> None:
    assert judge_tube([]) == TubeVerdict("not read", None)
    assert judge_tube([], expected_lines=0).word == "not read"


def test_balance_of_like_sections() -> None:
    lines = [("gm 1", "1", line(9500.0)), ("gm 2", "2", line(8500.0)), ("pentode", "3", line(5000.0))]
    alike = {"1": "triode", "2": "triode", "3": "pentode"}
    verdict = judge_tube(lines, alike=alike)
    assert verdict.balance_percent == pytest.approx(100 * 1000 / 9000)  # (max − min)/mean
    assert judge_tube(lines).balance_percent is None


def test_balance_compares_like_with_like() -> None:
    emission = Limit(good_from=50.0, reject_below=40.0, unit="%")
    lines = [
        ("emission 1", "1", line(80.0, emission)),
        ("gm 1", "1", line(9000.0)),
        ("emission 2", "2", line(80.0, emission)),
        ("gm 2", "2", line(9000.0)),
    ]
    assert judge_tube(lines, alike={"1": "triode", "2": "triode"}).balance_percent == 0.0


def test_two_triodes_made_unlike_are_not_balanced() -> None:
    unlike = [Section("1", "triode", gm_umho=2200.0), Section("2", "triode", gm_umho=6500.0)]
    assert len(set(like_sections(unlike).values())) == 2
    twin = [Section("1", "triode", gm_umho=1600.0), Section("2", "triode", gm_umho=1600.0)]
    assert len(set(like_sections(twin).values())) == 1


def test_a_share_of_the_bogey_needs_the_same_quantity_and_unit() -> None:
    rule = DefaultRule(good_share=0.8, reject_share=0.66)
    limit = default_limit(
        rule,
        scale=Scale(unit="µS"),
        bogey=5000.0,
        bogey_unit="µmho",
        tester="Bench bridge",
        dated=date(2026, 12, 2),
    )
    assert limit == Limit(
        good_from=4000.0,
        reject_below=3300.0,
        bogey=5000.0,
        unit="µS",
        source="shop default, Bench bridge",
        dated=date(2026, 12, 2),
        derived=True,
    )
    assert default_limit(rule, scale=Scale(unit="%"), bogey=5000.0, bogey_unit="µmho") is None
    assert default_limit(rule, scale=Scale(unit="mS"), bogey=5000.0, bogey_unit="µmho") is None
    assert default_limit(rule, scale=Scale(unit="µmho")) is None


def test_a_share_makes_a_round_limit_that_a_reading_on_it_passes() -> None:
    rule = DefaultRule(good_share=0.8, reject_share=0.55)
    limit = default_limit(rule, scale=Scale(unit="mA"), bogey=100.0, bogey_unit="mA")
    assert zone(55.0, limit) is Zone.WEAK  # 0.55 × 100 is 55.000…007 in binary


def test_an_absolute_default_stays_in_the_testers_own_scale() -> None:
    rule = DefaultRule(good_from=60.0, reject_below=45.0, good_share=0.9)
    limit = default_limit(rule, scale=Scale(unit="%", full_scale=120.0), bogey=5000.0, bogey_unit="µmho")
    assert limit == Limit(60.0, 45.0, unit="%", source="shop default", derived=True)


def test_no_rule_makes_no_limit() -> None:
    assert default_limit(None, scale=Scale(unit="%")) is None
    assert default_limit(DefaultRule(), scale=Scale(unit="µmho"), bogey=1600.0, bogey_unit="µmho") is None
