"""As left: only what was installed is read; the rest counts as found, and the row and the foot say so."""

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from tests.ui.drivers.bench import Bench, BenchDriver
from tubeshelf.domain.judging import Stage
from tubeshelf.domain.set_fields import PROPOSED
from tubeshelf.services import set_fields, testers


def foot(driver: BenchDriver) -> str:
    """What stands at the foot as left."""
    QTest.qWait(80)  # what follows from a reading is shown a moment after it
    label = driver.page.frame.left
    assert label.isVisible()
    return label.text()


def read_and_install(driver: BenchDriver) -> None:
    """V1 good and kept, V3 a reject in whose place the spare is put."""
    driver.press("+").enter("1540").enter("1510")
    driver.page.go_to("V3")
    driver.press("+").enter("5000")
    driver.page.go_to("V3")
    driver.press("F9").press("Ctrl+L")


def test_a_tube_that_stays_counts_with_what_it_read_as_found(at_bench: BenchDriver) -> None:
    read_and_install(at_bench)
    row = at_bench.row("V1")
    assert row[3] == "1,540 · 1,510, as found"
    assert row[4] == "good, transconductance, as found"
    assert at_bench.cell("V1", "Verdict").sub == "as found"
    at_bench.page.go_to("V1")
    assert "Read as found: 1,540 · 1,510" in at_bench.detail


def test_only_what_was_installed_is_asked_for(at_bench: BenchDriver) -> None:
    read_and_install(at_bench)
    assert at_bench.at == "V3, reading gm"
    assert at_bench.cell("V3", "Verdict").text == "not read yet"
    assert foot(at_bench).startswith("1 installed tube not read as left")
    at_bench.enter("9100")
    assert at_bench.row("V3")[4] == "good, transconductance"
    assert "not read as left" not in foot(at_bench)
    at_bench.enter()
    assert at_bench.asked.startswith("That was the last socket.")


def test_a_later_reading_of_one_line_counts_and_the_other_stays_as_found(
    at_bench: BenchDriver, bench: Bench
) -> None:
    read_and_install(at_bench)
    at_bench.page.go_to("V1")
    at_bench.enter("900").press(Qt.Key.Key_Up)
    at_bench.page.go_to("V3")
    assert at_bench.cell("V1", "Reading, µmho").text == "900 · 1,510"
    assert at_bench.cell("V1", "Reading, µmho").sub == "partly as found"
    assert at_bench.row("V1")[4].startswith("weak")
    assert bench.socket("V1").verdict.word == "good"


def test_a_fault_that_shows_only_as_left_is_the_verdict_as_left(at_bench: BenchDriver) -> None:
    read_and_install(at_bench)
    at_bench.page.go_to("V1")
    at_bench.press("*").type("1").press(Qt.Key.Key_Enter)
    assert at_bench.row("V1")[4].startswith("short")
    at_bench.press("Ctrl+L")
    assert at_bench.row("V1")[4].startswith("good")


def test_an_installed_tube_read_on_another_tester_is_read(at_bench: BenchDriver, bench: Bench) -> None:
    testers.save_tester(
        bench.shop,
        fields={
            "name": "Tester C",
            "method": "emission",
            "unit": "div",
            "full_scale": "100",
            "good_from": "50",
            "reject_below": "30",
        },
    )
    at_bench.page.load()
    read_and_install(at_bench)
    at_bench.press("Ctrl+T").enter("80").press("Ctrl+T")
    assert bench.socket("V3", Stage.AS_LEFT).as_left
    assert at_bench.row("V3")[3] == "80, Tester C"
    assert at_bench.row("V3")[4].startswith("good")
    assert "not read as left" not in foot(at_bench)


def test_the_foot_counts_what_is_missing_before_the_set_can_go_back(
    at_bench: BenchDriver, bench: Bench
) -> None:
    job = bench.job()
    assert job.model_id is not None
    set_fields.save_set_fields(bench.shop, model_id=job.model_id, fields=tuple(PROPOSED))
    at_bench.page.load()
    read_and_install(at_bench)
    said = foot(at_bench).split(" · ")
    assert said[0] == "1 installed tube not read as left"
    assert said[-1] == "6 values not measured in the set"
    at_bench.press("Ctrl+E").enter("117")
    assert foot(at_bench).endswith("5 values not measured in the set")
    at_bench.escape().press("Ctrl+L")
    assert not at_bench.page.frame.left.isVisible()
    assert at_bench.foot.splitlines()[1] == "to replace"


def test_nothing_installed_is_said_and_nothing_is_called_safe(at_bench: BenchDriver) -> None:
    at_bench.press("Ctrl+L")
    assert foot(at_bench) == "No tube was installed: all count as found."
