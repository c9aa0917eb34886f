"""Reading again: repeats, their mean, when a line is settled; other testers and their scales."""

from PySide6.QtCore import Qt

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


def test_after_each_repeat_the_line_says_whether_it_is_settled(at_bench: BenchDriver) -> None:
    for _ in range(2):
        at_bench.enter()
    # Tester B repeats to 3 %: 1.645 · 0.03 · 6,900 = 340.5, over √2 = 240.8; of three at 6,700: 190.9
    at_bench.press("+").type("6900").press("+")
    assert at_bench.asked == "6,900 ± 340: read again"
    at_bench.type("6700").press("+")
    assert at_bench.asked == "6,800 ± 240 of two: read again"
    assert at_bench.said[-1] == "Saved 6,700 at V3, job 1: 6,800 ± 240 of two: read again"
    assert "spread of the repeats 2.9 %" in at_bench.detail
    at_bench.type("6500").press("+")
    assert at_bench.asked == "6,700 ± 190 of three: weak"
    at_bench.type("6")
    assert at_bench.asked == "", "gone with the next figure"


def test_what_three_readings_do_not_settle_is_left_to_the_technician(at_bench: BenchDriver) -> None:
    for _ in range(2):
        at_bench.enter()
    at_bench.press("+")
    for _ in range(3):
        at_bench.type("6990").press("+")
    assert at_bench.asked == "6,990 ± 200 of three: weak, too close to call: you decide"
    assert at_bench.row("V3")[4].startswith("weak, transconductance, too close to call")


def test_another_tester_reads_one_socket_alone(at_bench: BenchDriver, bench: Bench) -> None:
    fields = {"name": "Tester E", "method": "emission", "unit": "%", "good_from": "60", "reject_below": "40"}
    _, changes = save_tester(bench.shop, fields=fields)
    at_bench.page.reload(changes)
    at_bench.press("+").press("Ctrl+Shift+T")
    assert at_bench.at == "V1, reading section 1 on Tester E"
    assert at_bench.row("V1")[0] == "V1, input, on Tester E"
    at_bench.enter("80").enter("75")
    assert at_bench.at == "V2, what stands in it"
    assert at_bench.row("V1")[3:5] == ["80 · 75", "good, emission"]
    at_bench.press("+")
    assert at_bench.at == "V2, reading section 1", "the rest of the job is read on its own tester"
    at_bench.enter("1540")
    assert [r.tester for line in bench.socket("V2").lines for r in line.readings] == ["Tester B"]
    assert {line.tester.name for line in bench.socket("V1").other_lines} == {"Tester E"}
    at_bench.press(Qt.Key.Key_Up, "Ctrl+Shift+T")
    assert at_bench.at == "V1, reading section 1", "the tester of the job comes round again"


def test_a_socket_read_on_another_tester_stays_on_it_when_the_job_comes_back(
    at_bench: BenchDriver, bench: Bench
) -> None:
    fields = {"name": "Tester E", "method": "emission", "unit": "%", "good_from": "60", "reject_below": "40"}
    _, changes = save_tester(bench.shop, fields=fields)
    at_bench.page.reload(changes)
    at_bench.read_pair("1540", "1500").read_pair("1520", "1510")
    at_bench.press("+").press("Ctrl+Shift+T").enter("80")
    at_bench.rest()
    at_bench.page.leave_job()
    at_bench.page.open_job(bench.job_id)
    job = at_bench.page.desk.job
    assert job is not None
    assert job.tester is not None
    assert job.tester.name == "Tester B", "one socket alone does not take the job along"
    assert [at_bench.row(position)[0] for position in ("V1", "V3")] == [
        "V1, input",
        "V3, output, match group A, on Tester E",
    ]
    at_bench.page.go_to("V3")
    assert at_bench.at.startswith("V3, reading on Tester E")
    at_bench.press("Ctrl+Shift+T")
    assert at_bench.at == "V3, reading gm", "on that of the job"


def test_with_one_tester_there_is_no_other_to_choose(at_bench: BenchDriver) -> None:
    at_bench.press("+").press("Ctrl+Shift+T")
    assert at_bench.at == "V1, reading section 1"
