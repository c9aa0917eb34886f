"""The scale picture on the bench: what it is given by the line in hand, and what stands below it."""

from datetime import timedelta

from tests.records import FixedClock
from tests.ui.drivers.bench import COMPLEMENT, Bench, BenchDriver
from tubeshelf.domain.jobs import JobStatus
from tubeshelf.domain.judging import Limit
from tubeshelf.services import decide, intake, setting_lines, testers
from tubeshelf.services.changes import Kind
from tubeshelf.ui.parts.scale import ScaleView


def scale(driver: BenchDriver) -> ScaleView:
    """What the scale shows once what comes after the reading is there."""
    driver.rest()
    return driver.page.detail.dial.scale


def test_before_a_reading_the_guard_band_is_there_already(at_bench: BenchDriver) -> None:
    at_bench.page.go_to("V3")
    at_bench.press("+")
    view = scale(at_bench)
    assert (view.value, view.limits()) == (None, (5600, 7000))
    assert view.guard is not None
    assert abs(view.guard - 1.645 * 0.03 * 7000) < 0.001


def test_the_needle_follows_what_is_typed_with_its_own_uncertainty(at_bench: BenchDriver) -> None:
    at_bench.page.go_to("V3")
    at_bench.press("+").type("8000")
    view = scale(at_bench)
    assert view.value == 8000
    assert view.guard is not None
    assert abs(view.guard - 1.645 * 0.03 * 8000) < 0.001


def test_too_close_to_call_says_how_likely(at_bench: BenchDriver) -> None:
    at_bench.page.go_to("V3")
    at_bench.press("+").type("6900").press("+")
    at_bench.page.go_to("V3")
    at_bench.rest()
    # Φ((6,900 − 7,000)/207) = Φ(−0.483) = 0.315, from a table of the normal distribution
    assert "6,900 ± 340, good from 7,000; 31 % likely to lie above 7,000" in at_bench.detail
    at_bench.page.go_to("V4")
    at_bench.press("+").type("9000").press("+")
    assert "likely to lie" not in at_bench.detail


def test_repeats_are_dots_and_the_mean_is_the_needle(at_bench: BenchDriver) -> None:
    at_bench.page.go_to("V3")
    at_bench.press("+").type("6900").press("+").type("7100").press("+")
    view = scale(at_bench)
    assert (view.value, view.repeats) == (7000, (6900, 7100))


def test_a_remark_above_is_on_the_scale(at_bench: BenchDriver, bench: Bench) -> None:
    type_id = bench.shop.book.id_of("6BQ5") or 0
    (line,) = setting_lines.setting_lines(bench.shop, tester_id=bench.tester_id, type_id=type_id)
    _, changes = setting_lines.save_line(
        bench.shop,
        line_id=line.id,
        label=line.label,
        section=line.section,
        limit=Limit(7000, 5600, above=13_000),
    )
    at_bench.page.reload(changes)
    at_bench.page.go_to("V3")
    at_bench.press("+").enter("13500")
    at_bench.page.go_to("V3")
    assert scale(at_bench).above == 13_000
    assert "above 13,000" in at_bench.detail


def test_a_reading_off_the_scale_points_beyond_it(at_bench: BenchDriver) -> None:
    at_bench.page.go_to("V3")
    at_bench.press("+").type("16000")
    view = scale(at_bench)
    assert (view.top(), view.off(16000)) == (15000, 1)


def test_a_tester_of_words_has_a_scale_of_words(at_bench: BenchDriver, bench: Bench) -> None:
    fields = {"name": "Tester C", "method": "merit words", "words": "bad; doubtful; good"}
    _, changes = testers.save_tester(
        bench.shop, fields=fields | {"good_from": "good", "reject_below": "doubtful", "absolute": "0.4"}
    )
    at_bench.page.reload(changes)
    at_bench.press("Ctrl+T")
    at_bench.page.go_to("V3")
    at_bench.press("+").enter("doubtful")
    at_bench.page.go_to("V3")
    view = scale(at_bench)
    assert (view.words, view.value, view.limits()) == (("bad", "doubtful", "good"), 2, (1.5, 2.5))
    assert view.guard is None


def test_a_comeback_shows_what_its_place_read_before(
    at_bench: BenchDriver, bench: Bench, clock: FixedClock
) -> None:
    at_bench.page.go_to("V3")
    at_bench.press("+").enter("9850")
    decide.set_status(bench.shop, job_id=bench.job_id, status=JobStatus.HANDED_BACK)
    clock.advance(timedelta(days=400))
    _, changes = intake.new_job(
        bench.shop,
        customer="Ada Larch",
        maker="Larkmere",
        model="A12 practice amplifier",
        serial="30417",
        complement=COMPLEMENT,
    )
    at_bench.page.open_job(next(thing for kind, thing in changes.things if kind is Kind.JOB))
    at_bench.page.go_to("V3")
    (before,) = scale(at_bench).earlier
    assert (before.when, before.value, before.same_tube) == ("Mar 2026", 9850, False)
    at_bench.page.go_to("V4")
    assert scale(at_bench).earlier == ()


def test_as_left_the_tube_that_stays_shows_what_it_read_as_found(at_bench: BenchDriver) -> None:
    at_bench.page.go_to("V3")
    at_bench.press("+").enter("9850")
    at_bench.press("Ctrl+L")
    at_bench.page.go_to("V3")
    (before,) = scale(at_bench).earlier
    assert (before.value, before.same_tube) == (9850, True)


def test_the_balance_of_two_sections_is_told(at_bench: BenchDriver) -> None:
    at_bench.press("+").enter("1540")
    assert at_bench.at == "V1, reading section 2"
    assert "balance" not in at_bench.detail
    at_bench.enter("1460")
    at_bench.page.go_to("V1")
    at_bench.rest()
    # (1,540 − 1,460)/1,500 = 5.3 %
    assert "balance of the sections 5.3 %" in at_bench.detail
