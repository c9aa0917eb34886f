"""What to buy for all open jobs together: merged, matched, and less what the shelf can serve."""

from datetime import date

import pytest

from tests.services.benchwork import Bench, add_tester, amplifier
from tests.services.shelfwork import item, lot, read, tube
from tubeshelf.domain.jobs import Action, Answer
from tubeshelf.domain.judging import Mark
from tubeshelf.services import answers, bench, intake
from tubeshelf.services.needs import Need
from tubeshelf.services.orders import order_list, unserved, waiting_for
from tubeshelf.services.shelf_edit import make_set, set_par
from tubeshelf.services.shelf_reading import observe_spare
from tubeshelf.services.shop import Shop
from tubeshelf.services.spares import promise
from tubeshelf.services.stock import read_stock
from tubeshelf.services.types_edit import save_substitute

SMALL = "V1 input 12AX7"


def small_job(shop: Shop, due: date | None = None, complement: str = SMALL) -> Bench:
    """A job of one set, every socket of which is to be replaced."""
    number, _ = intake.new_job(
        shop, customer="Ivo Marl", maker="Larkmere", model=complement, complement=complement, promised_on=due
    )
    job = Bench(shop, number, 0)
    for socket in job.job().sockets:
        bench.set_action(shop, socket_id=socket.id, action=Action.REPLACE, why="customer's wish")
    return job


def lines(shop: Shop) -> list[tuple[str, int, tuple[int, ...]]]:
    return [(line.designation, line.quantity, line.jobs) for line in order_list(shop)]


def test_nothing_to_replace_is_nothing_to_order(shop: Shop) -> None:
    amplifier(shop)
    assert order_list(shop) == ()


def test_orders_of_several_jobs_are_merged_by_type_and_say_by_when(shop: Shop) -> None:
    small_job(shop, date(2026, 4, 10))
    small_job(shop, date(2026, 4, 2))
    small_job(shop, complement="V1 rectifier 5Y3GT")
    first, second = order_list(shop)
    assert (first.designation, first.quantity, first.jobs) == ("12AX7", 2, (2, 1))
    assert (first.needed_by, first.reason, first.match) == (date(2026, 4, 2), "for jobs 2, 1", "")
    assert (second.designation, second.needed_by, second.reason) == ("5Y3GT", None, "for job 3")
    assert "7025" in first.substitutes


def test_the_earlier_promise_gets_what_is_free(shop: Shop) -> None:
    late, early = small_job(shop, date(2026, 5, 1)), small_job(shop, date(2026, 4, 1))
    tube(shop, "12AX7")
    assert lines(shop) == [("12AX7", 1, (late.number,))]
    assert waiting_for(shop) == {late.job().id: ("12AX7",)}
    assert early.job().id not in waiting_for(shop)


def test_what_the_customer_declined_is_not_ordered(shop: Shop) -> None:
    job = small_job(shop)
    answers.set_answer(shop, socket_id=job.id("V1"), answer=Answer.DECLINED)
    assert order_list(shop) == ()


def test_a_spare_promised_to_a_socket_serves_that_socket_alone(shop: Shop) -> None:
    first, second = small_job(shop, date(2026, 5, 1)), small_job(shop, date(2026, 4, 1))
    promise(shop, item_id=tube(shop, "12AX7"), socket_id=first.id("V1"))
    assert lines(shop) == [("12AX7", 1, (second.number,))]


def test_a_spare_promised_to_a_job_serves_it_and_no_other(shop: Shop) -> None:
    first, second = small_job(shop, date(2026, 5, 1)), small_job(shop, date(2026, 4, 1))
    promise(shop, item_id=tube(shop, "12AX7"), job_id=first.job().id)
    assert lines(shop) == [("12AX7", 1, (second.number,))]


@pytest.mark.parametrize("condition", ["dead", "suspect", "reference", "weak but usable"])
def test_what_is_claimed_to_be_bad_serves_nobody(file_shop: Shop, condition: str) -> None:
    small_job(file_shop)
    tube(file_shop, "12AX7", condition=condition)
    assert lines(file_shop) == [("12AX7", 1, (1,))]


def test_what_reads_bad_serves_nobody_and_what_reads_good_does(shop: Shop) -> None:
    tester = add_tester(shop)
    small_job(shop)
    small_job(shop)
    weak, shorted, good = tube(shop), tube(shop), tube(shop)
    read(shop, tester, weak, "1480", "900")
    observe_spare(shop, item_id=shorted, mark=Mark.SHORT, is_fault=True)
    read(shop, tester, good, "1480", "1390")
    assert lines(shop) == [("12AX7", 1, (2,))]


def test_a_type_that_is_as_good_serves(shop: Shop) -> None:
    small_job(shop)
    tube(shop, "7025")
    assert order_list(shop) == ()


def test_a_substitute_with_conditions_is_named_and_does_not_serve_by_itself(shop: Shop) -> None:
    small_job(shop, complement="V1 input 7025")
    item_id = tube(shop, "12AX7")
    wanted, spare = shop.book.id_of("7025"), item(shop, item_id).type_id
    assert wanted is not None
    assert spare is not None
    save_substitute(shop, intended_id=wanted, found_id=spare, grade=2, conditions="more hum possible")
    (line,) = order_list(shop)
    assert (line.designation, line.quantity) == ("7025", 1)
    assert "12AX7 (1 free here)" in line.substitutes


PAIR = "V3 output 6BQ5 =A\nV4 output 6BQ5 =A"


def test_a_match_group_is_bought_whole(shop: Shop) -> None:
    small_job(shop, complement=PAIR)
    tube(shop, "6BQ5")
    (line,) = order_list(shop)
    assert (line.designation, line.quantity, line.match) == ("6BQ5", 2, "1 pair")


def test_a_quad_and_a_pair_are_told_apart(shop: Shop) -> None:
    small_job(shop, complement=PAIR)
    small_job(shop, complement="\n".join(f"V{n} output 6BQ5 =A" for n in range(1, 5)))
    small_job(shop, complement="\n".join(f"V{n} output 6BQ5 =A" for n in range(1, 4)))
    (line,) = order_list(shop)
    assert (line.quantity, line.match) == (9, "1 pair, 1 matched set of 3, 1 quad")


def test_a_matched_set_on_the_shelf_serves_a_group(shop: Shop) -> None:
    tester = add_tester(shop)
    small_job(shop, complement=PAIR)
    pair = [tube(shop, "6BQ5"), tube(shop, "6BQ5")]
    for item_id in pair:
        read(shop, tester, item_id, "11000")
    make_set(shop, item_ids=pair)
    assert order_list(shop) == ()


def test_a_lot_serves_as_often_as_it_has_tubes(shop: Shop) -> None:
    lot(shop, "12AX7", 2)
    for _ in range(3):
        small_job(shop)
    assert lines(shop) == [("12AX7", 1, (3,))]


def test_of_a_lot_only_those_not_promised_serve(shop: Shop) -> None:
    first = small_job(shop)
    heap = lot(shop, "12AX7", 2)
    promise(shop, item_id=heap, socket_id=first.id("V1"))
    small_job(shop)
    small_job(shop)
    assert lines(shop) == [("12AX7", 1, (3,))]


def test_types_below_par_are_filled_up(shop: Shop) -> None:
    stocked = lot(shop, "12AX7", 4)
    type_id = item(shop, stocked).type_id
    assert type_id is not None
    set_par(shop, type_id=type_id, quantity=6)
    small_job(shop)
    (line,) = order_list(shop)
    assert (line.designation, line.quantity, line.jobs) == ("12AX7", 3, ())
    assert line.reason == "3 left free, 6 wanted on hand"
    set_par(shop, type_id=type_id, quantity=3)
    assert order_list(shop) == ()


def test_a_job_and_the_par_are_one_line(shop: Shop) -> None:
    small_job(shop)
    type_id = shop.book.id_of("12AX7")
    assert type_id is not None
    set_par(shop, type_id=type_id, quantity=2)
    (line,) = order_list(shop)
    assert (line.quantity, line.jobs) == (3, (1,))
    assert line.reason == "for job 1; 0 left free, 2 wanted on hand"


def test_a_group_is_served_whole_or_not_at_all(file_shop: Shop) -> None:
    lot(file_shop, "6BQ5", 3)
    type_id = file_shop.book.id_of("6BQ5")
    assert type_id is not None

    def need(job: int, position: str, group: str) -> Need:
        return Need(job, job, None, type_id, position, group, False)

    needs = [
        need(1, "V1", "A"),
        need(1, "V2", "A"),
        need(2, "V1", "A"),
        need(2, "V2", "A"),
        need(3, "V1", ""),
    ]
    with file_shop.record.reading() as connection:
        stock = read_stock(connection, file_shop.book)
    (missing,) = unserved(file_shop.book, needs, stock)
    assert [(n.job_id, n.position) for n in missing] == [(2, "V1"), (2, "V2")]
    assert stock.free(type_id) == 0
