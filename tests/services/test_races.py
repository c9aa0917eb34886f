"""Two benches that want the same tube at the same moment: one gets it, the other is told."""

from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing
from threading import Barrier

import pytest

from tests.records import FixedClock
from tests.services.benchwork import Bench, amplifier
from tests.services.shelfwork import cached_on_shelf, item, lot, moved_to_shelf, tube
from tubeshelf.bootstrap import open_record
from tubeshelf.domain.errors import UserError
from tubeshelf.services import intake, jobs, shelf_moves, spares
from tubeshelf.services.shop import Shop, open_shop

PAIRS = 12
"""Races run: each is over within milliseconds."""


@pytest.fixture(params=["one program", "two programs"])
def shops(request: pytest.FixtureRequest) -> Iterator[tuple[Shop, Shop]]:
    """Two threads of one program on a file, or two programs on a server, as benches have them."""
    if request.param == "one program":
        shop = open_shop(request.getfixturevalue("file_record"))
        yield shop, shop
        return
    record = request.getfixturevalue("server_record")
    address = record.engine.url.render_as_string(hide_password=False)
    with closing(open_record(address, clock=FixedClock(), bench="bench 2")) as other:
        yield open_shop(record), open_shop(other)


def at_once(*acts: Callable[[], object]) -> list[str]:
    """Do all at the same moment; the sentences of those that were refused."""
    ready = Barrier(len(acts))

    def run(act: Callable[[], object]) -> str:
        ready.wait()
        try:
            act()
        except UserError as error:
            return error.sentence
        return ""

    with ThreadPoolExecutor(len(acts)) as threads:
        return sorted(filter(None, threads.map(run, acts)))


def two_jobs(shop: Shop) -> tuple[Bench, Bench]:
    first = amplifier(shop)
    return first, amplifier(shop, serial="30418")


def job_id(bench: Bench) -> int:
    return jobs.open_job(bench.shop, number=bench.number).id


def test_a_tube_is_promised_once(shops: tuple[Shop, Shop]) -> None:
    one, other = shops
    first, second = (job_id(bench) for bench in two_jobs(one))
    for _ in range(PAIRS):
        spare = tube(one)
        refused = at_once(
            lambda spare=spare: spares.promise(one, item_id=spare, job_id=first),  # type: ignore[misc]
            lambda spare=spare: spares.promise(other, item_id=spare, job_id=second),  # type: ignore[misc]
        )
        assert len(refused) == 1
        assert "is promised to job" in refused[0]
        assert item(one, spare).promised == 1


def test_of_a_lot_no_more_is_promised_than_there_is(shops: tuple[Shop, Shop]) -> None:
    one, other = shops
    first, second = (job_id(bench) for bench in two_jobs(one))
    for _ in range(PAIRS):
        spare = lot(one, quantity=3)
        refused = at_once(
            lambda spare=spare: spares.promise(one, item_id=spare, job_id=first, quantity=2),  # type: ignore[misc]
            lambda spare=spare: spares.promise(other, item_id=spare, job_id=second, quantity=2),  # type: ignore[misc]
        )
        assert len(refused) == 1
        assert item(one, spare).promised == 2


def test_a_tube_is_installed_once(shops: tuple[Shop, Shop]) -> None:
    one, other = shops
    first, second = two_jobs(one)
    socket, other_socket = first.id("V1"), second.id("V1")
    for _ in range(PAIRS):
        spare = tube(one)
        refused = at_once(
            lambda spare=spare: spares.install(one, item_id=spare, socket_id=socket),  # type: ignore[misc]
            lambda spare=spare: spares.install(other, item_id=spare, socket_id=other_socket),  # type: ignore[misc]
        )
        assert len(refused) == 1
        stands_in = [bench for bench in (first, second) if bench.at("V1").fitted]
        assert len(stands_in) == 1
        spares.take_out(one, socket_id=stands_in[0].id("V1"))
        assert item(one, spare).bin == "C2"
    assert len(moved_to_shelf(one)) == PAIRS
    assert moved_to_shelf(one) == cached_on_shelf(one)


def test_a_tube_is_sold_or_installed(shops: tuple[Shop, Shop]) -> None:
    one, other = shops
    first, _ = two_jobs(one)
    socket = first.id("V1")
    for _ in range(PAIRS):
        spare = tube(one)
        refused = at_once(
            lambda spare=spare: spares.install(one, item_id=spare, socket_id=socket),  # type: ignore[misc]
            lambda spare=spare: shelf_moves.scrap(other, item_id=spare, reason="short"),  # type: ignore[misc]
        )
        assert len(refused) == 1
    assert moved_to_shelf(one) == cached_on_shelf(one) == {}


def test_two_jobs_taken_in_at_once_have_numbers_of_their_own(shops: tuple[Shop, Shop]) -> None:
    one, other = shops
    for _ in range(PAIRS):
        assert at_once(lambda: amplifier_of(one, "A"), lambda: amplifier_of(other, "B")) == []
    numbers = [head.number for head in jobs.list_jobs(one)]
    assert sorted(numbers) == list(range(1, 2 * PAIRS + 1))


def amplifier_of(shop: Shop, customer: str) -> object:
    return intake.new_job(shop, customer=customer, maker="Larkmere", model="A12", complement="V1 input 12AX7")
