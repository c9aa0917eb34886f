from dataclasses import replace
from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tubeshelf.domain.fitting import Outcome
from tubeshelf.domain.jobs import Condition
from tubeshelf.domain.spares import Spare, best_set, best_spare, rank, spread_percent

PLAIN = Spare(
    1,
    tag=101,
    type_key="12AX7",
    bin="A1",
    outcome=Outcome.RIGHT_TYPE,
    word="good",
    sure=True,
    readings=(1700.0,),
    margin=0.2,
    price_minor=1500,
)
LOT = Spare(90, tag=None, type_key="12AX7", bin="A9", outcome=Outcome.RIGHT_TYPE, quantity=12)


@pytest.mark.parametrize(
    "worse",
    [
        replace(PLAIN, item_id=0, outcome=Outcome.ACCEPTED_SUBSTITUTE, margin=0.5),
        replace(PLAIN, item_id=0, sure=False, margin=0.5),
        replace(PLAIN, item_id=0, premium=True, margin=0.5),
        replace(PLAIN, item_id=0, matched_set=7, margin=0.5),
        replace(PLAIN, item_id=0, margin=0.1, price_minor=100),
        replace(PLAIN, item_id=0, margin=None, price_minor=100),
        replace(PLAIN, item_id=0, price_minor=1600),
        replace(PLAIN, item_id=0, price_minor=None),
        replace(LOT, item_id=0, price_minor=1),
    ],
)
def test_what_comes_behind_a_plain_tested_tube_of_the_right_type(worse: Spare) -> None:
    assert rank([worse, PLAIN]) == (PLAIN, worse)


def test_a_premium_tube_waits_behind_a_broken_set_and_a_substitute_behind_both() -> None:
    premium = replace(PLAIN, item_id=2, premium=True)
    of_set = replace(PLAIN, item_id=3, matched_set=7)
    substitute = replace(PLAIN, item_id=4, outcome=Outcome.ACCEPTED_SUBSTITUTE, grade=1)
    assert rank([substitute, premium, of_set]) == (of_set, premium, substitute)


def test_a_better_grade_of_substitute_goes_first() -> None:
    pinch = replace(PLAIN, item_id=2, outcome=Outcome.ACCEPTED_SUBSTITUTE, grade=3, margin=0.9)
    as_good = replace(PLAIN, item_id=3, outcome=Outcome.ACCEPTED_SUBSTITUTE, grade=1)
    assert best_spare([pinch, as_good]) == as_good


def test_a_tested_substitute_goes_before_an_untested_lot_of_the_right_type() -> None:
    substitute = replace(PLAIN, item_id=4, outcome=Outcome.ACCEPTED_SUBSTITUTE, grade=1)
    assert rank([LOT, substitute]) == (substitute, LOT)
    assert best_spare([LOT]) == LOT
    assert LOT.tested is False


@pytest.mark.parametrize(
    "never",
    [
        replace(PLAIN, word="weak"),
        replace(PLAIN, word="reject"),
        replace(PLAIN, word="short"),
        replace(PLAIN, outcome=Outcome.WRONG_TYPE),
        replace(PLAIN, outcome=Outcome.UNKNOWN),
        replace(PLAIN, outcome=Outcome.HARMFUL),
        replace(PLAIN, condition=Condition.SUSPECT),
        replace(PLAIN, condition=Condition.DEAD),
        replace(PLAIN, condition=Condition.REFERENCE),
        replace(LOT, condition=Condition.WEAK_BUT_USABLE),
        replace(LOT, quantity=0),
    ],
)
def test_what_is_never_offered(never: Spare) -> None:
    assert best_spare([never]) is None


def test_a_claim_is_no_reading() -> None:
    claimed = replace(LOT, condition=Condition.NOS)
    pulled = replace(PLAIN, condition=Condition.PULL)
    assert best_spare([claimed, pulled]) == pulled


def tube(item: int, *readings: float, matched_set: int | None = None, size: int | None = None) -> Spare:
    return replace(PLAIN, item_id=item, readings=readings, matched_set=matched_set, set_size=size)


def test_a_matched_set_goes_whole_before_closer_single_tubes() -> None:
    singles = [tube(1, 1700.0), tube(2, 1700.0)]
    pair = [tube(3, 1700.0, matched_set=7, size=2), tube(4, 1750.0, matched_set=7, size=2)]
    found = best_set(singles + pair, 2)
    assert found is not None
    assert (found.matched, {spare.item_id for spare in found.spares}) == (True, {3, 4})


def test_no_larger_set_is_broken_for_a_pair_even_if_half_of_it_is_promised() -> None:
    half_a_quad = [tube(3, 1700.0, matched_set=7, size=4), tube(4, 1700.0, matched_set=7, size=4)]
    singles = [tube(1, 1500.0), tube(2, 1700.0)]
    found = best_set(half_a_quad + singles, 2)
    assert found is not None
    assert (found.matched, {spare.item_id for spare in found.spares}) == (False, {1, 2})
    assert best_set(half_a_quad, 2) is None


def test_only_tubes_read_alike_make_a_set() -> None:
    other_tester = replace(tube(2, 1700.0), tester="The other one")
    weak = replace(tube(3, 1700.0), word="weak")
    unread = tube(4)
    other_type = replace(tube(5, 1700.0), type_key="7025", outcome=Outcome.ACCEPTED_SUBSTITUTE)
    assert best_set([tube(1, 1700.0), other_tester, weak, unread, other_type, LOT], 2) is None


def test_the_right_type_makes_the_set_before_a_closer_substitute() -> None:
    right = [tube(1, 1500.0), tube(2, 1700.0)]
    closer = [
        replace(tube(i, 1700.0), type_key="7025", outcome=Outcome.ACCEPTED_SUBSTITUTE, grade=1)
        for i in (3, 4)
    ]
    found = best_set(right + closer, 2)
    assert found is not None
    assert {spare.item_id for spare in found.spares} == {1, 2}


def test_spread_is_near_the_trades_own_figure() -> None:
    # (max − min)/mean of 38 and 40 mA is 5.13 %; ln(40/38) is 5.13 % too
    assert spread_percent([tube(1, 38.0), tube(2, 40.0)]) == pytest.approx(100 * 2 / 39, abs=0.01)
    assert spread_percent([tube(1, 38.0, 4000.0), tube(2, 40.0, 5000.0)]) == pytest.approx(22.31, abs=0.01)
    assert spread_percent([tube(1, 38.0), tube(2)]) is None
    assert spread_percent([tube(1, 0.0), tube(2, 40.0)]) is None


@given(st.lists(st.floats(1.0, 100.0), min_size=2, max_size=8), st.integers(2, 4))
def test_no_choice_of_tubes_is_closer_than_the_best_set(values: list[float], n: int) -> None:
    tubes = [tube(i, value) for i, value in enumerate(values)]
    found = best_set(tubes, n)
    if len(tubes) < n:
        assert found is None
        return
    assert found is not None
    assert found.spread_percent is not None
    every = [spread_percent(chosen) for chosen in combinations(tubes, n)]
    assert found.spread_percent == pytest.approx(min(s for s in every if s is not None))
