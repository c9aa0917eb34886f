from collections.abc import Callable

import pytest
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from tests.ui.drivers.bench import Bench
from tests.ui.drivers.shelf import ShelfDriver, lot, set_up, stored, tube
from tubeshelf.domain.jobs import Condition
from tubeshelf.services.setting_lines import setting_lines
from tubeshelf.services.shelf_edit import edit_item
from tubeshelf.services.shop import Shop
from tubeshelf.services.spares import promise
from tubeshelf.services.wants import kept_for
from tubeshelf.store.record import Record

Show = Callable[..., QWidget]


@pytest.fixture
def bench(file_record: Record) -> Bench:
    """A tester, an open job of five sockets, a 12AX7 (0001) and a 6BQ5 (0002), both in C2."""
    return set_up(file_record)


@pytest.fixture
def shop(bench: Bench) -> Shop:
    return bench.shop


@pytest.fixture
def page(qtbot: QtBot, shop: Shop, shown: Show) -> ShelfDriver:
    return ShelfDriver(qtbot, shop, shown)


def test_receives_one_tube_after_the_other_by_keyboard(page: ShelfDriver, shop: Shop) -> None:
    page.press("Ctrl+R").type("ecc82").tab().type("2").tab(2).type("D1").tab().type("CV4003").tab()
    page.type("pull").enter()
    assert page.rows == ["0003 12AU7", "0004 12AU7", "0001 12AX7", "0002 6BQ5"]
    assert page.said == ["Received 2 12AU7 in D1"]
    assert page.cells(3)["Claimed"] == "pull"
    assert page.cells(3)["Marked"] == "CV4003"
    assert page.in_hand == 3
    assert page.field == "Type"
    page.tab().type("3").tab().type("one").enter()
    assert page.rows[2] == "lot 3 12AU7"
    assert stored(shop, 5).condition == "pull"
    assert stored(shop, 5).bin == "D1"
    page.press("Esc", "Esc")
    assert page.page.list.table.hasFocus()


def test_a_wrong_type_is_told_beside_it_with_near_ones(page: ShelfDriver) -> None:
    page.press("Ctrl+R").type("12AX9").tab().type("4").tab(2).enter("C7")
    assert page.field == "Type"
    assert page.complaint.startswith("“12AX9” is not in the type table: did you mean 12AX7")
    page.type("12AX7").enter()
    assert page.said == ["Received 4 12AX7 in C7"]


@pytest.mark.parametrize(
    ("steps", "text", "field", "said"),
    [
        (1, "some", "How many", "“some” is not a number"),
        (1, "0", "How many", "Type how many: at least 1."),
        (1, "1.5", "How many", "Type a whole number"),
        (3, "", "Into bin", "Type the bin it lies in, such as C2."),
        (12, "dear", "Cost of one", "“dear” is not an amount"),
        (12, "-3", "Cost of one", "The cost is below zero"),
    ],
)
def test_a_wrong_field_is_told_beside_it_and_nothing_is_lost(
    page: ShelfDriver, steps: int, text: str, field: str, said: str
) -> None:
    form = page.page.pane.receive
    page.press("Ctrl+R").type("12AX7").tab(3).type("C2")
    form.type_name.setFocus()
    page.tab(steps)
    assert page.field == field
    page.type(text) if text else page.press("Ctrl+A", "Del")
    page.enter()
    assert page.field == field
    assert page.complaint.startswith(said)
    assert (form.type_name.text(), page.said) == ("12AX7", [])


def test_the_type_field_offers_names(page: ShelfDriver) -> None:
    page.press("Ctrl+R").type("ecc8")
    offered = page.page.pane.receive.type_name.offered
    assert any(words.startswith("ECC83   12AX7") for words in offered)


def test_moves_a_tube_and_takes_it_back(page: ShelfDriver, bench: Bench) -> None:
    here = bench.spares["6BQ5"]
    page.take(here).press("M").enter("E4")
    assert page.cells(here)["Bin"] == "E4"
    assert page.said == ["Moved 6BQ5 0002 to E4"]
    assert page.page.list.table.hasFocus()
    page.take_back()
    assert page.cells(here)["Bin"] == "C2"
    assert "moved C2 → E4 (taken back)" in page.pane


def test_a_move_to_where_it_lies_is_refused_beside_the_bin(page: ShelfDriver, bench: Bench) -> None:
    page.take(bench.spares["6BQ5"]).press("M").enter()
    assert (page.field, page.complaint) == ("To bin", "6BQ5 0002 lies in C2 already.")
    page.press("Esc")
    assert page.page.pane.form is None


def test_moves_part_of_a_lot(page: ShelfDriver, shop: Shop) -> None:
    whole = lot(shop, 9)
    page.page.load()
    page.take(whole).press("M").type("F1").press("Shift+Tab")
    assert page.field == "How many"
    page.enter("4")
    assert stored(shop, whole).quantity == 5
    assert "lot 4 12AX7" in page.rows


def test_tags_a_tube_from_a_lot(page: ShelfDriver, shop: Shop, bench: Bench) -> None:
    whole = lot(shop, 9)
    page.page.load()
    page.take(whole).press("T").enter("2")
    assert page.said == ["Tagged 12AX7 0003 to 0004"]
    assert stored(shop, whole).quantity == 7
    assert page.in_hand == next(r.id for r in page.page.list.model.rows if r.tag == "0003")
    page.take(bench.spares["6BQ5"]).press("T")
    assert page.notice.startswith("Only a lot on the shelf is tagged")


def test_counts_a_lot_without_copying_what_is_believed(page: ShelfDriver, shop: Shop) -> None:
    whole = lot(shop, 9)
    page.page.load()
    page.take(whole).press("C").enter()
    assert page.complaint == "Type a number."
    page.enter("7")
    assert stored(shop, whole).quantity == 7
    assert "lot 7 12AX7" in page.rows


def test_scraps_with_a_reason_and_only_with_one(page: ShelfDriver, bench: Bench) -> None:
    page.take(bench.spares["6BQ5"]).press("X").enter()
    assert page.complaint == "Say why it is scrapped, such as short or open heater."
    page.enter("cracked")
    assert page.rows == ["0001 12AX7"]
    page.take_back()
    assert page.rows == ["0001 12AX7", "0002 6BQ5"]


def test_sells_some_of_a_lot(page: ShelfDriver, shop: Shop) -> None:
    whole = lot(shop, 9)
    page.page.load()
    page.take(whole).press("S").enter("2")
    assert page.said == ["Sold 2 of the lot of 9 12AX7"]
    page.take(whole).press("S").enter("70")
    assert "There are only 7" in page.pane


def test_promises_to_the_socket_that_wants_it_and_not_twice(
    page: ShelfDriver, shop: Shop, bench: Bench
) -> None:
    here = bench.spares["6BQ5"]
    page.take(here).press("P")
    choice = page.page.pane.about["promise"].where
    assert [choice.itemText(i) for i in range(choice.count())] == [
        "Job 1, V3 output",
        "Job 1, V4 output",
        "Job 1 as a whole",
    ]
    page.enter()
    assert page.cells(here)["Promised"] == "promised to job 1, V3"
    assert page.title == "Shelf 2 tubes · 2 types · 1 promised"
    page.press("P").enter()
    assert page.complaint == "6BQ5 0002 is promised to job 1: release it there first."
    assert len(kept_for(shop, item_id=here)) == 1


def test_releases_what_is_kept(page: ShelfDriver, shop: Shop, bench: Bench, qtbot: QtBot) -> None:
    here = bench.spares["6BQ5"]
    page.bridge.publish(promise(shop, item_id=here, job_id=bench.job_id)[1])
    page.take(here).press("P")
    assert "Kept for job 1" in page.pane
    page.press("Shift+Tab").press("Space")
    assert kept_for(shop, item_id=here) == ()
    assert page.said[-1] == "6BQ5 0002 is free again"


def test_installs_in_a_socket_of_an_open_job(page: ShelfDriver, bench: Bench) -> None:
    here = bench.spares["6BQ5"]
    page.take(here).press("I", "Down").enter()
    fitted = bench.socket("V4").fitted
    assert fitted is not None
    assert fitted.item_id == here
    assert page.rows == ["0001 12AX7"]
    page.take_back()
    assert page.rows == ["0001 12AX7", "0002 6BQ5"]


def test_a_type_that_no_job_wants_is_not_installed(page: ShelfDriver, shop: Shop) -> None:
    here = tube(shop, "0A2")
    page.page.load()
    page.take(here).press("I").enter()
    assert page.complaint.startswith("No open job has a socket for this type")


def test_reads_line_by_line_and_asks_about_a_slip(page: ShelfDriver, shop: Shop) -> None:
    here = tube(shop)
    page.page.load()
    page.take(here).press("R").type("abc").enter()
    assert page.complaint.startswith("“abc” is not a number")
    page.enter("1520")
    assert page.field == "Section 2"
    page.enter("16000")
    assert "16,000 is off the scale" in page.complaint
    assert stored(shop, here).reads == "1,520"
    page.type("9800").press("Return")
    assert "more than twice the bogey" in page.complaint
    page.press("Return")
    assert stored(shop, here).reads == "1,520 · 9,800"
    assert page.page.pane.form is None
    assert page.cells(here)["Last reading"] == "1,520 · 9,800"


def test_a_line_that_nobody_wrote_down_comes_with_its_first_reading(page: ShelfDriver, shop: Shop) -> None:
    here = tube(shop, "12AU7")
    page.page.load()
    page.take(here).press("R").enter("2100").enter("2050")
    assert stored(shop, here).reads == "2,100 · 2,050"
    assert len(setting_lines(shop, type_id=shop.book.id_of("12AU7"))) == 2


def test_notes_a_fault_beside_the_readings(page: ShelfDriver, bench: Bench) -> None:
    here = bench.spares["6BQ5"]
    page.take(here).press("R").tab()
    assert page.field == "Seen besides"
    page.type("short").press("Return")
    assert page.cells(here)["Verdict"] == "Short"
    assert "short" in page.pane


def test_a_lot_is_not_read(page: ShelfDriver, shop: Shop) -> None:
    whole = lot(shop, 3)
    page.page.load()
    page.take(whole).press("R")
    assert page.notice.startswith("Tag a tube of this lot first")


def test_edits_a_card_and_keeps_what_was_not_touched(page: ShelfDriver, shop: Shop, bench: Bench) -> None:
    here = bench.spares["12AX7"]
    form = page.page.pane.edit
    page.take(here).press("E")
    assert form.condition.currentData() == Condition.NOS
    form.price.setFocus()
    page.enter("24,50")
    assert stored(shop, here).price == 2450
    assert stored(shop, here).condition == Condition.NOS
    assert page.cells(here)["Price"] == "24.50"


def test_an_edit_of_something_changed_meanwhile_is_refused_and_kept(
    page: ShelfDriver, shop: Shop, bench: Bench
) -> None:
    here = bench.spares["12AX7"]
    page.take(here).press("E")
    changes = edit_item(shop, item_id=here, expected_version=stored(shop, here).version, note="hum")[1]
    page.bridge.publish(changes)
    page.page.pane.edit.brand.setFocus()
    page.enter("Larkmere")
    assert page.page.pane.edit.trouble.text()
    assert page.page.pane.edit.brand.text() == "Larkmere"
    assert stored(shop, here).note == "hum"


def test_makes_a_set_of_the_chosen_tubes(page: ShelfDriver, shop: Shop, bench: Bench) -> None:
    second = tube(shop)
    page.page.load()
    page.take(bench.spares["12AX7"]).press("K")
    page.enter()
    assert "Choose at least two tubes" in page.pane
    page.press("Esc")
    page.take(bench.spares["12AX7"]).press("Shift+Down", "K").enter()
    assert stored(shop, second).matched_set == stored(shop, bench.spares["12AX7"]).matched_set == 1
    assert page.cells(second)["Tag"] == "0003, set 1"


def test_says_how_many_are_wanted_on_hand(page: ShelfDriver, bench: Bench) -> None:
    page.take(bench.spares["6BQ5"]).press("A").enter("6")
    assert dict(page.page.pane.type_part.facts.shown)["par"] == "6"
    page.press("A").type("-1").enter()
    assert page.complaint == "Type how many are wanted on hand: 0 or more, or nothing."


def test_a_form_stays_about_its_tube_while_others_are_looked_at(page: ShelfDriver, bench: Bench) -> None:
    page.take(bench.spares["6BQ5"]).press("M").type("G1")
    page.take(bench.spares["12AX7"])
    assert "Move 6BQ5 0002" in page.pane
    page.page.pane.about["move"].bin.setFocus()
    page.enter()
    assert page.cells(bench.spares["6BQ5"])["Bin"] == "G1"
    assert page.cells(bench.spares["12AX7"])["Bin"] == "C2"
