"""Reading again: repeats, their mean, when a line is settled; other testers and their scales."""

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget

from tests.ui.drivers.bench import Bench, BenchDriver
from tubeshelf.services.testers import save_tester


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


def test_the_mean_of_whole_readings_is_shown_whole(at_bench: BenchDriver) -> None:
    at_bench.press("+").type("1041").press("+").type("1072").press("+").enter("1059")
    at_bench.enter("1390")
    assert at_bench.cell("V1", "Reading, µmho").text == "1,057 · 1,390"


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
