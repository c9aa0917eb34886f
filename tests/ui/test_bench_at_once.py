"""A reading is on show at once; what follows from it comes behind, and ends where reading all afresh does."""

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from tests.ui.drivers.bench import Bench, BenchDriver
from tubeshelf.services.decide import set_labour
from tubeshelf.services.undo import take_back


def _key(driver: BenchDriver, key: Qt.Key) -> None:
    """Press a key, and let nothing that follows behind it happen yet."""
    QTest.keyClick(driver.page.table.field, key)


def test_the_verdict_is_there_before_the_job_is_read_again(at_bench: BenchDriver, bench: Bench) -> None:
    at_bench.page.go_to("V3")
    at_bench.press("+").type("9850")
    told = len(at_bench.said)
    _key(at_bench, Qt.Key.Key_Enter)
    assert at_bench.row("V3")[3:5] == ["9,850", "good, transconductance"]
    assert at_bench.at == "V4, what stands in it"
    assert len(bench.socket("V3").lines[0].readings) == 1
    assert len(at_bench.said) == told
    at_bench.rest()
    assert at_bench.said[told:] == ["Saved 9,850 at V3, job 1"]
    assert at_bench.page.desk.job == bench.job()


def test_a_quick_hand_ends_where_reading_afresh_does(at_bench: BenchDriver, bench: Bench) -> None:
    at_bench.page.go_to("V3")
    at_bench.press("+", Qt.Key.Key_Down, "+", Qt.Key.Key_Up)
    for text, key in (("9850", Qt.Key.Key_Plus), ("9700", Qt.Key.Key_Enter), ("3000", Qt.Key.Key_Enter)):
        at_bench.type(text)
        _key(at_bench, key)
    assert [len(bench.socket(p).lines[0].readings) for p in ("V3", "V4")] == [2, 1]
    at_bench.rest()
    assert at_bench.page.desk.job == bench.job()


def test_taking_back_waits_for_what_was_put_off(at_bench: BenchDriver, bench: Bench) -> None:
    at_bench.page.go_to("V3")
    at_bench.press("+").type("9850")
    _key(at_bench, Qt.Key.Key_Enter)
    _key(at_bench, Qt.Key.Key_Slash)
    at_bench.rest()
    assert at_bench.page.desk.job == bench.job()
    assert bench.socket("V3").lines[0].readings == ()
    assert at_bench.said[-2] == "Saved 9,850 at V3, job 1"
    assert at_bench.said[-1].startswith("Taken back: 9,850 at V3, job 1")


def test_the_spare_that_is_put_in_is_chosen_by_the_last_reading(at_bench: BenchDriver, bench: Bench) -> None:
    at_bench.page.go_to("V3")
    at_bench.press("+").type("3000")
    _key(at_bench, Qt.Key.Key_Plus)
    at_bench.press("F9")
    fitted = bench.socket("V3").fitted
    assert fitted is not None
    assert fitted.item_id == bench.spares["6BQ5"]


def test_what_another_bench_wrote_shows_behind_a_reading(at_bench: BenchDriver, bench: Bench) -> None:
    at_bench.page.go_to("V3")
    at_bench.press("+").type("9850")
    set_labour(bench.shop, job_id=bench.job_id, minor=4200)
    _key(at_bench, Qt.Key.Key_Enter)
    at_bench.rest()
    assert at_bench.page.desk.job is not None
    assert at_bench.page.desk.job.estimate.labour == 4200


def test_a_reading_struck_elsewhere_is_gone_behind_the_next(at_bench: BenchDriver, bench: Bench) -> None:
    at_bench.page.go_to("V3")
    at_bench.press("+").enter("9850").press(Qt.Key.Key_Up).type("9700")
    take_back(bench.shop)
    _key(at_bench, Qt.Key.Key_Enter)
    at_bench.rest()
    assert [r.value for r in bench.socket("V3").lines[0].readings] == [9700]
    assert at_bench.page.desk.job == bench.job()


def test_a_row_that_needs_no_more_room_leaves_the_columns_alone(at_bench: BenchDriver) -> None:
    at_bench.page.go_to("V3")
    at_bench.press("+").enter("9850")
    header = at_bench.page.table.horizontalHeader()
    before = [header.sectionSize(n) for n in range(header.count())]
    moved: list[int] = []
    header.sectionResized.connect(moved.append)
    at_bench.press(Qt.Key.Key_Up).type("9850")
    _key(at_bench, Qt.Key.Key_Plus)
    assert moved == []
    assert [header.sectionSize(n) for n in range(header.count())] == before
