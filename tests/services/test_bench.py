"""Taking a set's readings: what is stored, how it is judged, what is proposed."""

import pytest
from sqlalchemy import func, select, update

from tests.services.benchwork import Bench, add_tester, amplifier
from tubeshelf.domain.errors import UserError
from tubeshelf.domain.fitting import Outcome
from tubeshelf.domain.jobs import Action, Answer, FoundState
from tubeshelf.domain.judging import Mark, Stage, Zone
from tubeshelf.services import answers, bench, finding, jobs, undo
from tubeshelf.services.changes import Kind
from tubeshelf.services.shop import Shop
from tubeshelf.store.tables import Item, Judgement, Reading, SettingLine, Tester


@pytest.fixture
def amp(shop: Shop) -> Bench:
    return amplifier(shop)


def count(amp: Bench, table: type, *, ended: bool = False) -> int:
    with amp.shop.record.reading() as connection:
        query = select(func.count()).select_from(table)
        if not ended:
            query = query.where(table.ended_by.is_(None))
        return connection.scalar(query) or 0


def test_what_stands_in_a_socket_is_never_assumed(amp: Bench) -> None:
    with pytest.raises(UserError, match="Say first what stands in V1"):
        amp.enter("V1", "1540")
    assert amp.at("V1").found.state is FoundState.NOT_LOOKED
    assert count(amp, Reading) == 0


def test_a_reading_is_stored_with_the_judgement_of_its_line(amp: Bench) -> None:
    amp.found("V3")
    taken, changes = amp.enter("V3", "9000")
    # 66 % of the data sheet's 11,300 µmho is 7,458; 3 % of 9,000 is 270.
    assert taken.verdict is not None
    assert (taken.verdict.zone, taken.verdict.sure) == (Zone.GOOD, True)
    assert taken.verdict.u == pytest.approx(270)
    assert taken.verdict.limit.good_from == pytest.approx(7458)
    assert taken.verdict.limit.derived
    assert changes is not None
    assert changes.said == "Saved 9,000 at V3, job 1"
    assert changes.touches(Kind.JOB)
    assert amp.at("V3").action is Action.KEEP


def test_both_sections_of_a_twin_triode_are_asked_for(amp: Bench) -> None:
    amp.found("V1")
    assert [line.label for line in amp.at("V1").lines] == ["section 1", "section 2"]
    amp.enter("V1", "1540")
    assert [len(line.readings) for line in amp.at("V1").lines] == [1, 0]
    assert amp.at("V1").verdict.word == "not read"
    amp.enter("V1", "700", 1)
    socket = amp.at("V1")
    assert socket.verdict.word == "reject"
    assert socket.verdict.balance_percent == pytest.approx(75)
    assert socket.action is Action.REPLACE


def test_repeats_give_a_mean_and_supersede_the_judgement(amp: Bench) -> None:
    amp.found("V3")
    for text in ("7300", "7500", "7400"):
        amp.enter("V3", text)
    verdict = amp.line("V3").verdict
    assert verdict is not None
    assert (verdict.n, verdict.mean) == (3, pytest.approx(7400))
    assert count(amp, Judgement) == 1
    assert count(amp, Judgement, ended=True) == 3
    assert count(amp, Reading) == 3


def test_a_likely_slip_is_asked_about_and_nothing_is_written(amp: Bench) -> None:
    amp.found("V3")
    taken, changes = amp.enter("V3", "90000")
    assert taken.slip is not None
    assert "off the scale, which ends at 15,000" in taken.slip.question
    assert changes is None
    assert count(amp, Reading) == count(amp, SettingLine) == 0
    amp.enter("V3", "90000", confirmed=True)
    assert count(amp, Reading) == 1


def test_text_in_a_reading_is_one_sentence_and_nothing_is_written(amp: Bench) -> None:
    amp.found("V3")
    with pytest.raises(UserError, match="good"):
        amp.enter("V3", "good")
    assert count(amp, Reading) == 0


def test_zero_is_a_dead_tube_and_not_a_missing_reading(amp: Bench) -> None:
    amp.found("V3")
    amp.enter("V3", "0")
    assert amp.at("V3").verdict.word == "reject"


def test_a_short_outranks_a_good_reading_and_forbids_power(amp: Bench) -> None:
    amp.found("V3")
    amp.enter("V3", "9000")
    amp.mark("V3", Mark.SHORT, pins="2-3")
    socket, job = amp.at("V3"), amp.job()
    assert socket.verdict.word == "short"
    assert socket.verdict_text == "short, pins 2–3"
    assert job.harm == (("V3", "short, pins 2–3"),)


def test_a_mark_that_is_no_fault_changes_no_verdict(amp: Bench) -> None:
    amp.found("V3")
    amp.enter("V3", "9000")
    amp.mark("V3", Mark.NOISE, fault=False)
    assert amp.at("V3").verdict.word == "good"


def test_struck_marks_and_readings_count_for_nothing(amp: Bench) -> None:
    amp.found("V3")
    taken, _ = amp.enter("V3", "3000")
    made = amp.mark("V3", Mark.SHORT)
    bench.drop_observation(amp.shop, observation_id=made)
    assert taken.reading_id is not None
    bench.drop_reading(amp.shop, reading_id=taken.reading_id)
    assert amp.at("V3").verdict.word == "not read"
    assert amp.job().harm == ()
    with pytest.raises(UserError, match="struck already"):
        bench.drop_reading(amp.shop, reading_id=taken.reading_id)


def test_a_reading_of_one_of_a_pair_proposes_the_whole_group(amp: Bench) -> None:
    amp.found("V3")
    amp.found("V4")
    amp.enter("V3", "3000")
    amp.enter("V4", "9900")
    assert amp.at("V4").action is Action.REPLACE
    assert "group A" in amp.at("V4").action_why


def test_the_technician_may_decide_otherwise_and_go_back(amp: Bench) -> None:
    amp.found("V3")
    amp.enter("V3", "3000")
    bench.set_action(amp.shop, socket_id=amp.id("V3"), action=Action.KEEP, why="for practice only")
    assert (amp.at("V3").action, amp.at("V3").action_said) == (Action.KEEP, True)
    bench.set_action(amp.shop, socket_id=amp.id("V3"), action=None)
    assert (amp.at("V3").action, amp.at("V3").action_said) == (Action.REPLACE, False)


def test_a_harmful_rectifier_is_told_in_numbers(amp: Bench) -> None:
    amp.found("V5", "5U4GB")
    socket = amp.at("V5")
    assert socket.fit is not None
    assert socket.fit.outcome is Outcome.HARMFUL
    # RCA RC-30: 5U4-GB 5 V 3 A, 5Y3-GT 5 V 2 A.
    assert "takes 3 A" in amp.job().harm[0][1]
    assert "2 A" in amp.job().harm[0][1]
    assert socket.action is Action.REPLACE


def test_an_equivalent_under_another_name_is_the_right_type(amp: Bench) -> None:
    amp.found("V1", "ECC83")
    fit = amp.at("V1").fit
    assert fit is not None
    assert fit.outcome is Outcome.RIGHT_TYPE


def test_a_mark_that_nobody_knows_is_kept_as_read(amp: Bench) -> None:
    amp.found("V1", "QX 99")
    socket = amp.at("V1")
    assert socket.found.marked == "QX 99"
    assert socket.fit is not None
    assert socket.fit.outcome is Outcome.UNKNOWN
    assert socket.action is Action.UNDECIDED


def test_a_rebranded_tube_is_judged_as_what_it_is(amp: Bench) -> None:
    amp.found("V1", "12AX7", believed="12AU7", reason="short grey plates")
    socket = amp.at("V1")
    assert (socket.found.marked, socket.found.designation) == ("12AX7", "12AU7")
    assert socket.fit is not None
    assert socket.fit.outcome is Outcome.WRONG_TYPE


def test_an_empty_socket_wants_a_tube_and_takes_no_reading(amp: Bench) -> None:
    finding.set_empty(amp.shop, socket_id=amp.id("V4"))
    assert amp.at("V4").action is Action.REPLACE
    with pytest.raises(UserError, match="found empty"):
        amp.enter("V4", "9000")


def test_two_tubes_in_each_others_places_are_one_swap(amp: Bench) -> None:
    amp.found("V1", "6BQ5")
    amp.found("V3", "12AX7")
    (sentence,) = amp.job().swaps
    assert "V1 and V3" in sentence


def test_a_tube_weak_on_one_tester_is_weak_though_another_calls_it_good(amp: Bench) -> None:
    other = add_tester(amp.shop, "Tester C", default_good_share=0.9, default_reject_share=0.5)
    amp.found("V3")
    amp.enter("V3", "9000")
    strict = Bench(amp.shop, amp.number, other)
    strict.enter("V3", "9000")
    # 90 % of 11,300 is 10,170: weak there.
    assert amp.at("V3").verdict.word == "weak"
    assert [line.tester.name for line in amp.at("V3").other_lines] == ["Tester C"]


def test_a_tester_that_reads_in_words_is_judged_by_its_words(amp: Bench) -> None:
    words = add_tester(
        amp.shop,
        "Tester W",
        method="merit words",
        unit="",
        full_scale=None,
        words=("replace", "doubtful", "good"),
        relative=None,
        default_good_share=None,
        default_reject_share=None,
        default_good_from=3.0,
        default_reject_below=2.0,
    )
    amp.found("V3")
    merit = Bench(amp.shop, amp.number, words)
    taken, _ = merit.enter("V3", "Doubtful")
    assert taken.text == "doubtful"
    assert merit.at("V3").verdict.word == "weak"
    with pytest.raises(UserError, match="1 replace, 2 doubtful, 3 good"):
        merit.enter("V3", "62")


def test_take_back_walks_back_through_the_entries_and_forward_again(amp: Bench) -> None:
    amp.found("V3")
    amp.enter("V3", "9000")
    amp.enter("V3", "3000")
    assert "3,000" in undo.take_back(amp.shop).said
    verdict = amp.line("V3").verdict
    assert verdict is not None
    assert (verdict.n, verdict.mean) == (1, 9000)
    undo.take_back(amp.shop)
    assert amp.at("V3").verdict.word == "not read"
    undo.take_back(amp.shop)
    assert amp.at("V3").found.state is FoundState.NOT_LOOKED
    for _ in range(3):
        undo.do_again(amp.shop)
    verdict = amp.line("V3").verdict
    assert verdict is not None
    assert (verdict.n, verdict.mean) == (2, 6000)


def test_a_found_tube_belongs_to_the_customer(amp: Bench) -> None:
    amp.found("V3")
    with amp.shop.record.reading() as connection:
        row = connection.execute(select(Item.customer_id, Item.place, Item.tag)).one()
    assert (row.customer_id, row.place, row.tag) == (amp.job().customer_id, "socket", None)


def test_correcting_the_found_type_keeps_the_tube_and_judges_anew(amp: Bench) -> None:
    amp.found("V1", "12AU7")
    amp.found("V1", "12AX7")
    assert count(amp, Item) == 1
    fit = amp.at("V1").fit
    assert fit is not None
    assert fit.outcome is Outcome.RIGHT_TYPE


def test_a_declined_replacement_is_not_in_the_total(amp: Bench) -> None:
    amp.found("V3")
    amp.enter("V3", "3000")
    answers.set_answer(amp.shop, socket_id=amp.id("V3"), answer=Answer.DECLINED)
    job = amp.job()
    assert job.estimate.declined == ("V3",)
    assert job.not_on_hand == 1  # V4 of the same group


def test_an_old_job_keeps_saying_what_it_said_when_a_limit_changes(amp: Bench) -> None:
    amp.found("V3")
    amp.enter("V3", "8000")
    with amp.shop.record.act("setup") as journal:
        journal.connection.execute(update(Tester).values(default_good_share=0.9))
    verdict = amp.line("V3").verdict
    assert verdict is not None
    assert verdict.zone is Zone.GOOD
    assert verdict.limit.good_from == pytest.approx(7458)


def test_the_list_says_what_each_job_waits_for(amp: Bench) -> None:
    (head,) = jobs.list_jobs(amp.shop)
    assert (head.waits_for, head.read, head.sockets) == ("readings", 0, 5)
    for position in ("V1", "V2", "V3", "V4", "V5"):
        amp.found(position)
    for position in ("V3", "V4"):
        amp.enter(position, "9900")
    for position in ("V1", "V2"):
        amp.enter(position, "1540")
        amp.enter(position, "1540", 1)
    amp.mark("V5", Mark.OPEN_HEATER)
    (head,) = jobs.list_jobs(amp.shop)
    assert (head.waits_for, head.read, head.to_replace) == ("5Y3GT to order", 5, 1)


def test_as_left_readings_are_of_the_stage_and_leave_the_finding_alone(amp: Bench) -> None:
    amp.found("V3")
    amp.enter("V3", "9000")
    amp.enter("V3", "9100", stage=Stage.AS_LEFT)
    assert amp.at("V3").verdict.word == "good"
    assert [line.readings[0].value for line in amp.at("V3").as_left] == [9100]
