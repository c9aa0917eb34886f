"""Which sockets stand empty now: the rule, case by case."""

from dataclasses import replace

import pytest

from tubeshelf.domain.jobs import Disposition, FoundState
from tubeshelf.domain.places import Place
from tubeshelf.domain.whereabouts import Seen, Where, empty_text, is_answered, where, whereabouts

STANDS = Seen("V1", FoundState.TYPE, Place.SOCKET, entered=4)


@pytest.mark.parametrize(
    ("seen", "expected"),
    [
        (Seen("V1"), Where.UNKNOWN),
        (STANDS, Where.IN_PLACE),
        (Seen("V1", FoundState.UNREADABLE, Place.SOCKET), Where.IN_PLACE),
        (Seen("V1", FoundState.EMPTY), Where.FOUND_EMPTY),
        (replace(STANDS, place=Place.BAG), Where.BAG),
        (replace(STANDS, place=Place.CUSTOMER), Where.AWAY),
        (replace(STANDS, place=Place.SHELF), Where.AWAY),
        (replace(STANDS, here=False), Where.AWAY),
        (replace(STANDS, place=Place.BAG, installed=True), Where.INSTALLED),
        (Seen("V1", FoundState.EMPTY, installed=True), Where.INSTALLED),
        (replace(STANDS, disposition=Disposition.EMPTY_ON_PURPOSE), Where.ON_PURPOSE),
        (replace(STANDS, aside=9), Where.ASIDE),
        (replace(STANDS, aside=9, entered=12), Where.IN_PLACE),
        (replace(STANDS, aside=9, place=Place.BAG), Where.BAG),
        (replace(STANDS, aside=9, installed=True), Where.INSTALLED),
    ],
)
def test_where_a_tube_is(seen: Seen, expected: Where) -> None:
    assert where(seen) is expected


def test_the_tube_in_hand_is_out_while_a_reading_is_due_there() -> None:
    sockets = (replace(STANDS, entered=7), replace(STANDS, position="V2", entered=5))
    assert dict(whereabouts(sockets, in_hand="V1", reading_due=True)) == {
        "V1": Where.OUT,
        "V2": Where.IN_PLACE,
    }


@pytest.mark.parametrize(
    ("in_hand", "due"),
    [
        ("V1", False),  # read through: it is taken as going back
        ("V2", True),  # only looked at: the last entry was made elsewhere
        ("V3", True),  # nobody has looked there
        ("", True),  # nothing is in hand
    ],
)
def test_no_tube_is_said_to_be_out_that_may_be_back(in_hand: str, due: bool) -> None:
    sockets = (replace(STANDS, entered=7), replace(STANDS, position="V2", entered=5), Seen("V3"))
    stands = whereabouts(sockets, in_hand=in_hand, reading_due=due)
    assert [position for position, place in stands if place.is_empty] == []


def test_what_was_out_when_the_set_was_put_aside_is_told_as_that_until_something_is_entered() -> None:
    seen = replace(STANDS, aside=9)
    assert whereabouts((seen,), in_hand="V1", reading_due=True) == (("V1", Where.ASIDE),)
    entered = replace(seen, entered=10)
    assert whereabouts((entered,), in_hand="V1", reading_due=True) == (("V1", Where.OUT),)


def test_in_a_set_in_which_nothing_was_entered_nothing_is_out() -> None:
    assert whereabouts((Seen("V1"), Seen("V2")), in_hand="V1", reading_due=True) == (
        ("V1", Where.UNKNOWN),
        ("V2", Where.UNKNOWN),
    )


def test_a_tube_that_was_installed_is_out_again_while_it_is_read() -> None:
    put_in = replace(STANDS, place=Place.BAG, installed=True)
    assert whereabouts((put_in,), in_hand="V1", reading_due=True) == (("V1", Where.OUT),)


def test_a_tube_that_was_pulled_is_in_the_bag_also_while_its_socket_is_in_hand() -> None:
    pulled = replace(STANDS, place=Place.BAG)
    assert whereabouts((pulled,), in_hand="V1", reading_due=True) == (("V1", Where.BAG),)


def test_at_most_one_tube_is_out_at_a_time() -> None:
    sockets = tuple(replace(STANDS, position=f"V{n}", entered=n) for n in range(1, 9))
    for seen in sockets:
        stands = whereabouts(sockets, in_hand=seen.position, reading_due=True)
        assert sum(place is Where.OUT for _, place in stands) <= 1


def test_the_answer_stands_until_the_empty_sockets_are_others() -> None:
    stands = (("V1", Where.BAG), ("V2", Where.IN_PLACE), ("V3", Where.ON_PURPOSE))
    assert not is_answered(stands, ())
    assert is_answered(stands, ("V3", "V1"))
    assert not is_answered((*stands, ("V4", Where.FOUND_EMPTY)), ("V3", "V1"))
    assert not is_answered((("V1", Where.BAG),), ("V3", "V1"))


def test_nobody_is_asked_where_all_is_on_purpose_or_in_place() -> None:
    assert is_answered((("V1", Where.ON_PURPOSE), ("V2", Where.UNKNOWN)), ())
    assert is_answered((("V1", Where.IN_PLACE),), ("V1",))


@pytest.mark.parametrize(
    ("stands", "text"),
    [
        ((("V1", Where.IN_PLACE),), ""),
        ((("V1", Where.BAG), ("V2", Where.UNKNOWN)), "V1 stands empty (in the job's bag)"),
        (
            (("V1", Where.BAG), ("V2", Where.BAG), ("V5", Where.BAG)),
            "V1, V2 and V5 stand empty (in the job's bag)",
        ),
        (
            (("V1", Where.BAG), ("V2", Where.FOUND_EMPTY), ("V3", Where.BAG)),
            "V1, V2 and V3 stand empty (V1 and V3 in the job's bag; V2 found empty)",
        ),
    ],
)
def test_the_empty_sockets_in_words(stands: tuple[tuple[str, Where], ...], text: str) -> None:
    assert empty_text(stands) == text
