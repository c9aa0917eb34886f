"""The demo has everything that a newcomer should find in it, and is the same on every machine."""

import sqlite3
from collections.abc import Iterator
from contextlib import closing
from datetime import UTC, date, datetime, time, timedelta
from pathlib import Path

import pytest

from tubeshelf.bootstrap import open_record
from tubeshelf.domain.fitting import Circuit, Outcome
from tubeshelf.domain.jobs import Action, Answer, FoundState, JobStatus
from tubeshelf.domain.judging import Mark, Stage
from tubeshelf.services.aside import where_tubes_are
from tubeshelf.services.chassis import chassis_of
from tubeshelf.services.circuits import model_circuits
from tubeshelf.services.demo.build import build_demo
from tubeshelf.services.demo.clock import DemoClock
from tubeshelf.services.heaters import job_heaters
from tubeshelf.services.intake import find_models
from tubeshelf.services.jobs import list_jobs, open_job, place_history
from tubeshelf.services.orders import order_list
from tubeshelf.services.set_values import measured_in
from tubeshelf.services.setting_lines import setting_lines
from tubeshelf.services.shelf_search import counts, search
from tubeshelf.services.shop import Shop, open_shop
from tubeshelf.services.testers import list_testers
from tubeshelf.services.undo import take_back
from tubeshelf.services.views.bench import JobView, SocketView

TODAY = date(2026, 3, 9)
"""A Monday, so that some of the days counted back fall on a weekend."""


def built(path: Path) -> Path:
    build_demo(lambda clock: open_record(str(path), clock=clock, lasting=False), today=TODAY)
    return path


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return built(tmp_path_factory.mktemp("demo") / "demo.tubeshelf")


@pytest.fixture(scope="module")
def shop(demo: Path) -> Iterator[Shop]:
    morning = datetime(TODAY.year, TODAY.month, TODAY.day, 8, tzinfo=UTC)
    with closing(open_record(str(demo), clock=lambda: morning)) as record:
        yield open_shop(record)


@pytest.fixture(scope="module")
def jobs(shop: Shop) -> dict[int, JobView]:
    return {head.number: open_job(shop, number=head.number) for head in list_jobs(shop, closed=None)}


def sockets(jobs: dict[int, JobView]) -> list[SocketView]:
    return [socket for job in jobs.values() for socket in job.sockets]


def at(jobs: dict[int, JobView], number: int, position: str) -> SocketView:
    return next(socket for socket in jobs[number].sockets if socket.position == position)


# ---- the workshop


def test_fourteen_jobs_over_three_years_of_which_six_are_open_now(jobs: dict[int, JobView]) -> None:
    assert sorted(jobs) == list(range(1, 15))
    assert TODAY - jobs[1].received_on > timedelta(days=2.9 * 365)
    going = {number: job.status for number, job in jobs.items() if job.status.is_open}
    assert going == {
        9: JobStatus.WAITING_CUSTOMER,
        10: JobStatus.WAITING_TUBES,
        11: JobStatus.READING,
        12: JobStatus.RETUBING,
        13: JobStatus.READING,
        14: JobStatus.RECEIVED,
    }
    assert jobs[8].status is JobStatus.FINISHED
    assert {jobs[number].status for number in range(1, 8)} == {JobStatus.HANDED_BACK}
    for number in going:
        promised = jobs[number].promised_on
        assert promised is not None
        assert jobs[number].received_on < TODAY < promised


def test_four_models_whose_heaters_are_fed_as_they_should_be(shop: Shop) -> None:
    models = {model.name: model for model in find_models(shop)}
    assert len(models) == 4
    radio = models["Fireside Five table radio"]
    (string,) = model_circuits(shop, model_id=radio.id).circuits
    names = [line.split()[-2] for line in radio.complement.splitlines()]
    heaters = [shop.book.catalog.find(name) for name in names]
    assert [tube.heaters[0].volts for tube in heaters if tube] == [12.6, 12.6, 12.6, 50, 35]
    assert (string.circuit, string.positions) == (Circuit.SERIES, ("V1", "V2", "V3", "V4", "V5"))
    assert string.lamp_at == "V5"
    receiver = model_circuits(shop, model_id=models["CR-11 communications receiver"].id)
    assert [c.ballast_a for c in receiver.circuits if c.ballast_a is not None] == [0.3]
    assert [c.lamp_a for c in receiver.circuits if c.lamp_at == "winding"] == [0.6]
    amplifier = model_circuits(shop, model_id=models["A12 practice amplifier"].id)
    rectifier = next(c for c in amplifier.circuits if "V5" in c.positions)
    assert (rectifier.volts, rectifier.rated_a) == (5, 2)
    assert models["Duet Twenty stereo amplifier"].complement.count("6V6GT =A") == 4
    assert len(models["CR-11 communications receiver"].complement.splitlines()) == 11
    assert "V5 rectifier 5Y3GT plate=300 capacitor=450\n" in models["A12 practice amplifier"].complement


def test_no_set_of_the_workshop_was_designed_to_overheat(shop: Shop, jobs: dict[int, JobView]) -> None:
    told = [job_heaters(shop, number=job.number) for job in jobs.values() if job.equipment_id is not None]
    assert [c.designed.warnings for j in told for c in j.circuits if c.designed.warnings] == []
    assert {c.name for j in told for c in j.circuits if c.found.warnings} == {"5 V winding", "string"}


def test_three_testers_with_different_scales_charts_and_a_last_check(shop: Shop) -> None:
    testers = list_testers(shop)
    assert [(t.method, t.scale.unit, bool(t.scale.words)) for t in testers] == [
        ("emission", "", False),
        ("transconductance", "µmho", False),
        ("merit words", "", True),
    ]
    for tester in testers:
        lines = setting_lines(shop, tester_id=tester.id)
        assert lines
        assert all(any(value for _, value in line.fields) for line in lines)
        assert tester.checked_on is not None
    limits = [line.limit for line in setting_lines(shop) if line.limit is not None]
    assert {limit.derived for limit in limits} == {True, False}


def test_about_250_tubes_lie_in_every_bin(shop: Shop) -> None:
    shelf = search(shop)
    assert 240 <= shelf.tubes <= 260
    assert {row.bin for row in shelf.rows} == {f"{row}{n}" for row in "ABCD" for n in range(1, 7)}
    assert shelf.promised == 6
    assert sum(row.lot for row in shelf.rows) >= 15
    assert {row.matched_set for row in shelf.rows if row.premium} - {None}
    assert sum(row.place == "reference" for row in shelf.rows) == 3
    par = [count for count in counts(shop) if count.par is not None]
    assert {count.free < (count.par or 0) for count in par} == {True, False}


def test_customers_are_people_from_everywhere(jobs: dict[int, JobView]) -> None:
    names = {job.customer for job in jobs.values()}
    assert len(names) >= 10
    assert sum(not name.isascii() for name in names) >= 8


# ---- every case that the demo promises


def test_a_three_ampere_rectifier_on_the_two_ampere_winding(jobs: dict[int, JobView]) -> None:
    socket = at(jobs, 11, "V5")
    assert socket.fit is not None
    assert (socket.found.designation, socket.fit.outcome) == ("5U4G", Outcome.HARMFUL)
    assert "rated 2 A" in jobs[11].harm[0][1]


def test_a_harmless_wrong_type_that_reads_good(jobs: dict[int, JobView]) -> None:
    socket = at(jobs, 11, "V2")
    assert socket.fit is not None
    assert (socket.intended, socket.found.designation) == ("12AX7", "12AU7")
    assert (socket.fit.outcome, socket.verdict.word) == (Outcome.WRONG_TYPE, "good")


def test_two_tubes_swapped_between_sockets(jobs: dict[int, JobView]) -> None:
    assert jobs[12].swaps == ("V2 and V4 are swapped: the 12AU7 belongs in V4, the 12AX7 in V2.",)


def test_an_equivalent_under_another_name(jobs: dict[int, JobView]) -> None:
    socket = at(jobs, 10, "V2")
    assert socket.fit is not None
    assert (socket.found.marked, socket.intended) == ("EK90", "6BE6")
    assert socket.fit.outcome is Outcome.RIGHT_TYPE


def test_a_rebranded_tube_is_marked_so_and_believed_otherwise(jobs: dict[int, JobView]) -> None:
    found = at(jobs, 10, "V4").found
    assert (found.marked, found.designation) == ("6BA6", "6AU6")
    assert found.reason


def test_an_unreadable_mark_and_an_empty_socket(jobs: dict[int, JobView]) -> None:
    assert at(jobs, 10, "V6").found.state is FoundState.UNREADABLE
    assert at(jobs, 13, "V5").found.state is FoundState.EMPTY
    assert at(jobs, 13, "V5").action is Action.REPLACE


def test_a_weak_section_of_a_dual_triode(jobs: dict[int, JobView]) -> None:
    socket = at(jobs, 9, "V2")
    assert [str(line.verdict.zone) for line in socket.lines if line.verdict] == ["good", "weak"]
    assert socket.verdict.word == "weak"


@pytest.mark.parametrize(
    ("number", "position", "mark"),
    [
        (9, "V7", Mark.SHORT),
        (13, "V3", Mark.LEAKAGE),
        (11, "V3", Mark.GAS),
    ],
)
def test_faults_that_no_number_tells(
    jobs: dict[int, JobView], number: int, position: str, mark: Mark
) -> None:
    socket = at(jobs, number, position)
    assert [(o.mark, o.is_fault) for _, _, o in socket.observations] == [(mark, True)]
    assert socket.verdict.word == mark


def test_the_gassy_tube_is_an_output_tube(jobs: dict[int, JobView]) -> None:
    assert at(jobs, 11, "V3").role == "output"


def test_weak_on_one_tester_and_good_on_another(jobs: dict[int, JobView]) -> None:
    socket = at(jobs, 10, "V1")
    lines = (*socket.lines, *socket.other_lines)
    assert {(line.tester.method, str(line.verdict.zone)) for line in lines if line.verdict} == {
        ("transconductance", "weak"),
        ("emission", "good"),
    }


def test_readings_too_close_to_call_after_three_repeats(jobs: dict[int, JobView]) -> None:
    socket = at(jobs, 11, "V1")
    assert len(socket.lines[0].readings) == 3
    assert socket.verdict.sure is False
    assert not socket.verdict.read_again
    assert socket.action is Action.UNDECIDED


def test_a_quad_with_one_failure_goes_as_a_whole(jobs: dict[int, JobView]) -> None:
    quad = [socket for socket in jobs[12].sockets if socket.match_group == "A"]
    assert [socket.verdict.word for socket in quad] == ["good", "reject", "good", "good"]
    assert {socket.action for socket in quad} == {Action.REPLACE}
    spares = [socket.spare for socket in quad if socket.spare is not None]
    assert len({spare.item_id for spare in spares}) == 4
    assert len({spare.matched_set for spare in spares}) == 1
    assert all(spare.here for spare in spares)


def test_a_type_that_is_not_on_hand_and_the_job_that_waits_for_it(
    shop: Shop, jobs: dict[int, JobView]
) -> None:
    assert at(jobs, 10, "V10").spare is None
    assert jobs[10].waits_for == "6E5 to order"
    line = next(line for line in order_list(shop) if line.designation == "6E5")
    assert line.jobs == (10,)


def test_a_modified_socket(jobs: dict[int, JobView]) -> None:
    socket = at(jobs, 14, "V1")
    assert (socket.designed, socket.intended, socket.modified) == ("12AX7", "12AY7", True)


def test_a_declined_replacement_and_an_approved_estimate(jobs: dict[int, JobView]) -> None:
    assert at(jobs, 12, "V3").answer is Answer.DECLINED
    estimate = jobs[12].estimate
    assert estimate.approval is not None
    assert estimate.approval.ceiling is not None
    assert 0 < estimate.total <= estimate.approval.ceiling
    assert estimate.declined == ("V3",)


def test_a_comeback_whose_tube_is_not_ours(shop: Shop, jobs: dict[int, JobView]) -> None:
    assert jobs[9].comeback_of == 6
    assert jobs[9].comeback_note
    ours = at(jobs, 6, "V7").fitted
    found = at(jobs, 9, "V7").found
    assert ours is not None
    assert found.item_id not in (None, ours.item_id)
    kept = at(jobs, 6, "V5").fitted
    assert kept is not None
    assert at(jobs, 9, "V5").found.item_id == kept.item_id
    assert place_history(shop, socket_id=at(jobs, 9, "V7").id)[0].tag == ours.tag


def test_a_chassis_map_was_saved_and_values_were_measured_in_a_set(
    shop: Shop, jobs: dict[int, JobView]
) -> None:
    assert chassis_of(shop, job_id=jobs[12].id).unsaved == ()
    measured = measured_in(shop, job_id=jobs[6].id)
    assert measured.missing == 0
    assert [one.position for one in measured.outputs] == ["V5", "V6", "V7", "V8"]
    assert all(one.text and not one.over for one in measured.outputs)
    assert measured_in(shop, job_id=jobs[12].id).missing == len(measured.values)


def test_answers_say_how_they_were_given_and_a_set_was_put_aside_with_a_reason(
    shop: Shop, jobs: dict[int, JobView]
) -> None:
    answered = [socket for socket in sockets(jobs) if socket.answer is not None]
    assert {"by phone", "by e-mail"} <= {socket.answer_how for socket in answered}
    tubes = where_tubes_are(shop, job_id=jobs[13].id)
    assert (tubes.empty, tubes.asks) == (("V5",), False)
    assert tubes.why


def test_a_box_of_loose_tubes(jobs: dict[int, JobView]) -> None:
    assert jobs[7].equipment_id is None
    assert len(jobs[7].sockets) == 9


def test_an_untested_lot_and_nos_that_reads_weak(shop: Shop) -> None:
    rows = search(shop).rows
    assert any(row.lot and row.verdict == "not read" for row in rows)
    assert any(row.condition == "NOS" and row.verdict == "weak" for row in rows)


def test_a_finished_job_with_values_as_left(jobs: dict[int, JobView]) -> None:
    fitted = [socket for socket in jobs[8].sockets if socket.fitted is not None]
    assert len(fitted) == 3
    for socket in fitted:
        assert socket.as_left
        assert all(line.readings[0].stage is Stage.AS_LEFT for line in socket.as_left)


def test_no_output_socket_holds_a_wrong_type(jobs: dict[int, JobView]) -> None:
    output = [socket for socket in sockets(jobs) if "output" in socket.role]
    assert len(output) > 20
    fits = {socket.fit.outcome for socket in output if socket.fit is not None}
    assert fits == {Outcome.RIGHT_TYPE}


# ---- it is a real record


def test_everything_was_done_by_acts_in_the_past_and_in_order(demo: Path) -> None:
    with closing(sqlite3.connect(demo)) as connection:
        acts = connection.execute("SELECT at, said FROM act ORDER BY id").fetchall()
    times = [at for at, _ in acts]
    assert times == sorted(times)
    midnight = datetime.combine(TODAY, time()).astimezone()
    assert times[-1] < midnight.timestamp() * 1_000_000
    assert all(said for _, said in acts)


def test_the_same_day_gives_the_same_record(demo: Path, tmp_path: Path) -> None:
    again = built(tmp_path / "demo.tubeshelf")
    with closing(sqlite3.connect(demo)) as one, closing(sqlite3.connect(again)) as other:
        assert list(one.iterdump()) == list(other.iterdump())


def test_its_last_act_can_be_taken_back(tmp_path: Path, demo: Path) -> None:
    copy = tmp_path / "copy.tubeshelf"
    copy.write_bytes(demo.read_bytes())
    with closing(open_record(str(copy))) as record:
        shop = open_shop(record)
        before = open_job(shop, number=14)
        take_back(shop)
        after = open_job(shop, number=14)
    assert before.sockets[0].modified
    assert not after.sockets[0].modified


def test_the_clock_keeps_working_days_and_never_goes_back() -> None:
    clock = DemoClock(TODAY)
    assert [clock.day(days_ago) for days_ago in (1, 2, 3)] == [date(2026, 3, 6)] * 3
    clock.go_to(10)
    first = clock()
    clock.go_to(11)
    assert clock() > first
    clock.go_to(5)
    assert clock().astimezone().date() == date(2026, 3, 4)
