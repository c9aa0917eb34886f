"""What must hold for every reading, limit and tester."""

import math

from hypothesis import assume, given
from hypothesis import strategies as st

from tubeshelf.domain.judging import Limit, Mark, Observation, Repeatability, Zone
from tubeshelf.domain.numbers import format_number, parse_number, plain_number
from tubeshelf.domain.verdict import GUARD, asks_again, judge_line, judge_tube, nearest_limit, zone
from tubeshelf.domain.verdict_words import repeat_text

BETTER = [Zone.REJECT, Zone.WEAK, Zone.GOOD]
figures = st.floats(min_value=0.1, max_value=20_000, allow_nan=False)
readings = st.floats(min_value=0, max_value=20_000, allow_nan=False)
relative = st.one_of(st.none(), st.just(0.0), st.floats(min_value=1e-6, max_value=0.2))
absolute = st.one_of(st.none(), st.just(0.0), st.floats(min_value=1e-6, max_value=500))
testers = st.builds(Repeatability, relative, absolute)


@st.composite
def limits(draw: st.DrawFn) -> Limit:
    low, high, top = sorted((draw(figures), draw(figures), draw(figures)))
    good_from, above = draw(st.sampled_from([high, None])), draw(st.sampled_from([top, None]))
    return Limit(good_from=good_from, reject_below=low, above=above, unit="µmho")


@given(readings, readings, limits())
def test_a_verdict_never_improves_when_the_reading_falls(a: float, b: float, limit: Limit) -> None:
    low, high = sorted((a, b))
    assert BETTER.index(zone(low, limit)) <= BETTER.index(zone(high, limit))


@given(st.lists(readings, min_size=1, max_size=4), st.floats(min_value=0, max_value=1), limits(), testers)
def test_below_above_a_verdict_never_improves_when_every_repeat_falls(
    values: list[float], share: float, limit: Limit, tester: Repeatability
) -> None:
    before, after = (judge_line([f * x for x in values], limit, tester) for f in (1.0, share))
    assert BETTER.index(after.zone) <= BETTER.index(before.zone)
    assert not (after.above and not before.above), "what fell is not remarked on as high"


@given(st.lists(readings, min_size=1, max_size=4), limits(), testers, st.floats(min_value=-1, max_value=1))
def test_a_sure_verdict_of_repeats_does_not_flip_inside_the_guard_band(
    values: list[float], limit: Limit, tester: Repeatability, share: float
) -> None:
    verdict = judge_line(values, limit, tester)
    assume(verdict.sure is True and verdict.u is not None and verdict.mean > 0)
    moved = verdict.mean + share * GUARD * (verdict.u or 0.0)
    assume(moved > 0)
    assert zone(moved, limit) is verdict.zone
    assert not asks_again(verdict)


@given(st.integers(1, 6), readings, limits(), testers)
def test_a_line_is_asked_for_three_times_at_most(
    n: int, x: float, limit: Limit, tester: Repeatability
) -> None:
    verdict = judge_line([x] * n, limit, tester)
    assert asks_again(verdict) == (verdict.sure is False and n < 3)
    words = repeat_text(verdict)
    assert words.endswith("read again") == asks_again(verdict)
    assert ("you decide" in words) == (verdict.sure is False and n >= 3)


@given(readings, limits(), testers, st.floats(min_value=-1, max_value=1))
def test_a_sure_verdict_does_not_flip_inside_the_guard_band(
    x: float, limit: Limit, tester: Repeatability, share: float
) -> None:
    verdict = judge_line([x], limit, tester)
    assume(verdict.sure is True and verdict.u is not None and x > 0)
    moved = x + share * GUARD * (verdict.u or 0.0)
    assume(moved > 0)
    assert zone(moved, limit) is verdict.zone


@given(readings, limits(), testers)
def test_probability_and_zone_agree(x: float, limit: Limit, tester: Repeatability) -> None:
    verdict, edge = judge_line([x], limit, tester), nearest_limit(x, limit)
    assume(verdict.probability is not None and edge is not None)
    assert verdict.probability is not None
    assert edge is not None
    assert (verdict.probability >= 0.5) == (x >= edge)
    if verdict.sure and verdict.u:
        assert max(verdict.probability, 1 - verdict.probability) >= 0.9499


@given(st.lists(readings, min_size=1, max_size=6), limits(), testers)
def test_repeats_never_widen_the_doubt(values: list[float], limit: Limit, tester: Repeatability) -> None:
    verdict = judge_line(values, limit, tester)
    assert min(values) <= verdict.mean <= max(values)
    single = judge_line([verdict.mean], limit, tester)
    if verdict.u is not None:
        assert single.u is not None
        assert math.isclose(verdict.u * math.sqrt(len(values)), single.u)


@given(st.lists(st.tuples(readings, limits(), testers), min_size=1, max_size=4), st.integers(0, 6))
def test_a_tube_is_never_better_than_its_worst_line(
    drawn: list[tuple[float, Limit, Repeatability]], expected: int
) -> None:
    lines = [(f"line {i}", str(i), judge_line([x], limit, r)) for i, (x, limit, r) in enumerate(drawn)]
    verdict = judge_tube(lines, expected_lines=expected)
    worst = min(BETTER.index(line.zone) for _, _, line in lines)
    if len(lines) < expected and BETTER[worst] is Zone.GOOD:
        assert verdict.word == "not read"
    else:
        assert verdict.word == BETTER[worst]
    fault = Observation(Mark.GAS, is_fault=True)
    assert judge_tube(lines, [fault], expected).word == "gas"


@given(st.floats(allow_nan=False, allow_infinity=False))
def test_a_number_put_into_a_field_is_read_back(x: float) -> None:
    text = plain_number(x)
    assume(len(text) <= 40)
    assert parse_number(text) == x
    assert parse_number(text.replace(".", ",")) == x


@given(st.floats(min_value=1e-9, max_value=999), st.sampled_from([1, -1]))
def test_a_number_on_screen_below_a_thousand_is_read_back(x: float, sign: int) -> None:
    assert math.isclose(parse_number(format_number(sign * x, 12)), sign * x, rel_tol=1e-11)
