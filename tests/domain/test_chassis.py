"""The first layout of a chassis by hand-made examples, arrow keys, and the view from below."""

import pytest

from tubeshelf.domain.chassis import Room, Seat, complete, propose, room_for, towards

RADIO = ("converter", "IF amplifier", "detector, first audio", "output", "rectifier")
ACROSS = (Seat(0.1, 0.2), Seat(0.5, 0.2), Seat(0.9, 0.2), Seat(0.1, 0.8), Seat(0.9, 0.8))
"""Three at the back, two at the front."""


def test_a_radio_runs_from_the_left_along_the_front_and_has_its_supply_at_the_back_right() -> None:
    converter, amplifier, detector, output, rectifier = propose(RADIO)
    assert converter.x < amplifier.x < detector.x
    assert converter.y == amplifier.y == detector.y
    assert output.y == rectifier.y < converter.y
    assert output.x < rectifier.x


def test_the_signal_counts_and_not_the_order_of_testing() -> None:
    rectifier, output, inverter, first = propose(("rectifier", "output", "phase inverter", "input"))
    assert first.x < inverter.x
    assert output.x < rectifier.x
    assert output.y < first.y


def test_sockets_of_one_kind_stand_in_test_order() -> None:
    seats = propose(("output", "output", "output", "output"))
    assert [seat.x for seat in seats] == sorted({seat.x for seat in seats})


@pytest.mark.parametrize(
    ("role", "behind"),
    [
        ("full-wave rectifier", True),
        ("power pentode", True),
        ("voltage regulator", True),
        ("horizontal output", True),
        ("I.F. amplifier", False),
        ("preamp", False),  # not power, though "preamplifier" ends like one
        ("first detector", False),
        ("", False),
    ],
)
def test_what_has_most_current_stands_behind(role: str, behind: bool) -> None:
    one, small = propose((role, "reverb"))
    assert (one.y < small.y) is behind


def test_no_sockets_and_one_socket() -> None:
    assert propose(()) == ()
    assert propose(("input",)) == (Seat(0.5, 0.5),)


def test_what_was_saved_stays_and_the_rest_goes_where_it_is_free() -> None:
    roles = ("input", "output", "rectifier")
    there = propose(roles)[1]
    saved, output, rectifier = complete(roles, (there, None, None))
    assert saved == there
    assert output != there
    room = room_for(3)
    assert not any(room.clash(a, b) for a, b in ((saved, output), (output, rectifier), (saved, rectifier)))


def test_everything_saved_is_left_alone_even_where_it_overlaps() -> None:
    saved = (Seat(0.5, 0.5), Seat(0.51, 0.5))
    assert complete(("a", "b"), saved) == saved


def test_a_chassis_with_no_room_left_still_shows_every_socket() -> None:
    crowd = tuple(Seat(x / 10, y / 10) for x in range(11) for y in range(11))
    *kept, last = complete(("",) * 122, (*crowd, None))
    assert tuple(kept) == crowd
    assert 0 <= last.x <= 1
    assert 0 <= last.y <= 1


@pytest.mark.parametrize(
    ("here", "right", "forward", "there"),
    [
        (0, 1, 0, 1),
        (0, -1, 0, 0),  # nothing farther left
        (0, 0, 1, 3),
        (1, 0, 1, 3),  # both as far: the one tested first
        (4, 0, -1, 2),
        (4, -1, 0, 3),
        (2, 0, -1, 2),
    ],
)
def test_an_arrow_leads_to_the_nearest_on_that_side(here: int, right: int, forward: int, there: int) -> None:
    assert towards(ACROSS, here, right, forward) == there


def test_below_left_and_right_are_exchanged_and_the_front_stays_the_front() -> None:
    assert Seat(0.2, 0.7).mirrored() == Seat(0.8, 0.7)


def test_a_socket_comes_to_rest_on_the_raster_and_not_outside() -> None:
    assert Seat(0.1667, 0.25).moved(0.02, 0) == Seat(0.18, 0.24)
    assert Seat(0.95, 0.02).moved(0.1, -0.1) == Seat(1.0, 0.0)


def test_neighbours_that_touch_do_not_overlap() -> None:
    room = Room(0.2, 0.5)
    assert not room.clash(Seat(0.1, 0.25), Seat(0.3, 0.25))
    assert room.clash(Seat(0.1, 0.25), Seat(0.29, 0.25))
