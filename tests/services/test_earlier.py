"""What a tube and its place read before, as a new reading is looked at beside it."""

from datetime import timedelta

from tests.records import FixedClock
from tests.services.benchwork import AMPLIFIER, Bench, add_tester, amplifier
from tests.services.shelfwork import tube
from tubeshelf.domain.jobs import JobStatus
from tubeshelf.domain.judging import Stage
from tubeshelf.services import decide, intake, jobs, spares
from tubeshelf.services.earlier import EarlierView, earlier_readings
from tubeshelf.services.shelf_reading import read_spare
from tubeshelf.services.shop import Shop


def before(amp: Bench, position: str, stage: Stage = Stage.AS_FOUND) -> list[tuple[float, bool]]:
    seen = earlier_readings(amp.shop, socket_id=amp.id(position), stage=stage)
    return [(one.value, one.same_tube) for one in seen]


def comeback(amp: Bench) -> Bench:
    """The same unit on the bench again, the job before closed."""
    job = amp.job()
    decide.set_status(amp.shop, job_id=job.id, status=JobStatus.HANDED_BACK)
    number, _ = intake.new_job(
        amp.shop, customer="Ada Brindle", maker="Larkmere", model="A12", serial="30417", complement=AMPLIFIER
    )
    again = Bench(amp.shop, number, amp.tester)
    assert again.job().equipment_id == job.equipment_id
    return again


def test_a_first_visit_has_nothing_before_it(shop: Shop) -> None:
    amp = amplifier(shop)
    amp.found("V3")
    amp.enter("V3", "9000")
    amp.enter("V3", "9100")
    assert before(amp, "V3") == []


def test_the_place_tells_what_other_tubes_read_there_newest_first(shop: Shop, tick: FixedClock) -> None:
    amp = amplifier(shop)
    amp.found("V3")
    amp.enter("V3", "4000")
    amp.enter("V3", "4200")
    spares.install(shop, item_id=tube(shop, "6BQ5"), socket_id=amp.id("V3"))
    amp.enter("V3", "9900", stage=Stage.AS_LEFT)
    tick.advance(timedelta(days=400))
    again = comeback(amp)
    again.found("V3", "6CA7")
    assert before(again, "V3") == [(9900, False), (4100, False)]
    again.found("V3")
    again.enter("V3", "9300")
    assert before(again, "V3") == [(9900, False), (4100, False)]


def test_as_left_the_tube_that_was_found_is_one_of_the_place(shop: Shop) -> None:
    amp = amplifier(shop)
    amp.found("V3")
    amp.enter("V3", "4000")
    spares.install(shop, item_id=tube(shop, "6BQ5"), socket_id=amp.id("V3"))
    amp.enter("V3", "9900", stage=Stage.AS_LEFT)
    assert before(amp, "V3", Stage.AS_LEFT) == [(4000, False)]
    assert before(amp, "V3", Stage.AS_FOUND) == []


def test_a_spare_that_was_read_on_the_shelf_is_the_same_tube(shop: Shop) -> None:
    amp = amplifier(shop)
    amp.found("V3")
    amp.enter("V3", "4000")
    spare = tube(shop, "6BQ5")
    line = amp.line("V3").line_id
    read_spare(shop, item_id=spare, line_id=line, tester_id=amp.tester, text="10200")
    spares.install(shop, item_id=spare, socket_id=amp.id("V3"))
    assert before(amp, "V3", Stage.AS_LEFT) == [(10200, True), (4000, False)]


def test_a_tube_that_stays_is_the_same_tube_as_left(shop: Shop) -> None:
    amp = amplifier(shop)
    amp.found("V3")
    amp.enter("V3", "9000")
    amp.enter("V3", "9050", stage=Stage.AS_LEFT)
    assert before(amp, "V3", Stage.AS_LEFT) == [(9000, True)]


def test_an_old_job_is_not_told_what_came_after_it(shop: Shop, tick: FixedClock) -> None:
    amp = amplifier(shop)
    amp.found("V3")
    amp.enter("V3", "9000")
    tick.advance(timedelta(days=400))
    again = comeback(amp)
    again.found("V3")
    again.enter("V3", "8000")
    assert before(amp, "V3") == []


def test_lines_of_other_testers_are_told_apart_by_their_line(shop: Shop) -> None:
    amp = amplifier(shop)
    amp.found("V3")
    amp.enter("V3", "9000")
    amp.tester = add_tester(shop, "Tester C", unit="%", full_scale=120.0, method="emission")
    amp.enter("V3", "81")
    spares.install(shop, item_id=tube(shop, "6BQ5"), socket_id=amp.id("V3"))
    told = earlier_readings(shop, socket_id=amp.id("V3"), stage=Stage.AS_LEFT)
    assert {(one.value, one.line_id) for one in told} == {
        (81, amp.line("V3", stage=Stage.AS_FOUND).line_id),
        (9000, _line_on_first_tester(amp)),
    }


def _line_on_first_tester(amp: Bench) -> int | None:
    job = jobs.open_job(amp.shop, number=amp.number, tester_id=1)
    return next(s for s in job.sockets if s.position == "V3").lines[0].line_id


def test_a_struck_reading_and_a_socket_that_is_gone_tell_nothing(shop: Shop) -> None:
    amp = amplifier(shop)
    assert earlier_readings(shop, socket_id=4711, stage=Stage.AS_FOUND) == ()
    assert earlier_readings(shop, socket_id=amp.id("V1"), stage=Stage.AS_FOUND) == ()


def test_a_view_says_when(shop: Shop, tick: FixedClock) -> None:
    amp = amplifier(shop)
    amp.found("V3")
    amp.enter("V3", "9000")
    then = tick()
    tick.advance(timedelta(hours=2))
    (view,) = earlier_readings(shop, socket_id=amp.id("V3"), stage=Stage.AS_LEFT)
    assert view == EarlierView(view.line_id, then, 9000, same_tube=True)
