"""What holds for every first layout of a chassis."""

from itertools import combinations

from hypothesis import given
from hypothesis import strategies as st

from tubeshelf.domain.chassis import Room, Seat, complete, propose, room_for, towards

ROLES = st.sampled_from(
    ["", "input", "output", "rectifier", "converter", "IF", "phase inverter", "reverb", "regulator", "Ω"]
)
CHASSIS = st.lists(ROLES, max_size=60)
SEATS = st.builds(Seat, st.floats(0, 1), st.floats(0, 1))


def is_inside(seat: Seat, room: Room) -> bool:
    """Whether a socket with its whole room is on the chassis."""
    width, depth = room.width / 2 - 1e-9, room.depth / 2 - 1e-9
    return width <= seat.x <= 1 - width and depth <= seat.y <= 1 - depth


@given(CHASSIS)
def test_nothing_overlaps_and_nothing_is_outside(roles: list[str]) -> None:
    seats, room = propose(roles), room_for(len(roles))
    assert len(seats) == len(roles)
    assert all(is_inside(seat, room) for seat in seats)
    assert not any(room.clash(one, other) for one, other in combinations(seats, 2))


@given(CHASSIS)
def test_the_same_sockets_stand_in_the_same_places(roles: list[str]) -> None:
    assert propose(roles) == propose(tuple(roles)) == complete(roles, [None] * len(roles))


@given(st.lists(st.tuples(ROLES, st.none() | SEATS), max_size=24))
def test_what_is_filled_in_moves_nothing_that_was_saved(sockets: list[tuple[str, Seat | None]]) -> None:
    roles, saved = [role for role, _ in sockets], [seat for _, seat in sockets]
    seats = complete(roles, saved)
    assert all(was in (None, seat) for was, seat in zip(saved, seats, strict=True))
    assert all(0 <= seat.x <= 1 and 0 <= seat.y <= 1 for seat in seats)


@given(st.integers(1, 30), st.integers(0, 29))
def test_a_socket_that_is_not_placed_finds_room_among_those_that_are(count: int, which: int) -> None:
    """One of a proposed layout is forgotten: it comes back without overlapping any."""
    roles = ["input"] * count
    saved: list[Seat | None] = list(propose(roles))
    saved[which % count] = None
    seats, room = complete(roles, saved), room_for(count)
    assert not any(room.clash(one, other) for one, other in combinations(seats, 2))


@given(st.lists(SEATS, min_size=1, max_size=20, unique=True), st.data())
def test_arrow_keys_go_the_way_they_point(seats: list[Seat], data: st.DataObject) -> None:
    here = data.draw(st.integers(0, len(seats) - 1))
    right, forward = data.draw(st.sampled_from([(1, 0), (-1, 0), (0, 1), (0, -1)]))
    there = towards(seats, here, right, forward)
    if there != here:
        assert (seats[there].x - seats[here].x) * right + (seats[there].y - seats[here].y) * forward > 0


@given(SEATS)
def test_looking_twice_from_the_other_side_is_looking_once(seat: Seat) -> None:
    back = seat.mirrored().mirrored()
    assert abs(back.x - seat.x) < 1e-12
    assert back.y == seat.y
