"""The chassis map: proposed until it is saved, then the same for every unit of the model."""

import math

import pytest

from tests.services.benchwork import Bench, amplifier
from tubeshelf.domain.chassis import Seat, propose
from tubeshelf.domain.errors import UserError
from tubeshelf.domain.fitting import Outcome
from tubeshelf.domain.jobs import Disposition
from tubeshelf.domain.judging import Mark, Stage
from tubeshelf.services import bench, finding, intake, intake_edit, pulls, shelf_moves, spares
from tubeshelf.services.changes import Kind
from tubeshelf.services.chassis import ChassisSocket, ChassisView, chassis_of, map_words, place_sockets
from tubeshelf.services.shop import Shop
from tubeshelf.services.undo import take_back

ROLES = ("input", "phase inverter", "output", "output", "rectifier")
PLACES = {f"V{n}": Seat(n / 10, 0.5) for n in range(1, 6)}


def chassis(amp: Bench, stage: Stage = Stage.AS_FOUND) -> ChassisView:
    return chassis_of(amp.shop, job_id=amp.job().id, tester_id=amp.tester, stage=stage)


def on_it(amp: Bench, position: str, stage: Stage = Stage.AS_FOUND) -> ChassisSocket:
    return next(s for s in chassis(amp, stage).sockets if s.position == position)


def seats(view: ChassisView) -> dict[str, Seat]:
    return {socket.position: socket.placed.seat for socket in view.sockets}


def test_a_first_layout_is_proposed_and_said_to_be_so(shop: Shop) -> None:
    view = chassis(amplifier(shop))
    assert tuple(socket.placed.seat for socket in view.sockets) == propose(ROLES)
    assert view.unsaved == ("V1", "V2", "V3", "V4", "V5")


def test_what_is_placed_is_saved_with_the_model_in_one_act(shop: Shop) -> None:
    amp = amplifier(shop)
    view = chassis(amp)
    _, changes = place_sockets(shop, model_id=view.model_id, places=PLACES, origin="here")
    assert (changes.said, changes.origin) == ("Chassis map of the Larkmere A12 saved", "here")
    assert changes.touches(Kind.MODEL, view.model_id)
    assert seats(chassis(amp)) == PLACES
    assert chassis(amp).unsaved == ()
    take_back(shop)
    assert chassis(amp).unsaved == ("V1", "V2", "V3", "V4", "V5")


def test_another_unit_of_the_model_has_the_same_map(shop: Shop) -> None:
    place_sockets(shop, model_id=chassis(amplifier(shop)).model_id, places=PLACES)
    assert seats(chassis(amplifier(shop, serial="2"))) == PLACES


def test_one_socket_alone_can_be_placed_and_the_rest_stays_proposed(shop: Shop) -> None:
    amp = amplifier(shop)
    view = chassis(amp)
    place_sockets(shop, model_id=view.model_id, places={"V3": Seat(0.5, 0.9)})
    assert on_it(amp, "V3").placed.seat == Seat(0.5, 0.9)
    assert chassis(amp).unsaved == ("V1", "V2", "V4", "V5")


def test_a_changed_complement_keeps_the_places_of_what_stays(shop: Shop) -> None:
    amp = amplifier(shop)
    job = amp.job()
    place_sockets(shop, model_id=chassis(amp).model_id, places=PLACES)
    text = "V1 input 12AX7\nV3 output 6BQ5\nV6 reverb 12AT7"
    intake_edit.edit_complement(shop, job_id=job.id, text=text)
    view = chassis(amp)
    assert {p: s for p, s in seats(view).items() if p != "V6"} == {p: PLACES[p] for p in ("V1", "V3")}
    assert view.unsaved == ("V6",)


def test_a_socket_that_the_model_has_no_more_is_shown_all_the_same(shop: Shop) -> None:
    old = amplifier(shop)
    new = amplifier(shop, serial="2")
    intake_edit.edit_complement(shop, job_id=new.job().id, text="V1 input 12AX7\nV2 output 6BQ5")
    assert [s.position for s in chassis(old).sockets if not s.placed.in_model] == ["V3", "V4", "V5"]
    assert len(chassis(old).sockets) == 5


@pytest.mark.parametrize("seat", [Seat(1.01, 0.5), Seat(0.5, -0.1), Seat(math.nan, 0.5)])
def test_a_seat_beside_the_chassis_is_refused_and_nothing_written(shop: Shop, seat: Seat) -> None:
    amp = amplifier(shop)
    with pytest.raises(UserError, match="V2 is not on the chassis"):
        place_sockets(shop, model_id=chassis(amp).model_id, places={"V1": Seat(0, 0), "V2": seat})
    assert len(chassis(amp).unsaved) == 5


def test_a_position_that_the_model_does_not_have_is_refused(shop: Shop) -> None:
    model_id = chassis(amplifier(shop)).model_id
    with pytest.raises(UserError, match="The Larkmere A12 has no V9; reload the page"):
        place_sockets(shop, model_id=model_id, places={"V9": Seat(0, 0)})
    with pytest.raises(UserError, match="That model is gone"):
        place_sockets(shop, model_id=model_id + 9, places={})


def test_loose_tubes_have_no_map(shop: Shop) -> None:
    number, changes = intake.new_job(shop, customer="Otto Fenn", title="Shoebox", complement="T1 6SN7GT")
    job_id = next(thing for kind, thing in changes.things if kind is Kind.JOB)
    with pytest.raises(UserError, match=f"Job {number} is a box of loose tubes: it has no chassis map"):
        chassis_of(shop, job_id=job_id)


def test_each_socket_says_how_its_tube_is(shop: Shop) -> None:
    amp = amplifier(shop)
    amp.found("V1")
    amp.enter("V1", "1540")
    amp.found("V3")
    amp.mark("V3", Mark.SHORT, pins="2-3")
    amp.found("V5", "5U4GB")
    assert not on_it(amp, "V2").looked_at
    assert on_it(amp, "V3").verdict.word == "short"
    assert on_it(amp, "V3").verdict_text == "short, pins 2–3"
    assert on_it(amp, "V5").fit is Outcome.HARMFUL
    assert on_it(amp, "V5").in_it == "5U4GB"
    assert on_it(amp, "V1").fit is Outcome.RIGHT_TYPE


def test_words_for_a_printed_map(shop: Shop) -> None:
    amp = amplifier(shop)

    def words(position: str) -> tuple[str, str]:
        return map_words(shop, amp.at(position), Stage.AS_FOUND)

    assert words("V1") == ("not looked yet", "")
    finding.set_empty(shop, socket_id=amp.id("V1"))
    assert words("V1") == ("empty", "")
    bench.set_disposition(shop, socket_id=amp.id("V1"), disposition=Disposition.EMPTY_ON_PURPOSE)
    assert words("V1") == ("left empty", "")
    amp.found("V5", "5U4GB")
    assert words("V5") == ("not read", "harmful")
    amp.found("V3")
    amp.mark("V3", Mark.GAS)
    assert words("V3") == ("gas", "")
    pulls.pull(shop, socket_id=amp.id("V3"))
    assert words("V3") == ("empty", ""), "its tube is in the bag"
    ids, _ = shelf_moves.receive(shop, type_name="6BQ5", bin="C2")
    spares.install(shop, item_id=ids[0], socket_id=amp.id("V3"))
    assert words("V3") == ("installed", "")


def test_as_left_it_is_what_was_put_in(shop: Shop) -> None:
    amp = amplifier(shop)
    amp.found("V3")
    amp.enter("V3", "3000")
    amp.found("V4")
    amp.enter("V4", "10000")
    ids, _ = shelf_moves.receive(shop, type_name="6BQ5", bin="C2")
    spares.install(shop, item_id=ids[0], socket_id=amp.id("V3"))
    amp.enter("V3", "11000", stage=Stage.AS_LEFT)
    assert on_it(amp, "V3").verdict.word == "reject"
    assert on_it(amp, "V3", Stage.AS_LEFT).verdict.word == "good"
    assert on_it(amp, "V4", Stage.AS_LEFT).verdict.word == "good"  # kept: as it was found
