"""Spares in and out: tagged one by one or as counted lots, with movements as the truth."""

from collections.abc import Callable

import pytest

from tests.services.benchwork import Bench, amplifier
from tests.services.shelfwork import cached_on_shelf, found, item, lot, moved_to_shelf, tube
from tubeshelf.domain.errors import UserError
from tubeshelf.domain.places import Place
from tubeshelf.services.changes import Kind
from tubeshelf.services.movements import carry, item_row
from tubeshelf.services.shelf_detail import item_detail
from tubeshelf.services.shelf_moves import (
    count_lot,
    give_back,
    move,
    receive,
    scrap,
    sell,
    tag_from_lot,
)
from tubeshelf.services.shelf_search import counts, find_tag, type_count
from tubeshelf.services.shop import Shop
from tubeshelf.services.spares import install, promise, release
from tubeshelf.services.undo import do_again, take_back


@pytest.fixture
def amp(shop: Shop) -> Bench:
    return amplifier(shop)


def events(shop: Shop, item_id: int) -> list[str]:
    return [event.text for event in item_detail(shop, item_id=item_id).events if not event.taken_back]


def test_each_tube_received_gets_the_next_tag(shop: Shop) -> None:
    ids, changes = receive(shop, type_name="ecc83", quantity=3, bin=" C2 ", condition="NOS", price=2400)
    assert [item(shop, item_id).tag for item_id in ids] == ["0001", "0002", "0003"]
    assert changes.said == "Received 3 12AX7 in C2"
    assert all(changes.touches(Kind.ITEM, item_id) for item_id in ids)
    first = item(shop, ids[0])
    assert (first.designation, first.marked, first.bin, first.condition) == ("12AX7", "ecc83", "C2", "NOS")
    assert (first.price, first.cost, first.quantity, first.lot) == (2400, None, 1, False)


def test_a_lot_has_a_number_and_no_tag(shop: Shop) -> None:
    item_id = lot(shop, quantity=9, condition="new in box")
    view = item(shop, item_id)
    assert (view.tag, view.lot, view.quantity, view.verdict, view.reads) == ("", True, 9, "not read", "")


@pytest.mark.parametrize(
    ("asked", "says"),
    [
        ({"type_name": "12AX77"}, "did you mean"),
        ({"type_name": " "}, "Type what tube it is"),
        ({"type_name": "QQQ"}, "not in the type table"),
        ({"bin": "  "}, "Type the bin"),
        ({"quantity": 0}, "at least 1"),
        ({"quantity": 501}, "receive them as a lot"),
        ({"condition": "shiny"}, "choose one of NOS"),
        ({"price": -1}, "price is below zero"),
    ],
)
def test_what_cannot_be_received_is_told_and_nothing_is_written(
    file_shop: Shop, asked: dict[str, object], says: str
) -> None:
    with pytest.raises(UserError, match=says):
        receive(file_shop, **({"type_name": "12AX7", "bin": "C2"} | asked))  # type: ignore[arg-type]
    assert found(file_shop) == []


def test_a_price_of_nothing_is_a_price(file_shop: Shop) -> None:
    assert item(file_shop, tube(file_shop, price=0)).price == 0


def test_a_move_is_a_movement_and_is_found_in_its_new_bin(shop: Shop) -> None:
    item_id = tube(shop, bin="C3")
    moved, changes = move(shop, item_id=item_id, bin="C2")
    assert (moved, changes.said) == (item_id, "Moved 12AX7 0001 to C2")
    assert found(shop, "c2") == [item_id]
    assert found(shop, "c3") == []
    assert events(shop, item_id) == ["received in C3", "moved C3 → C2"]
    with pytest.raises(UserError, match="lies in C2 already"):
        move(shop, item_id=item_id, bin="C2")


def test_part_of_a_lot_in_another_bin_is_a_lot_of_its_own(shop: Shop) -> None:
    whole = lot(shop, quantity=10, condition="NOS", price=900)
    part, _ = move(shop, item_id=whole, bin="D1", quantity=4)
    assert part != whole
    assert (item(shop, whole).quantity, item(shop, whole).bin) == (6, "C5")
    split = item(shop, part)
    assert (split.quantity, split.bin, split.lot, split.condition, split.price) == (4, "D1", True, "NOS", 900)
    assert moved_to_shelf(shop) == cached_on_shelf(shop) == {whole: 6, part: 4}


def test_a_whole_lot_moves_as_itself(shop: Shop) -> None:
    whole = lot(shop, quantity=10)
    assert move(shop, item_id=whole, bin="D1", quantity=10)[0] == whole
    assert item(shop, whole).bin == "D1"


def test_a_tube_tagged_from_a_lot_has_its_facts_and_says_where_it_came_from(shop: Shop) -> None:
    whole = lot(shop, quantity=3, brand="Orrery", condition="NOS", cost=500)
    (first, second), changes = tag_from_lot(shop, item_id=whole, quantity=2)
    assert changes.said == "Tagged 12AX7 0001 to 0002"
    assert item(shop, whole).quantity == 1
    view = item(shop, second)
    assert (view.tag, view.brand, view.condition, view.cost, view.bin, view.lot) == (
        "0002",
        "Orrery",
        "NOS",
        500,
        "C5",
        False,
    )
    assert events(shop, first) == ["taken out of a lot, in C5"]
    assert events(shop, whole) == ["3 received in C5", "2 taken out of the lot"]
    with pytest.raises(UserError, match="has its tag already"):
        tag_from_lot(shop, item_id=first)


def test_no_more_than_there_is_leaves_a_lot(shop: Shop) -> None:
    whole = lot(shop, quantity=3)
    for take in (tag_from_lot, sell):
        with pytest.raises(UserError, match="only 3 of the lot of 3 12AX7"):
            take(shop, item_id=whole, quantity=4)
    with pytest.raises(UserError, match="at least 1"):
        sell(shop, item_id=whole, quantity=0)
    assert item(shop, whole).quantity == 3


def test_a_lot_that_is_sold_out_leaves_the_list_and_comes_back_by_take_back(shop: Shop) -> None:
    whole = lot(shop, quantity=3)
    sell(shop, item_id=whole, quantity=2)
    sell(shop, item_id=whole)
    assert found(shop) == []
    with pytest.raises(UserError, match="Nothing is left"):
        sell(shop, item_id=whole)
    take_back(shop)
    assert item(shop, whole).quantity == 1
    assert found(shop) == [whole]


def test_scrap_wants_a_reason_and_keeps_it(shop: Shop) -> None:
    item_id = tube(shop)
    with pytest.raises(UserError, match="Say why"):
        scrap(shop, item_id=item_id, reason=" ")
    scrap(shop, item_id=item_id, reason="open heater")
    assert events(shop, item_id)[-1] == "scrapped: open heater"
    assert found(shop) == []
    with pytest.raises(UserError, match="was scrapped: it cannot be taken from the shelf"):
        move(shop, item_id=item_id, bin="C2")


@pytest.mark.parametrize(
    "leave",
    [
        lambda shop, item_id: scrap(shop, item_id=item_id, reason="broken"),
        lambda shop, item_id: sell(shop, item_id=item_id),
        lambda shop, item_id: count_lot(shop, item_id=item_id, counted=0),
    ],
)
def test_a_promised_tube_stays_on_the_shelf(amp: Bench, leave: Callable[[Shop, int], object]) -> None:
    item_id = tube(amp.shop)
    promise(amp.shop, item_id=item_id, socket_id=amp.id("V1"))
    with pytest.raises(UserError, match=r"12AX7 0001 is promised to job 1: release it there first\."):
        leave(amp.shop, item_id)
    assert item(amp.shop, item_id).promised_to == "job 1, V1"
    assert item(amp.shop, item_id).place == "shelf"


def test_a_promised_tube_may_change_its_bin(amp: Bench) -> None:
    item_id = tube(amp.shop, bin="C3")
    promise(amp.shop, item_id=item_id, socket_id=amp.id("V1"))
    move(amp.shop, item_id=item_id, bin="C2")
    assert (item(amp.shop, item_id).bin, item(amp.shop, item_id).promised) == ("C2", 1)


def test_of_a_lot_only_the_free_ones_can_go(amp: Bench) -> None:
    whole = lot(amp.shop, quantity=5)
    promise(amp.shop, item_id=whole, job_id=amp.job().id, quantity=3)
    for leave in (
        lambda: sell(amp.shop, item_id=whole, quantity=3),
        lambda: tag_from_lot(amp.shop, item_id=whole, quantity=3),
        lambda: move(amp.shop, item_id=whole, bin="D1", quantity=3),
        lambda: count_lot(amp.shop, item_id=whole, counted=2),
    ):
        with pytest.raises(UserError, match="Only 2 of the lot of 5 12AX7 are free"):
            leave()
    sell(amp.shop, item_id=whole, quantity=2)
    assert (item(amp.shop, whole).quantity, item(amp.shop, whole).promised) == (3, 3)


def test_a_tube_cannot_be_promised_twice(amp: Bench) -> None:
    item_id = tube(amp.shop)
    promise(amp.shop, item_id=item_id, socket_id=amp.id("V1"))
    with pytest.raises(UserError, match="promised to job 1"):
        promise(amp.shop, item_id=item_id, socket_id=amp.id("V2"))


def test_an_installed_tube_cannot_be_sold(amp: Bench) -> None:
    item_id = tube(amp.shop)
    install(amp.shop, item_id=item_id, socket_id=amp.id("V1"))
    with pytest.raises(UserError, match="12AX7 0001 is installed"):
        sell(amp.shop, item_id=item_id)
    assert events(amp.shop, item_id)[-1] == "installed in V1, Larkmere A12 (30417)"


def test_a_promise_that_was_kept_is_told_by_the_installing_and_one_that_was_not_by_its_end(
    amp: Bench,
) -> None:
    kept, released = tube(amp.shop), tube(amp.shop)
    promise(amp.shop, item_id=kept, socket_id=amp.id("V1"))
    install(amp.shop, item_id=kept, socket_id=amp.id("V1"))
    promise(amp.shop, item_id=released, socket_id=amp.id("V2"))
    release(amp.shop, item_id=released, job_id=amp.job().id)
    assert set(events(amp.shop, kept)) == {
        "received in C2",
        "promised to job 1",
        "installed in V1, Larkmere A12 (30417)",
    }
    assert events(amp.shop, released)[1:] == ["promised to job 1", "no longer kept for job 1"]


def test_a_customers_tube_that_lies_on_the_shelf_is_not_the_shops(amp: Bench) -> None:
    amp.found("V1")
    pulled = amp.at("V1").found.item_id
    assert pulled is not None
    with amp.shop.record.act("laid aside") as journal:
        carry(journal, item_row(journal.connection, pulled), Place.SHELF, "C2", "laid aside")
    assert found(amp.shop) == []
    assert counts(amp.shop) == ()
    with pytest.raises(UserError, match="belongs to Ada Brindle"):
        promise(amp.shop, item_id=pulled, socket_id=amp.id("V2"))


def test_a_receipt_is_not_taken_back_from_under_another_benchs_promise(amp: Bench) -> None:
    item_id = tube(amp.shop)
    amp.shop.record.bench = "bench 2"
    promise(amp.shop, item_id=item_id, socket_id=amp.id("V1"))
    amp.shop.record.bench = "bench 1"
    with pytest.raises(UserError, match="came later and rests on it"):
        take_back(amp.shop)
    assert item(amp.shop, item_id).promised == 1


def test_counting_corrects_a_lot_both_ways(shop: Shop) -> None:
    whole = lot(shop, quantity=10)
    count_lot(shop, item_id=whole, counted=8, reason="two under the bench")
    assert item(shop, whole).quantity == 8
    count_lot(shop, item_id=whole, counted=11)
    assert item(shop, whole).quantity == 11
    assert moved_to_shelf(shop) == {whole: 11}
    assert events(shop, whole)[1:] == ["2 counted two under the bench", "3 counted in C5"]
    with pytest.raises(UserError, match="0 or more"):
        count_lot(shop, item_id=whole, counted=-1)


def test_a_missing_tube_counts_nought(shop: Shop) -> None:
    item_id = tube(shop)
    with pytest.raises(UserError, match="count 1, or 0"):
        count_lot(shop, item_id=item_id, counted=2)
    count_lot(shop, item_id=item_id, counted=1)
    count_lot(shop, item_id=item_id, counted=0, reason="not in its bin")
    assert found(shop) == []
    assert item(shop, item_id).place == "outside"


def test_a_customers_tube_goes_back_to_its_owner_and_never_onto_the_counts(amp: Bench) -> None:
    amp.found("V1")
    pulled = amp.at("V1").found.item_id
    assert pulled is not None
    with pytest.raises(UserError, match="nobody to give it back to"):
        give_back(amp.shop, item_id=tube(amp.shop))
    _, changes = give_back(amp.shop, item_id=pulled)
    assert changes.said == "Gave 12AX7 back to Ada Brindle"
    assert item(amp.shop, pulled).owner == "Ada Brindle"
    assert type_count(amp.shop, type_id=item(amp.shop, pulled).type_id or 0).on_hand == 1
    with pytest.raises(UserError, match="already"):
        give_back(amp.shop, item_id=pulled)


def test_a_reference_tube_is_kept_apart_from_what_is_on_hand(shop: Shop) -> None:
    item_id = tube(shop, condition="reference")
    assert item(shop, item_id).place == "reference"
    assert found(shop) == [item_id]
    assert type_count(shop, type_id=item(shop, item_id).type_id or 0).on_hand == 0


def test_taking_back_a_receipt_and_doing_it_again(shop: Shop) -> None:
    item_id = tube(shop)
    take_back(shop)
    assert found(shop) == []
    assert find_tag(shop, tag="1") is None
    do_again(shop)
    assert found(shop) == [item_id]
    take_back(shop)
    assert item(shop, tube(shop)).tag == "0002"
