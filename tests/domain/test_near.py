from hypothesis import given
from hypothesis import strategies as st

from tubeshelf.domain.near import distance

NAMES = st.text("0123456789ABEGLTX", min_size=1, max_size=7)


def test_an_edit_costs_one_and_a_mistaken_look_alike_half() -> None:
    assert distance("12AX7", "12AU7") == 1
    assert distance("12BX7", "128X7") == 0.5
    assert distance("12XA7", "12AX7") == 1
    assert distance("6L7", "6SL7") == 1


def test_names_that_differ_in_their_ending_only_are_nearest() -> None:
    assert distance("6SN7", "6SN7GTB") == 0.5 < distance("6SN7", "6SL7")
    assert distance("6V6", "6V6GT") == 0.5


def test_lengths_too_far_apart_are_not_looked_at() -> None:
    assert distance("80", "12AX7") == 9


@given(NAMES, NAMES)
def test_the_way_back_costs_the_same(one: str, other: str) -> None:
    assert distance(one, other) == distance(other, one)
    assert (distance(one, other) == 0) == (one == other)


@given(NAMES, NAMES, st.sampled_from([0.5, 1.0, 2.0, 3.0]))
def test_a_bound_changes_nothing_below_it(one: str, other: str, most: float) -> None:
    whole, bounded = distance(one, other), distance(one, other, most)
    assert bounded == whole if whole <= most else bounded > most
