"""The bench page by keyboard alone: what the table and the detail show, and what the record holds."""

import shutil
from collections.abc import Callable, Iterator
from contextlib import closing
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QApplication, QWidget
from pytestqt.qtbot import QtBot

from tests.records import FixedClock
from tests.ui.drivers.bench import Bench, BenchDriver, set_up
from tubeshelf.bootstrap import open_record
from tubeshelf.domain.fitting import Outcome
from tubeshelf.domain.jobs import Action, Answer, FoundState, JobStatus
from tubeshelf.domain.judging import Mark, Stage
from tubeshelf.services.changes import Kind
from tubeshelf.services.decide import set_status
from tubeshelf.services.finding import found_as_intended
from tubeshelf.services.intake import new_job
from tubeshelf.services.shelf_detail import item_detail
from tubeshelf.services.shelf_moves import receive
from tubeshelf.services.shop import open_shop
from tubeshelf.services.testers import retire_tester, save_tester
from tubeshelf.ui.place import Place

Show = Callable[..., QWidget]


@pytest.fixture(scope="module")
def furnished(empty_file: Path, tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Bench]:
    """A record with the job in it, made once and copied for each test."""
    path = tmp_path_factory.mktemp("bench") / "furnished.tubeshelf"
    shutil.copyfile(empty_file, path)
    with closing(open_record(str(path), clock=FixedClock())) as record:
        return path, set_up(record)


@pytest.fixture
def bench(furnished: tuple[Path, Bench], tmp_path: Path, clock: FixedClock) -> Iterator[Bench]:
    path = tmp_path / "shop.tubeshelf"
    shutil.copyfile(furnished[0], path)
    with closing(open_record(str(path), clock=clock)) as record:
        yield replace(furnished[1], shop=open_shop(record))


@pytest.fixture
def at_bench(bench: Bench, qtbot: QtBot, shown: Show) -> BenchDriver:
    return BenchDriver(qtbot, bench, shown)


def test_five_tubes_as_intended_and_good(at_bench: BenchDriver, bench: Bench) -> None:
    assert at_bench.at == "V1, what stands in it"
    for values in (("1540", "1510"), ("1490", "1500"), ("9200",), ("9400",), ("", "")):
        at_bench.read_pair(*values)
    assert at_bench.row("V1")[2:5] == ["12AX7", "1,540 · 1,510", "good, transconductance"]
    assert at_bench.row("V4")[4:7] == [
        "good, transconductance",
        "right type: the designed type",
        "keep, proposed",
    ]
    job = bench.job()
    assert [s.found.designation for s in job.sockets] == ["12AX7", "12AX7", "6BQ5", "6BQ5", "5Y3GT"]
    assert [[r.value for line in s.lines for r in line.readings] for s in job.sockets] == [
        [1540, 1510],
        [1490, 1500],
        [9200],
        [9400],
        [],
    ]
    assert at_bench.asked.startswith("That was the last socket")


def test_enter_goes_on_and_never_assumes_what_was_found(at_bench: BenchDriver, bench: Bench) -> None:
    at_bench.enter()
    assert at_bench.at == "V2, what stands in it"
    assert at_bench.row("V1")[2] == "not looked yet"
    assert bench.socket("V1").found.state is FoundState.NOT_LOOKED


def test_a_reading_before_anything_was_said_of_the_socket_is_no_type(
    at_bench: BenchDriver, bench: Bench
) -> None:
    at_bench.enter("1540")
    assert at_bench.asked == "1540 is no type. First say what is in V1: + as intended, or its mark."
    assert at_bench.field == "1540"
    assert bench.socket("V1").found.state is FoundState.NOT_LOOKED


def test_a_wrong_type_typed_by_letters(at_bench: BenchDriver, bench: Bench) -> None:
    at_bench.enter("12au7")
    assert at_bench.at.startswith("V1, reading")
    assert at_bench.row("V1")[2] == "12AU7"
    assert at_bench.row("V1")[5].startswith("wrong type: ")
    assert at_bench.row("V1")[6].startswith("replace, proposed")
    fit = bench.socket("V1").fit
    assert fit is not None
    assert fit.outcome is Outcome.WRONG_TYPE
    assert any(reason.text in at_bench.detail for reason in fit.reasons)


def test_a_letter_in_a_reading_starts_a_found_type(at_bench: BenchDriver, bench: Bench) -> None:
    at_bench.press("+").type("ECC83")
    assert at_bench.at == "V1, what stands in it"
    at_bench.enter()
    assert bench.socket("V1").found.marked == "ECC83"
    assert at_bench.row("V1")[5] == "right type: ECC83 is another name of 12AX7."


def test_a_type_that_begins_with_figures_is_asked_about_in_a_reading(
    at_bench: BenchDriver, bench: Bench
) -> None:
    at_bench.press("+").enter("12AU7")
    assert at_bench.asked.startswith("12AU7 is a type, not a reading. Is it what stands in V1?")
    at_bench.enter()
    assert bench.socket("V1").found.marked == "12AU7"


def test_the_names_on_offer_are_picked_with_the_arrow(at_bench: BenchDriver, bench: Bench) -> None:
    at_bench.type("12au")
    assert at_bench.page.table.names.names[:2] == ("12AU6", "12AU7")
    at_bench.press(Qt.Key.Key_Down, Qt.Key.Key_Down).enter()
    assert bench.socket("V1").found.marked == "12AU7"


def test_a_name_that_the_table_does_not_know_is_kept_once_confirmed(
    at_bench: BenchDriver, bench: Bench
) -> None:
    at_bench.enter("12QX7")
    assert "12QX7 is not in the type table" in at_bench.asked
    assert bench.socket("V1").found.state is FoundState.NOT_LOOKED
    at_bench.enter()
    assert bench.socket("V1").found.marked == "12QX7"
    assert at_bench.row("V1")[5].startswith("unknown")


def test_a_type_name_of_figures_alone_is_asked_about(at_bench: BenchDriver, bench: Bench) -> None:
    at_bench.enter("6550")
    assert at_bench.asked.startswith("6550 is a type. Was it in V1?")
    at_bench.escape()
    assert (at_bench.field, at_bench.asked) == ("", "")
    assert bench.socket("V1").found.state is FoundState.NOT_LOOKED


def test_a_short_is_marked_by_digits_and_a_reading_after_it_is_asked_about(
    at_bench: BenchDriver, bench: Bench
) -> None:
    at_bench.press("+", "*").type("1").type("2-3").enter()
    (_, _, short) = bench.socket("V1").observations[0]
    assert (short.mark, short.pins, short.is_fault) == (Mark.SHORT, "2-3", True)
    assert at_bench.row("V1")[4] == "short, pins 2–3"
    assert at_bench.warning.startswith("Do not power. V1: short, pins 2–3")
    at_bench.enter("1500")
    assert at_bench.asked.startswith("V1 is marked short")
    assert not bench.socket("V1").lines[0].readings
    at_bench.enter()
    assert [r.value for r in bench.socket("V1").lines[0].readings] == [1500]


def test_leakage_has_a_value_and_a_place_and_need_not_be_a_fault(at_bench: BenchDriver, bench: Bench) -> None:
    at_bench.press("+", "*").type("2").enter("8").type("*heater-cathode").enter()
    (_, _, seen) = bench.socket("V1").observations[0]
    assert (seen.mark, seen.value, seen.unit, seen.pins) == (Mark.LEAKAGE, 8, "MΩ", "heater-cathode")
    assert not seen.is_fault
    assert at_bench.row("V1")[4] == "not read"


def test_a_value_of_a_mark_that_is_no_number_is_refused_beside_it(
    at_bench: BenchDriver, bench: Bench
) -> None:
    at_bench.press("+", "*").type("2").enter("much").enter()
    assert "“much” is not a number" in at_bench.detail
    assert not bench.socket("V1").observations


def test_an_empty_socket(at_bench: BenchDriver, bench: Bench) -> None:
    at_bench.press("*").type("0")
    assert bench.socket("V1").found.state is FoundState.EMPTY
    assert at_bench.row("V1")[2:5] == ["empty", "–", "–"]
    assert at_bench.row("V1")[6].startswith("replace, proposed")
    assert at_bench.page.table.field.hasFocus()


def test_a_slip_is_asked_about_in_the_line_and_confirmed_by_enter(
    at_bench: BenchDriver, bench: Bench
) -> None:
    at_bench.press("+").enter("15400")
    assert at_bench.asked == "15,400 is off the scale, which ends at 15,000: keep it? Enter: yes. Esc: no."
    assert at_bench.field == "15400"
    assert not bench.socket("V1").lines[0].readings
    at_bench.enter()
    assert [r.value for r in bench.socket("V1").lines[0].readings] == [15400]
    assert at_bench.at == "V1, reading section 2"


def test_a_slip_is_cleared_by_escape_or_by_typing_on(at_bench: BenchDriver, bench: Bench) -> None:
    at_bench.press("+").enter("15400").escape()
    assert (at_bench.field, at_bench.asked) == ("", "")
    at_bench.enter("15400").press(Qt.Key.Key_Backspace)
    assert (at_bench.field, at_bench.asked) == ("1540", "")
    at_bench.enter()
    assert [r.value for r in bench.socket("V1").lines[0].readings] == [1540]


def test_text_in_a_reading_gives_a_sentence_and_stays(at_bench: BenchDriver, bench: Bench) -> None:
    at_bench.press("+").enter("15q0")
    assert at_bench.asked == "“15q0” is not a number: type figures, such as 62 or 0.35."
    assert at_bench.field == "15q0"
    assert not bench.socket("V1").lines[0].readings


def test_take_back_undoes_the_last_entry_and_goes_there(at_bench: BenchDriver, bench: Bench) -> None:
    at_bench.press("+").enter("1540").enter("1510")
    assert at_bench.at == "V2, what stands in it"
    at_bench.press("/")
    assert at_bench.at == "V1, reading section 2"
    assert [len(line.readings) for line in bench.socket("V1").lines] == [1, 0]
    at_bench.press("Ctrl+Z").press("Ctrl+Z")
    assert at_bench.at == "V1, what stands in it"
    assert bench.socket("V1").found.state is FoundState.NOT_LOOKED


def test_the_first_slash_clears_what_is_typed(at_bench: BenchDriver, bench: Bench) -> None:
    at_bench.press("+").type("15").press("/")
    assert at_bench.field == ""
    assert bench.socket("V1").found.state is FoundState.TYPE


def test_slash_and_dash_belong_to_names(at_bench: BenchDriver) -> None:
    at_bench.type("6v6gt/g")
    assert at_bench.field == "6v6gt/g"


def test_plus_reads_the_last_line_again(at_bench: BenchDriver, bench: Bench) -> None:
    for _ in range(2):
        at_bench.enter()
    at_bench.press("+").enter("6900")
    assert at_bench.row("V3")[4].startswith("weak, transconductance, read again")
    at_bench.press("-")
    assert at_bench.at == "V3, reading gm"
    at_bench.type("7100").press("+")
    assert at_bench.at == "V3, reading gm"
    assert [r.value for r in bench.socket("V3").lines[0].readings] == [6900, 7100]


def test_a_verdict_too_close_to_call_does_not_look_good(at_bench: BenchDriver, bench: Bench) -> None:
    for _ in range(2):
        at_bench.enter()
    at_bench.press("+").enter("7010")
    cell = at_bench.cell("V3", "Verdict")
    assert (cell.text, cell.mark, cell.tone) == ("Read again", "tube-again", "again")
    at_bench.press("-")
    for _ in range(2):
        at_bench.type("7010").press("+")
    assert len(bench.socket("V3").lines[0].readings) == 3
    cell = at_bench.cell("V3", "Verdict")
    assert (cell.text, cell.mark, cell.tone) == ("Too close to call", "tube-again", "again")
    assert cell.sub.startswith("good, 7,010 ±")


def test_moving_away_does_not_lose_what_is_typed(at_bench: BenchDriver) -> None:
    at_bench.press("+").type("15").press(Qt.Key.Key_Down)
    assert at_bench.field == "15"
    assert at_bench.at == "V1, reading section 1"
    assert at_bench.asked == "Enter saves 15, Esc clears it."


def test_back_goes_field_by_field(at_bench: BenchDriver) -> None:
    at_bench.press("+").enter("1540").enter("1510").press("-", "-")
    assert at_bench.at == "V1, reading section 1"
    at_bench.press("-")
    assert at_bench.at == "V1, what stands in it"


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


def test_harm_is_said_on_top_and_show_why_leads_there(at_bench: BenchDriver) -> None:
    for _ in range(4):
        at_bench.enter()
    at_bench.enter("5U4GB").press(Qt.Key.Key_Up, Qt.Key.Key_Up)
    assert at_bench.warning.startswith("Do not power. V5: a 5U4GB takes 3 A")
    assert at_bench.row("V5")[5].startswith("harmful")
    at_bench.page.frame.banner.asked.emit()
    assert at_bench.at.startswith("V5, reading")
    QApplication.processEvents()
    assert "first power the set with the current limited" in at_bench.detail


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


def test_the_needle_moves_while_a_reading_is_typed(at_bench: BenchDriver) -> None:
    at_bench.press("+").type("900")
    assert at_bench.page.detail.dial.scale.value == 900
    assert at_bench.page.detail.dial.scale.good_from == 1000


def test_a_reading_repaints_only_the_rows_it_touches(at_bench: BenchDriver) -> None:
    at_bench.press("+")
    touched: list[int] = []
    model = at_bench.page.table.rows
    model.modelReset.connect(lambda: pytest.fail("the whole table was built anew"))
    model.dataChanged.connect(lambda first, last: touched.extend(range(first.row(), last.row() + 1)))
    at_bench.enter("1540")
    assert set(touched) == {0}


def test_an_act_of_another_page_is_shown(at_bench: BenchDriver, bench: Bench) -> None:
    _, changes = found_as_intended(bench.shop, socket_id=bench.socket("V2").id, origin="jobs")
    at_bench.page.reload(changes)
    assert at_bench.row("V2")[2] == "12AX7"


def test_paper_and_picture_are_asked_for(at_bench: BenchDriver, bench: Bench, qtbot: QtBot) -> None:
    at_bench.page.print_out()
    at_bench.press("Ctrl+R")
    qtbot.waitUntil(lambda: bool(at_bench.pictured))
    assert (at_bench.printed, at_bench.pictured) == ([bench.job_id], [bench.job_id])


def test_every_act_is_told_to_the_window(at_bench: BenchDriver) -> None:
    at_bench.press("+").enter("1540")
    assert at_bench.said == ["V1 of job 1: found 12AX7", "Saved 1,540 at V1, job 1"]


def test_without_a_job_the_open_ones_are_offered(bench: Bench, qtbot: QtBot, shown: Show) -> None:
    at_bench = BenchDriver(qtbot, bench, shown, job=False)
    at_bench.press(Qt.Key.Key_Return)
    assert at_bench.at == "V1, what stands in it"
    assert at_bench.remembered == [bench.job_id]


def test_without_any_job_a_new_one_is_offered(bench: Bench, qtbot: QtBot, shown: Show) -> None:
    set_status(bench.shop, job_id=bench.job_id, status=JobStatus.HANDED_BACK)
    at_bench = BenchDriver(qtbot, bench, shown, job=False)
    wanted: list[object] = []
    at_bench.page.go.connect(wanted.append)
    at_bench.press("Ctrl+N")
    qtbot.waitUntil(lambda: bool(wanted))
    assert [getattr(place, "page", None) for place in wanted] == ["jobs"]


def test_a_last_job_of_another_record_is_forgotten(bench: Bench, qtbot: QtBot, shown: Show) -> None:
    at_bench = BenchDriver(qtbot, replace(bench, job_id=999), shown)
    assert at_bench.page.picker.isVisible()
    assert at_bench.page.notice.text == ""


def test_two_tubes_in_each_others_places_are_said_as_one_swap(at_bench: BenchDriver) -> None:
    at_bench.enter("6BQ5").press(Qt.Key.Key_Down, Qt.Key.Key_Down)
    at_bench.enter("12AX7")
    assert at_bench.page.frame.hint.text() == (
        "V1 and V3 are swapped: the 6BQ5 belongs in V3, the 12AX7 in V1."
    )


def test_a_tester_of_words_takes_words_and_places(at_bench: BenchDriver, bench: Bench) -> None:
    fields = {
        "name": "Tester C",
        "method": "merit words",
        "words": "bad; doubtful; good",
        "good_from": "good",
    }
    _, changes = save_tester(bench.shop, fields=fields)
    at_bench.page.reload(changes)
    at_bench.press("Ctrl+T", "+").enter("good").enter("2")
    assert at_bench.row("V1")[3] == "good · doubtful"
    assert at_bench.row("V1")[2] == "12AX7"
    at_bench.press("-").enter("seven")
    assert at_bench.asked.startswith("This tester reads in words: 1 bad")


def test_what_a_place_held_before_is_told_at_the_next_visit(at_bench: BenchDriver, bench: Bench) -> None:
    at_bench.press("+").enter("1540").enter("1510")
    visit = {"customer": "Ada Larch", "maker": "Larkmere", "model": "A12 practice amplifier"}
    _, changes = new_job(bench.shop, **visit, serial="30417")
    at_bench.page.show_thing(Kind.JOB, next(i for kind, i in changes.things if kind is Kind.JOB))
    assert "Mar 2026 · 12AX7 · 1,540 · 1,510 · good · job 1" in at_bench.detail


def test_without_a_tester_the_page_says_what_to_do(bench: Bench, qtbot: QtBot, shown: Show) -> None:
    retire_tester(bench.shop, tester_id=bench.tester_id)
    at_bench = BenchDriver(qtbot, bench, shown)
    assert at_bench.page.frame.hint.text().startswith("No tester is set up yet")
    at_bench.press("+")
    assert at_bench.at == "V2, what stands in it"
    asked: list[Place] = []
    at_bench.page.go.connect(asked.append)
    at_bench.click("Add a tester")
    assert asked == [Place("testers")]


def test_a_job_without_sockets_says_where_they_come_from(bench: Bench, qtbot: QtBot, shown: Show) -> None:
    _, changes = new_job(bench.shop, customer="Ada Larch", title="a shoebox")
    at_bench = BenchDriver(qtbot, bench, shown)
    at_bench.page.show_thing(Kind.JOB, next(i for kind, i in changes.things if kind is Kind.JOB))
    assert "has no sockets yet" in at_bench.page.frame.hint.text()


@pytest.mark.parametrize(("width", "height"), [(1366, 690), (1024, 560)])
def test_nothing_is_cut(at_bench: BenchDriver, width: int, height: int) -> None:
    at_bench.page.setGeometry(0, 0, width, height)
    at_bench.press("+").enter("1540").enter("1510").enter("12AU7").enter("2050").enter("2010")
    at_bench.press("+").enter("6900").enter("EL84").press("*").type("1").type("2-3").enter()
    QApplication.processEvents()
    table = at_bench.page.table
    for column in range(table.model().columnCount()):
        room = table.columnWidth(column)
        assert table.sizeHintForColumn(column) <= room
        assert table.horizontalHeader().sectionSizeHint(column) <= room
    assert table.columnViewportPosition(6) + table.columnWidth(6) <= table.viewport().width()


def test_everything_to_press_has_a_name(at_bench: BenchDriver) -> None:
    at_bench.press("+").enter("1540").press("-", "*")
    QApplication.processEvents()
    unnamed = [
        widget
        for widget in at_bench.page.findChildren(QAbstractButton)
        if widget.isVisible() and not (widget.text() or widget.accessibleName())
    ]
    assert unnamed == []
    assert at_bench.page.table.field.accessibleName()


def _install_in_v3(at_bench: BenchDriver) -> None:
    at_bench.press(Qt.Key.Key_Down, Qt.Key.Key_Down).press("+").enter("5000").press(Qt.Key.Key_Up)
    at_bench.press("F9")


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


def test_a_reading_of_another_tester_shows_softly_where_there_is_none_here(
    at_bench: BenchDriver, bench: Bench
) -> None:
    at_bench.press("+").enter("1540").enter("1510")
    save_tester(
        bench.shop, fields={"name": "Tester E", "method": "emission", "unit": "%", "full_scale": "120"}
    )
    at_bench.page.load()
    at_bench.press("Ctrl+T")
    column = at_bench.page.table.rows.columns[3].title
    cell = at_bench.cell("V1", column)
    assert (cell.text, cell.sub, cell.tone, cell.big) == ("1,540 · 1,510", "Tester B", "soft", False)
    assert at_bench.at.startswith("V2"), "what was read elsewhere is not asked for first"
    at_bench.press(Qt.Key.Key_Up)
    assert at_bench.cell("V1", column).text == "", "the row in hand has its field"
    assert "Read on Tester B: 1,540 · 1,510" in at_bench.detail


def test_the_mean_of_whole_readings_is_shown_whole(at_bench: BenchDriver) -> None:
    at_bench.press("+").type("1041").press("+").type("1072").press("+").enter("1059")
    at_bench.enter("1390")
    assert at_bench.cell("V1", "Reading, µmho").text == "1,057 · 1,390"


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


def test_another_job_begins_at_its_top_row(bench: Bench, qtbot: QtBot, shown: Show) -> None:
    many = "".join(f"V{n} stage 12AX7\n" for n in range(1, 26))
    _, changes = new_job(bench.shop, customer="Ada Larch", title="a rack", complement=many)
    job_id = next(i for kind, i in changes.things if kind is Kind.JOB)
    at_bench = BenchDriver(qtbot, bench, shown)
    at_bench.page.open_job(job_id)
    at_bench.press(*[Qt.Key.Key_Down] * 24)
    assert at_bench.at == "V25, what stands in it"
    assert at_bench.page.table.viewport().rect().contains(at_bench.page.table.field.geometry())
    assert at_bench.page.table.verticalScrollBar().value() > 0
    at_bench.page.open_job(bench.job_id)
    at_bench.page.open_job(job_id)
    assert at_bench.at == "V1, what stands in it"
    assert at_bench.page.table.verticalScrollBar().value() == 0


def test_a_form_that_opens_and_closes_lays_out_the_detail_anew(at_bench: BenchDriver) -> None:
    at_bench.press("+").enter("1540").enter("1510")
    for key in ("F3", "F4", "F3"):
        at_bench.press(key)
        QTest.qWait(20)
        at_bench.escape()
        QTest.qWait(20)
    assert at_bench.at == "V2, what stands in it"
    assert not any(panel.isVisible() for panel in at_bench.page.detail.panels)


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
