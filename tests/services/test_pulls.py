"""Pulled tubes belong to the customer until the customer says otherwise."""

import pytest
from sqlalchemy import select

from tests.services.benchwork import Bench, amplifier
from tubeshelf.domain.errors import UserError
from tubeshelf.services import pulls, shelf_moves, shelf_search, undo
from tubeshelf.services.shop import Shop
from tubeshelf.store.tables import Item


@pytest.fixture
def amp(shop: Shop) -> Bench:
    amp = amplifier(shop)
    amp.found("V1")
    return amp


def tube(amp: Bench) -> tuple[str, str, int | None, int | None]:
    with amp.shop.record.reading() as connection:
        row = connection.execute(select(Item.place, Item.place_ref, Item.customer_id, Item.tag)).one()
    return row.place, row.place_ref, row.customer_id, row.tag


def test_a_pulled_tube_goes_into_the_bag_and_stays_the_customers(amp: Bench) -> None:
    pulls.pull(amp.shop, socket_id=amp.id("V1"))
    assert tube(amp) == ("bag", "1", amp.job().customer_id, None)
    assert amp.at("V1").found.place == "bag"
    assert shelf_search.search(amp.shop).tubes == 0
    with pytest.raises(UserError, match="no tube in V1"):
        pulls.pull(amp.shop, socket_id=amp.id("V1"))
    undo.take_back(amp.shop)
    assert tube(amp)[0] == "socket"


def test_a_tube_left_to_the_shop_gets_a_tag_and_lies_on_the_shelf_as_a_pull(amp: Bench) -> None:
    pulls.pull(amp.shop, socket_id=amp.id("V1"))
    item_id = amp.at("V1").found.item_id or 0
    tag, _ = pulls.keep_pull(amp.shop, item_id=item_id, bin="C2")
    assert tube(amp) == ("shelf", "C2", None, int(tag))
    (row,) = shelf_search.search(amp.shop, find="12ax7").rows
    assert (row.tag, row.condition, row.bin) == (tag, "pull", "C2")
    undo.take_back(amp.shop)
    assert tube(amp) == ("bag", "1", amp.job().customer_id, None)


def test_a_tube_in_its_socket_is_not_taken_onto_the_shelf(amp: Bench) -> None:
    with pytest.raises(UserError, match="not in a job's bag"):
        pulls.keep_pull(amp.shop, item_id=amp.at("V1").found.item_id or 0, bin="C2")


def test_a_pulled_tube_is_given_back(amp: Bench) -> None:
    pulls.pull(amp.shop, socket_id=amp.id("V1"))
    shelf_moves.give_back(amp.shop, item_id=amp.at("V1").found.item_id or 0)
    assert tube(amp)[0] == "customer"
