from collections.abc import Callable

import pytest
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from tests.ui.drivers.bench import Bench
from tests.ui.drivers.shelf import ShelfDriver, lot, set_up, tube
from tubeshelf.domain.palette import Palette
from tubeshelf.services.changes import Kind
from tubeshelf.services.shelf_moves import move, scrap
from tubeshelf.services.shop import Shop, open_shop
from tubeshelf.services.spares import promise
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
def drive(qtbot: QtBot, shop: Shop, shown: Show) -> Callable[..., ShelfDriver]:
    return lambda *size: ShelfDriver(qtbot, shop, shown, *([size] if size else []))


def test_an_empty_shelf_says_what_belongs_there(qtbot: QtBot, file_record: Record, shown: Show) -> None:
    page = ShelfDriver(qtbot, open_shop(file_record), shown)
    assert "Nothing is on the shelf yet" in page.left
    page.page.list.empty.act.click()
    assert page.field == "Type"
    page.type("12AX7").tab(3).enter("C2")
    assert page.rows == ["0001 12AX7"]


def test_the_title_counts_the_whole_shelf(drive: Callable[[], ShelfDriver], shop: Shop, bench: Bench) -> None:
    lot(shop, 9)
    promise(shop, item_id=bench.spares["12AX7"], job_id=bench.job_id)
    assert drive().title == "Shelf 11 tubes · 2 types · 1 promised"


def test_search_narrows_and_shows_what_it_understood(drive: Callable[[], ShelfDriver], shop: Shop) -> None:
    tube(shop, bin="D7")
    page = drive().find("ecc83 d7")
    assert page.rows == ["0003 12AX7"]
    assert page.page.found.text() == "1 found"
    chips = [chip.accessibleName() for chip in page.page.chips.findChildren(QWidget) if chip.isVisible()]
    assert chips == ["Drop type 12AX7", "Drop “d7”"]
    page.page.chips.dropped.emit(1)
    assert page.rows == ["0001 12AX7", "0003 12AX7"]
    page.find("no such words")
    assert page.rows == []
    assert "Nothing on the shelf has all the words" in page.left
    page.press("Esc")
    assert len(page.rows) == 3


def test_a_figure_typed_on_the_list_begins_the_search_for_a_tag(
    drive: Callable[[], ShelfDriver], qtbot: QtBot
) -> None:
    page = drive()
    page.press("0")
    qtbot.keyClicks(page.page.search, "002")
    page.press("Return")
    assert page.rows == ["0002 6BQ5"]


def test_a_long_shelf_shows_its_beginning_and_the_rest_on_demand(
    drive: Callable[[], ShelfDriver], shop: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("tubeshelf.ui.pages.shelf.SHOWN", 2)
    last = tube(shop, "6V6GT")
    page = drive()
    page.find("")
    assert page.rows == ["0001 12AX7", "0002 6BQ5"]
    assert "of 3 shown, narrow the search" in page.left
    page.page.show_thing(Kind.ITEM, last)
    assert page.in_hand == last
    assert "shown, narrow" not in page.left


def test_a_thing_is_shown_even_where_the_search_leaves_it_out(
    drive: Callable[[], ShelfDriver], shop: Shop, bench: Bench
) -> None:
    page = drive().find("6BQ5")
    page.page.show_thing(Kind.ITEM, bench.spares["12AX7"])
    assert (page.in_hand, page.page.search.text()) == (bench.spares["12AX7"], "")
    page.page.show_thing(Kind.TYPE, shop.book.id_of("6BQ5") or 0)
    assert page.rows == ["0002 6BQ5"]


def test_a_tube_that_left_the_shelf_is_found_by_its_tag(
    drive: Callable[[], ShelfDriver], shop: Shop, bench: Bench
) -> None:
    gone = bench.spares["6BQ5"]
    scrap(shop, item_id=gone, reason="cracked")
    page = drive()
    assert page.rows == ["0001 12AX7"]
    page.page.show_thing(Kind.ITEM, gone)
    assert page.in_hand == gone
    assert "scrapped: cracked" in page.pane
    page.page.list.table.setFocus()
    page.press("M")
    assert page.notice == "It is not on the shelf now, but scrap: look at its time line."


def test_the_detail_tells_the_type_apart_from_what_may_replace_it(
    drive: Callable[[], ShelfDriver], shop: Shop, bench: Bench
) -> None:
    tube(shop, "7025")
    lot(shop, 4)
    promise(shop, item_id=bench.spares["12AX7"], job_id=bench.job_id)
    page = drive().take(bench.spares["12AX7"])
    facts = dict(page.page.pane.type_part.facts.shown)
    assert facts == {"on hand": "5", "promised": "1", "free": "4", "par": "–"}
    assert "Apart from these, 1 free that may replace it: 7025" in page.pane
    assert "also ECC83" in page.pane


def test_the_detail_draws_what_the_free_ones_read(drive: Callable[[], ShelfDriver], bench: Bench) -> None:
    page = drive().take(bench.spares["6BQ5"])
    view = page.page.pane.type_part.histogram.view
    assert (view.values, view.in_hand) == ((9000.0,), (9000.0,))
    assert (view.scale.reject_below, view.scale.good_from, view.scale.bogey) == (5600, 7000, 11300)
    assert "Readings of the free ones, Tester B, µmho" in page.pane


def test_what_to_mind_with_a_type_is_said(drive: Callable[[], ShelfDriver], shop: Shop) -> None:
    here = tube(shop, "OA2")
    assert "Possible trace of radioactive material: keep it boxed" in drive().take(here).pane


def test_a_row_says_what_it_read_and_for_whom_it_is_kept(
    drive: Callable[[], ShelfDriver], bench: Bench
) -> None:
    v3 = bench.socket("V3").id
    promise(bench.shop, item_id=bench.spares["6BQ5"], socket_id=v3)
    cells = drive().cells(bench.spares["6BQ5"])
    assert cells["Last reading"] == "9,000"
    assert cells["Verdict"].startswith("Good")
    assert cells["Promised"] == "promised to job 1, V3"


def test_another_bench_moves_a_tube_and_the_page_follows(
    drive: Callable[[], ShelfDriver], shop: Shop, bench: Bench
) -> None:
    page = drive().take(bench.spares["6BQ5"])
    page.bridge.publish(move(shop, item_id=bench.spares["6BQ5"], bin="E1")[1])
    assert page.cells(bench.spares["6BQ5"])["Bin"] == "E1"
    assert "moved C2 → E1" in page.pane
    assert page.in_hand == bench.spares["6BQ5"]


def test_letters_are_letters_outside_the_list(drive: Callable[[], ShelfDriver], bench: Bench) -> None:
    page = drive().take(bench.spares["12AX7"])
    page.find("m")
    assert page.page.pane.form is None
    assert page.page.search.text() == "m"


def test_nothing_is_cut_in_a_small_window(
    drive: Callable[..., ShelfDriver], bench: Bench, palette: Palette
) -> None:
    page = drive(1024, 560)
    assert page.page.pane.isHidden()
    page.take(bench.spares["12AX7"]).press("Return")
    assert page.page.pane.isVisible()
    page.press("E")
    assert "Edit 12AX7 0001" in page.pane
    inside = page.page.pane.edit
    assert inside.width() >= inside.minimumSizeHint().width()
    page.press("Esc")
    assert page.page.list.isVisible()


def test_keys_are_those_that_work(drive: Callable[[], ShelfDriver], shop: Shop, bench: Bench) -> None:
    here = lot(shop, 3)
    page = drive().take(here)
    assert page.keys["T"] == "tag from lot"
    page.take(bench.spares["12AX7"])
    assert page.keys["R"] == "read"
    assert "T" not in page.keys
    page.press("M")
    assert page.keys["Esc"] == "back to the list"
