import pytest

from tests.services.shelfwork import lot, tube
from tubeshelf.domain.jobs import Action
from tubeshelf.services import bench, intake, jobs
from tubeshelf.services.shop import Shop
from tubeshelf.services.spares import install, promise
from tubeshelf.services.wants import Kept, kept_for, open_jobs, wants_for


@pytest.fixture
def job_id(shop: Shop) -> int:
    """An open amplifier with two 12AX7 and a 5Y3GT."""
    complement = "V1 input 12AX7\nV2 driver 12AX7\nV3 rectifier 5Y3GT"
    _, changes = intake.new_job(
        shop, customer="Ada Larch", maker="Larkmere", model="A12", complement=complement
    )
    return next(thing for kind, thing in changes.things if kind == "job")


def socket_id(shop: Shop, job_id: int, position: str) -> int:
    sockets = jobs.open_job(shop, job_id=job_id).sockets
    return next(socket.id for socket in sockets if socket.position == position)


def test_the_sockets_meant_for_a_type_want_it_those_to_be_replaced_first(shop: Shop, job_id: int) -> None:
    spare = tube(shop, "12AX7")
    bench.set_action(shop, socket_id=socket_id(shop, job_id, "V2"), action=Action.REPLACE, why="noisy")
    assert [(w.number, w.position, w.role, w.intended, w.action) for w in wants_for(shop, item_id=spare)] == [
        (1, "V2", "driver", "12AX7", Action.REPLACE),
        (1, "V1", "input", "12AX7", Action.UNDECIDED),
    ]


def test_what_may_replace_a_type_is_wanted_there_too_and_not_the_other_way_round(
    shop: Shop, job_id: int
) -> None:
    assert {w.position for w in wants_for(shop, item_id=tube(shop, "7025"))} == {"V1", "V2"}
    assert wants_for(shop, item_id=tube(shop, "6V6GT")) == ()
    intake.new_job(shop, customer="Bo Fenn", complement="V1 input 7025", maker="Larkmere", model="B2")
    assert {w.number for w in wants_for(shop, item_id=tube(shop, "12AX7"))} == {1}


def test_a_socket_that_has_its_tube_wants_none(shop: Shop, job_id: int) -> None:
    install(shop, item_id=tube(shop, "12AX7"), socket_id=socket_id(shop, job_id, "V1"))
    assert [w.position for w in wants_for(shop, item_id=tube(shop, "12AX7"))] == ["V2"]


def test_a_lot_says_for_whom_how_many_of_it_are_kept(shop: Shop, job_id: int) -> None:
    spares = lot(shop, "12AX7", 6)
    promise(shop, item_id=spares, job_id=job_id, quantity=2)
    promise(shop, item_id=spares, socket_id=socket_id(shop, job_id, "V1"))
    assert kept_for(shop, item_id=spares) == (Kept(job_id, 1, "", 2), Kept(job_id, 1, "V1", 1))


def test_open_jobs_are_named(shop: Shop, job_id: int) -> None:
    (job,) = open_jobs(shop)
    assert (job.job_id, job.number) == (job_id, 1)
    assert "Larkmere A12" in job.title
