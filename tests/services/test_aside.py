"""Where the tubes of a job are, from its record; putting the set aside, and what its tag says."""

import pytest

from tests.services.benchwork import Bench, amplifier
from tubeshelf.domain.errors import UserError
from tubeshelf.domain.jobs import Action, Disposition, JobStatus
from tubeshelf.domain.judging import Mark, Stage
from tubeshelf.domain.whereabouts import Where
from tubeshelf.services import bench, decide, finding, intake, pulls, shelf_moves, spares, undo
from tubeshelf.services.aside import chassis_tag, end_aside, put_aside, usual_why, where_tubes_are
from tubeshelf.services.shop import Shop
from tubeshelf.services.views.aside import Whereabouts


@pytest.fixture
def amp(shop: Shop) -> Bench:
    amp = amplifier(shop)
    for position in ("V1", "V2", "V3"):
        amp.found(position)
    return amp


def stands(amp: Bench, in_hand: str = "", *, due: bool = False) -> Whereabouts:
    return where_tubes_are(amp.shop, job_id=amp.job().id, in_hand=in_hand, reading_due=due)


def at(amp: Bench, position: str) -> Where:
    return dict(stands(amp).stands)[position]


def pull(amp: Bench, position: str) -> None:
    pulls.pull(amp.shop, socket_id=amp.id(position))


def aside(amp: Bench, why: str = "") -> None:
    put_aside(amp.shop, job_id=amp.job().id, positions=stands(amp).empty, why=why)


def test_a_set_as_it_came_has_no_socket_empty(amp: Bench) -> None:
    here = stands(amp)
    assert [str(place) for _, place in here.stands] == ["in its place"] * 3 + ["not looked yet"] * 2
    assert (here.empty, here.asks, here.text) == ((), False, "")


def test_the_tube_that_was_entered_last_is_out_while_it_is_in_hand(amp: Bench) -> None:
    assert stands(amp, "V3", due=True).out == ("V3",)
    assert stands(amp, "V2", due=True).out == ()
    amp.enter("V2", "1540")
    assert stands(amp, "V2", due=True).out == ("V2",)
    assert stands(amp, "V3", due=True).out == ()
    amp.mark("V1", Mark.SHORT)
    assert stands(amp, "V2", due=True).out == ()
    assert stands(amp, "V1", due=True).out == ("V1",)
    undo.take_back(amp.shop)
    assert stands(amp, "V2", due=True).out == ("V2",)


def test_a_pulled_tube_leaves_its_socket_empty_until_another_is_installed(amp: Bench) -> None:
    pull(amp, "V3")
    assert at(amp, "V3") is Where.BAG
    item = amp.at("V3").found.item_id or 0
    shelf_moves.give_back(amp.shop, item_id=item)
    assert at(amp, "V3") is Where.AWAY
    (spare,), _ = shelf_moves.receive(amp.shop, type_name="6BQ5", bin="A1", condition="NOS")
    spares.install(amp.shop, item_id=spare, socket_id=amp.id("V3"))
    assert at(amp, "V3") is Where.INSTALLED
    spares.take_out(amp.shop, socket_id=amp.id("V3"))
    assert at(amp, "V3") is Where.AWAY


def test_a_tube_left_to_the_shop_and_used_elsewhere_is_not_in_its_place(amp: Bench) -> None:
    pull(amp, "V1")
    item = amp.at("V1").found.item_id or 0
    pulls.keep_pull(amp.shop, item_id=item, bin="C2")
    spares.install(amp.shop, item_id=item, socket_id=amp.id("V2"))
    assert (at(amp, "V1"), at(amp, "V2")) == (Where.AWAY, Where.INSTALLED)


def test_found_empty_and_left_empty_on_purpose(amp: Bench) -> None:
    finding.set_empty(amp.shop, socket_id=amp.id("V4"))
    assert stands(amp).text == "V4 stands empty (found empty)"
    bench.set_disposition(amp.shop, socket_id=amp.id("V4"), disposition=Disposition.EMPTY_ON_PURPOSE)
    here = stands(amp)
    assert (here.text, here.asks) == ("V4 stands empty (empty on purpose)", False)


def test_it_is_asked_once_and_the_answer_stands_until_the_empty_sockets_are_others(amp: Bench) -> None:
    pull(amp, "V3")
    assert stands(amp).asks
    aside(amp, "  the customer looks for\n6BQ5 ")
    here = stands(amp)
    assert (here.asks, here.why) == (False, "the customer looks for 6BQ5")
    amp.found("V5")
    assert not stands(amp).asks
    pull(amp, "V2")
    here = stands(amp)
    assert (here.asks, here.why) == (True, "")
    aside(amp)
    assert not stands(amp).asks


def test_put_back_and_pulled_again_is_asked_again(amp: Bench) -> None:
    pull(amp, "V3")
    aside(amp)
    (spare,), _ = shelf_moves.receive(amp.shop, type_name="6BQ5", bin="A1", condition="NOS")
    spares.install(amp.shop, item_id=spare, socket_id=amp.id("V3"))
    assert not stands(amp).asks
    spares.take_out(amp.shop, socket_id=amp.id("V3"))
    assert not stands(amp).asks
    assert stands(amp).empty == ()
    pull(amp, "V3")
    assert stands(amp).asks


def test_a_tube_that_was_out_when_the_set_was_put_aside_stays_so_until_something_is_entered(
    amp: Bench,
) -> None:
    job_id = amp.job().id
    amp.enter("V2", "1540")
    put_aside(amp.shop, job_id=job_id, positions=stands(amp, "V2", due=True).empty)
    assert at(amp, "V2") is Where.ASIDE
    assert not stands(amp).asks
    amp.enter("V2", "1510", nth=1)
    assert at(amp, "V2") is Where.IN_PLACE


def test_that_the_tubes_are_back_is_an_act_that_can_be_taken_back(amp: Bench) -> None:
    job_id = amp.job().id
    amp.enter("V2", "1540")
    put_aside(amp.shop, job_id=job_id, positions=("V2",))
    _, changes = end_aside(amp.shop, job_id=job_id)
    assert changes.said == "Job 1: no longer put aside with V2 empty"
    assert at(amp, "V2") is Where.IN_PLACE
    undo.take_back(amp.shop)
    assert at(amp, "V2") is Where.ASIDE
    undo.take_back(amp.shop)
    assert at(amp, "V2") is Where.IN_PLACE
    with pytest.raises(UserError, match="not put aside"):
        end_aside(amp.shop, job_id=job_id)


def test_a_closed_job_is_not_asked_about(amp: Bench) -> None:
    pull(amp, "V3")
    decide.set_status(amp.shop, job_id=amp.job().id, status=JobStatus.HANDED_BACK)
    assert not stands(amp).asks


def test_a_box_of_loose_tubes_has_no_sockets_to_stand_empty(shop: Shop) -> None:
    _, changes = intake.new_job(shop, customer="Ada Brindle", title="A shoebox", complement="1 12AX7\n2 6BQ5")
    job_id = next(thing for kind, thing in changes.things if kind == "job")
    here = where_tubes_are(shop, job_id=job_id)
    assert (here.stands, here.asks) == ((), False)


def test_the_tag_says_which_sockets_stand_empty_where_their_tubes_are_and_why(amp: Bench) -> None:
    amp.enter("V3", "3000")
    bench.set_action(amp.shop, socket_id=amp.id("V3"), action=Action.REPLACE)
    pull(amp, "V3")
    finding.set_empty(amp.shop, socket_id=amp.id("V4"))
    aside(amp, "no pair on hand")
    tag = chassis_tag(amp.shop, job_id=amp.job().id)
    assert (tag.number, tag.title, tag.serial, tag.customer) == (1, "Larkmere A12", "30417", "Ada Brindle")
    assert tag.why == "no pair on hand"
    v3, v4 = tag.lines
    assert (v3.position, v3.role, v3.belongs, v3.where) == (
        "V3",
        "output",
        "6BQ5",
        "its tube is in the job's bag",
    )
    assert v3.why.startswith("reject")
    assert v3.why.endswith("6BQ5 to order")
    assert (v4.position, v4.where, v4.why) == ("V4", "found empty", "6BQ5 to order")


def test_without_an_empty_socket_there_is_no_tag(amp: Bench) -> None:
    with pytest.raises(UserError, match="needs no chassis tag"):
        chassis_tag(amp.shop, job_id=amp.job().id)
    with pytest.raises(UserError, match="nothing to say on a tag"):
        put_aside(amp.shop, job_id=amp.job().id, positions=())


def test_what_the_job_waits_for_is_the_reason_that_is_offered(amp: Bench) -> None:
    assert usual_why(amp.shop, job_id=amp.job().id) == "waits for readings"
    amp.found("V5")
    assert amp.job(Stage.AS_LEFT).waits_for == "readings"
