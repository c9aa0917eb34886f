"""Deciding on the bench page: actions, answers, spares, old tubes, what may go into a socket."""

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from tests.ui.drivers.bench import Bench, BenchDriver
from tubeshelf.domain.jobs import Action, Answer
from tubeshelf.domain.judging import Stage
from tubeshelf.services.changes import Kind
from tubeshelf.services.intake import new_job
from tubeshelf.services.shelf_detail import item_detail
from tubeshelf.services.shelf_moves import receive

Show = Callable[..., QWidget]


def _install_in_v3(at_bench: BenchDriver) -> None:
    at_bench.press(Qt.Key.Key_Down, Qt.Key.Key_Down).press("+").enter("5000").press(Qt.Key.Key_Up)
    at_bench.press("F9")


def test_the_action_is_proposed_until_it_is_said(at_bench: BenchDriver, bench: Bench) -> None:
    at_bench.press("+").enter("1540").enter("1510").press(Qt.Key.Key_Up)
    assert at_bench.page.table.model().index(0, 6).data() == "keep?"
    at_bench.press("F6")
    assert at_bench.page.table.model().index(0, 6).data() == "Replace"
    assert bench.socket("V1").action is Action.REPLACE
    assert bench.socket("V1").action_said
    assert at_bench.foot.splitlines()[:2] == ["1", "to replace"]
    at_bench.press("Shift+F5")
    assert bench.socket("V1").answer is Answer.DECLINED
    assert at_bench.row("V1")[6] == "declined, by the customer"


def test_install_the_spare_named_in_the_line_and_read_it_as_left(at_bench: BenchDriver, bench: Bench) -> None:
    at_bench.press(Qt.Key.Key_Down, Qt.Key.Key_Down).press("+").enter("5000").press(Qt.Key.Key_Up)
    assert at_bench.row("V3")[4].startswith("reject")
    assert at_bench.row("V3")[6] == "replace, proposed, 0002 · C2 · 9,000"
    at_bench.press("F9")
    spare = item_detail(bench.shop, item_id=bench.spares["6BQ5"]).item
    assert (spare.place, spare.bin) != ("shelf", "C2")
    assert at_bench.row("V3")[6] == "installed, 0002 · 6BQ5"
    at_bench.press("Ctrl+L")
    assert at_bench.at == "V3, reading gm"
    assert at_bench.row("V3")[2] == "6BQ5, tag 0002, installed"
    at_bench.enter("9100")
    assert at_bench.row("V3")[3:5] == ["gm, 9,100", "good, transconductance"]
    assert at_bench.page.table.field.placeholderText() == "9,100"
    assert [r.value for r in bench.socket("V3", Stage.AS_LEFT).lines[0].readings] == [9100]


def test_promise_keeps_a_spare_and_again_lets_it_go(at_bench: BenchDriver, bench: Bench) -> None:
    at_bench.press("*").type("0").press(Qt.Key.Key_Up).press("Shift+F9")
    kept = bench.socket("V1").spare
    assert kept is not None
    assert kept.here
    at_bench.press("Shift+F9")
    released = bench.socket("V1").spare
    assert released is not None
    assert not released.here


def test_a_rebranded_tube_is_believed_to_be_another(at_bench: BenchDriver, bench: Bench) -> None:
    at_bench.press("+", "F3").type("").press("Ctrl+A").type("12AU7").press(Qt.Key.Key_Tab)
    at_bench.type("short plates").press(Qt.Key.Key_Return)
    found = bench.socket("V1").found
    assert (found.marked, found.designation, found.reason) == ("12AX7", "12AU7", "short plates")
    assert at_bench.row("V1")[2] == "12AX7, is a 12AU7"
    assert at_bench.page.table.field.hasFocus()


def test_a_socket_changed_on_purpose_wants_the_other_type(at_bench: BenchDriver, bench: Bench) -> None:
    at_bench.press("F4").type("12AT7").press(Qt.Key.Key_Return)
    assert bench.socket("V1").intended == "12AT7"
    assert at_bench.row("V1")[1] == "12AT7, built for 12AX7"


def test_what_may_go_into_a_socket_is_listed_with_what_is_on_the_shelf(at_bench: BenchDriver) -> None:
    at_bench.press("F10")
    said = at_bench.detail
    assert "What may go into V1, meant for 12AX7" in said
    assert "parallel heaters only" in said
    assert "1 free" in said
    at_bench.press("Escape")
    assert "What may go into V1" not in at_bench.detail
    assert at_bench.page.table.field.hasFocus()


def test_the_old_tube_lies_in_the_bag_and_is_given_back(at_bench: BenchDriver, bench: Bench) -> None:
    _install_in_v3(at_bench)
    assert "Old tube: in the bag of this job" in at_bench.detail
    at_bench.click("Give back")
    assert bench.socket("V3").found.place == "customer"
    assert "Old tube: back with the customer" in at_bench.detail
    assert not at_bench.offers("Give back")


def test_the_old_tube_goes_onto_the_shelf_into_a_bin_that_is_asked_for(
    at_bench: BenchDriver, bench: Bench
) -> None:
    _install_in_v3(at_bench)
    at_bench.click("Take onto the shelf…")
    assert "Only if the customer left it to you." in at_bench.detail
    at_bench.enter()
    assert bench.socket("V3").found.place == "bag", "no bin, no move"
    assert at_bench.page.detail.keep_form.isVisible()
    at_bench.enter("K7")
    found = bench.socket("V3").found
    assert found.item_id is not None
    kept = item_detail(bench.shop, item_id=found.item_id).item
    assert (kept.place, kept.bin) == ("shelf", "K7")
    assert "Old tube: on the shelf" in at_bench.detail
    assert at_bench.at.startswith("V3"), "the keyboard is back in the row"


def test_a_tube_to_be_replaced_is_pulled_before_another_is_there(at_bench: BenchDriver, bench: Bench) -> None:
    at_bench.press("+").enter("1540").enter("1510").press(Qt.Key.Key_Up)
    assert not at_bench.offers("Pull"), "a tube that stays is not asked about"
    at_bench.press("F6").click("Pull")
    assert bench.socket("V1").found.place == "bag"
    assert "Old tube: in the bag of this job" in at_bench.detail


def test_the_spare_that_f9_takes_is_the_one_in_the_line(at_bench: BenchDriver, bench: Bench) -> None:
    receive(bench.shop, type_name="12AX7", bin="A1", condition="used, tested")
    at_bench.page.load()
    at_bench.press("+").enter("1540").enter("1510").press("+").enter("1540").enter("1510")
    at_bench.press(Qt.Key.Key_Up, Qt.Key.Key_Up, "F6").press(Qt.Key.Key_Down).press("F6")
    named = {position: at_bench.row(position)[6].split(", ")[-1][:4] for position in ("V1", "V2")}
    assert len(set(named.values())) == 2, "each socket has a spare of its own"
    for key, position in ((Qt.Key.Key_Up, "V1"), (Qt.Key.Key_Down, "V2")):
        at_bench.press(key)
        at_bench.wait_for_spares(position)
        assert at_bench.spoken("Install F9").startswith(f"Install F9: {named[position]}")


def test_a_box_of_loose_tubes_offers_no_spare_to_put_in(bench: Bench, qtbot: QtBot, shown: Show) -> None:
    _, changes = new_job(bench.shop, customer="Ada Larch", title="a shoebox", complement="1 12AX7\n2 12AX7")
    at_bench = BenchDriver(qtbot, bench, shown)
    at_bench.page.open_job(next(i for kind, i in changes.things if kind is Kind.JOB))
    at_bench.press("+").enter("400").enter("1500").press(Qt.Key.Key_Up)
    QTest.qWait(100)
    assert at_bench.row("1")[6].startswith("replace, proposed")
    assert not at_bench.offers("Install F9")
    at_bench.press("F5")
    assert "Old tube" not in at_bench.detail
