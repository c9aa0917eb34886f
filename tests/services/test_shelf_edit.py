"""What is written on a spare's card, and tubes that belong together."""

import pytest

from tests.services.benchwork import amplifier
from tests.services.shelfwork import found, item, lot, moved_to_shelf, tube
from tubeshelf.domain.errors import UserError
from tubeshelf.services.changes import Kind
from tubeshelf.services.shelf_detail import item_detail
from tubeshelf.services.shelf_edit import edit_item, make_set, set_par
from tubeshelf.services.shop import Shop
from tubeshelf.services.spares import promise
from tubeshelf.services.undo import take_back


def test_what_is_named_changes_and_the_rest_stays(shop: Shop) -> None:
    item_id = tube(shop, "12AX7", brand="Orrery", price=2400, boxed=True)
    _, changes = edit_item(
        shop, item_id=item_id, expected_version=1, marked=" 12AX7  A ", price=None, cost=0, note="quiet"
    )
    assert changes.said == "Saved 12AX7 0001"
    assert changes.touches(Kind.ITEM, item_id)
    view = item(shop, item_id)
    assert (view.marked, view.price, view.cost, view.note, view.brand) == (
        "12AX7 A",
        None,
        0,
        "quiet",
        "Orrery",
    )
    assert found(shop, "12ax7a orrery") == [item_id]


def test_another_type_is_found_by_its_names(shop: Shop) -> None:
    item_id = tube(shop, "12AX7", marked="rubbed off")
    edit_item(shop, item_id=item_id, expected_version=1, type_name="EL84", believed_because="plates")
    assert item(shop, item_id).designation == "6BQ5"
    assert found(shop, "6bq5") == [item_id]
    assert found(shop, "12ax7") == []
    take_back(shop)
    assert found(shop, "12ax7") == [item_id]


@pytest.mark.parametrize(
    ("fields", "says"),
    [
        ({"type_name": "QQQ"}, "not in the type table"),
        ({"condition": "shiny"}, "no claimed condition"),
        ({"cost": -1}, "cost is below zero"),
        ({"matched_set": 3}, "choosing them together"),
    ],
)
def test_what_cannot_be_meant_is_refused(file_shop: Shop, fields: dict[str, object], says: str) -> None:
    item_id = tube(file_shop)
    with pytest.raises(UserError, match=says):
        edit_item(file_shop, item_id=item_id, expected_version=1, **fields)  # type: ignore[arg-type]
    assert item(file_shop, item_id).version == 1


def test_two_benches_do_not_overwrite_each_other(shop: Shop) -> None:
    item_id = tube(shop)
    edit_item(shop, item_id=item_id, expected_version=1, note="first")
    with pytest.raises(UserError, match="changed elsewhere"):
        edit_item(shop, item_id=item_id, expected_version=1, note="second")
    assert item(shop, item_id).note == "first"


def test_a_spare_that_becomes_a_reference_leaves_the_shelf(shop: Shop) -> None:
    item_id = tube(shop, bin="C2")
    edit_item(shop, item_id=item_id, expected_version=1, condition="reference")
    assert (item(shop, item_id).place, item(shop, item_id).bin) == ("reference", "C2")
    assert moved_to_shelf(shop) == {}
    assert item_detail(shop, item_id=item_id).events[-1].text == "moved C2 → C2, kept as a reference"
    edit_item(shop, item_id=item_id, expected_version=item(shop, item_id).version, condition="pull")
    assert moved_to_shelf(shop) == {item_id: 1}


def test_a_promised_spare_does_not_become_a_reference(shop: Shop) -> None:
    amp = amplifier(shop)
    item_id = tube(shop)
    promise(shop, item_id=item_id, socket_id=amp.id("V1"))
    with pytest.raises(UserError, match="promised to job 1"):
        edit_item(shop, item_id=item_id, expected_version=1, condition="reference")
    assert item(shop, item_id).condition == "used, tested"


def test_tubes_that_belong_together_get_a_set_number(shop: Shop) -> None:
    pair, other = [tube(shop), tube(shop)], [tube(shop), tube(shop)]
    number, changes = make_set(shop, item_ids=pair)
    assert (number, changes.said) == (1, "Set 1: 2 matched 12AX7")
    assert make_set(shop, item_ids=other)[0] == 2
    assert [item(shop, item_id).matched_set for item_id in (*pair, *other)] == [1, 1, 2, 2]
    edit_item(shop, item_id=pair[0], expected_version=item(shop, pair[0]).version, matched_set=None)
    assert item(shop, pair[0]).matched_set is None


def test_a_set_is_made_of_free_single_tubes_of_one_type(shop: Shop) -> None:
    first, second, third = tube(shop), tube(shop), tube(shop)
    heap, other = lot(shop), tube(shop, "6BQ5")
    for ids, says in (
        ([first], "at least two"),
        ([first, first], "at least two"),
        ([first, heap], "Tag the tubes"),
        ([first, other], "one type"),
    ):
        with pytest.raises(UserError, match=says):
            make_set(shop, item_ids=ids)
    make_set(shop, item_ids=[first, second])
    with pytest.raises(UserError, match="in set 1 already"):
        make_set(shop, item_ids=[second, third])
    assert item(shop, third).matched_set is None


def test_par_is_told_in_words(shop: Shop) -> None:
    type_id = shop.book.id_of("6BQ5")
    assert type_id is not None
    _, changes = set_par(shop, type_id=type_id, quantity=6)
    assert changes.said == "6BQ5: 6 wanted on hand"
    assert changes.touches(Kind.TYPE, type_id)
    assert set_par(shop, type_id=type_id, quantity=None)[1].said == "6BQ5: no par any more"
    with pytest.raises(UserError, match="0 or more"):
        set_par(shop, type_id=type_id, quantity=-1)
