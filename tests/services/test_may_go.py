"""What may go into a socket, ranked, with what lies on the shelf."""

import pytest

from tests.services.benchwork import amplifier
from tests.services.shelfwork import lot
from tubeshelf.domain.errors import UserError
from tubeshelf.domain.fitting import Circuit, Outcome
from tubeshelf.domain.ranking import Standing
from tubeshelf.services.may_go import may_go_for, may_go_here
from tubeshelf.services.shop import Shop
from tubeshelf.services.spares import promise
from tubeshelf.services.types_edit import save_substitute


def id_of(shop: Shop, name: str) -> int:
    found = shop.book.id_of(name)
    assert found is not None
    return found


def test_the_type_itself_comes_first_with_what_is_free_of_it(shop: Shop) -> None:
    amp = amplifier(shop)
    item = lot(shop, "6BQ5", 6)
    promise(shop, item_id=item, job_id=amp.job().id, quantity=2)
    told = may_go_here(shop, socket_id=amp.id("V3"))
    assert told.where == "V3, meant for 6BQ5"
    first, *rest = told.rows
    assert (first.designation, first.standing, first.on_hand, first.free) == ("6BQ5", Standing.RIGHT, 6, 4)
    # A 7189 is the 6BQ5 with higher ratings (GE data sheet 7189); a 6CW5 is another family (Philips EL86).
    assert [row.designation for row in rest if row.designation in ("7189", "6CW5")] == ["7189"]


def test_what_a_rectifier_of_less_drop_needs_is_said(shop: Shop) -> None:
    rows = {row.designation: row for row in may_go_for(shop, type_id=id_of(shop, "5Y3GT")).rows}
    row = rows["5AR4"]  # RCA RC-30: 5Y3GT drops 60 V at 125 mA, a GZ34 under 20
    assert (row.standing, row.outcome) == (Standing.WITH_A_CHECK, Outcome.WRONG_TYPE)
    assert any("filter capacitors" in sentence for sentence in row.said)
    assert "5U4G" not in rows  # it takes 3 A from a 2 A winding


def test_an_entry_of_the_shops_own_counts_at_once(shop: Shop) -> None:
    wanted, other = id_of(shop, "6SK7"), id_of(shop, "6SS7")
    save_substitute(shop, intended_id=wanted, found_id=other, grade=3, conditions="in this set only")
    row = next(row for row in may_go_for(shop, type_id=wanted).rows if row.type_id == other)
    assert (row.standing, row.outcome) == (Standing.IN_A_PINCH, Outcome.ACCEPTED_SUBSTITUTE)
    assert "in this set only" in row.said


def test_a_series_string_leaves_less_to_choose_from(shop: Shop) -> None:
    type_id = id_of(shop, "12AX7")
    parallel = {row.designation for row in may_go_for(shop, type_id=type_id).rows}
    series = {row.designation for row in may_go_for(shop, type_id=type_id, circuit=Circuit.SERIES).rows}
    assert "5751" in parallel - series  # 0.35 A where the string carries 0.3 A (GE data sheet 5751)
    assert series < parallel


def test_a_socket_that_is_gone_is_told(shop: Shop) -> None:
    with pytest.raises(UserError, match="no longer part of the job"):
        may_go_here(shop, socket_id=99_999)
