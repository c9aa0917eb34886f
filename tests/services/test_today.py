"""What today's limits would say: told in sockets and money, written only when asked for."""

import pytest

from tests.services.benchwork import AMPLIFIER, Bench, add_tester, amplifier
from tests.services.shelfwork import tube
from tubeshelf.domain.errors import UserError
from tubeshelf.domain.jobs import Action, JobStatus
from tubeshelf.domain.judging import Limit, Stage
from tubeshelf.services import bench, decide, intake, pulls, setting_lines, spares, testers, undo
from tubeshelf.services.judged_again import judge_by_today
from tubeshelf.services.shelf_reading import read_spare
from tubeshelf.services.shelf_search import search
from tubeshelf.services.shop import Shop
from tubeshelf.services.today import today_for
from tubeshelf.services.views.today import JobToday, SocketToday


def read_amplifier(shop: Shop) -> Bench:
    """V3 reads 9,000 µmho, good by the shop default; V5, a rectifier, was not read."""
    amp = amplifier(shop)
    amp.found("V1")
    amp.enter("V1", "1540")
    amp.enter("V1", "1510", 1)
    amp.found("V3")
    amp.enter("V3", "9000")
    return amp


def limit(shop: Shop, amp: Bench, type_name: str, new: Limit | None) -> None:
    """Another limit for every line of a type on the tester."""
    type_id = shop.book.id_of(type_name) or 0
    for line in setting_lines.setting_lines(shop, tester_id=amp.tester, type_id=type_id):
        setting_lines.save_line(shop, line_id=line.id, section=line.section, limit=new)


def only_job(shop: Shop, amp: Bench) -> JobToday:
    (job,) = today_for(shop, job_id=amp.job().id).jobs
    return job


def read_socket(shop: Shop, amp: Bench) -> SocketToday:
    """The only socket whose verdict changes: V3. V4 may be proposed with it, for they are of one group."""
    (socket,) = (s for s in only_job(shop, amp).sockets if s.then_text != s.now_text)
    assert socket.position == "V3"
    return socket


def test_nothing_changes_while_the_limits_are_what_they_were(shop: Shop) -> None:
    amp = read_amplifier(shop)
    assert today_for(shop, job_id=amp.job().id).jobs == ()
    assert today_for(shop).looked_at == 1


def test_another_limit_is_told_with_both_figures_and_writes_nothing(shop: Shop) -> None:
    amp = read_amplifier(shop)
    limit(shop, amp, "6BQ5", Limit(12_000.0, 10_000.0))
    before = amp.job()
    socket = read_socket(shop, amp)
    assert socket.stage is Stage.AS_FOUND
    assert (socket.then_text, socket.now_text) == ("good, transconductance", "reject, transconductance")
    (line,) = socket.lines
    assert line.then.limit.good_from == pytest.approx(0.66 * 11_300)
    assert (line.now.limit.good_from, line.now.limit.reject_below) == (12_000.0, 10_000.0)
    assert (socket.proposed_then, socket.proposed_now) == (Action.KEEP, Action.REPLACE)
    assert amp.job() == before


def test_the_rest_of_a_match_group_is_proposed_with_it(shop: Shop) -> None:
    amp = read_amplifier(shop)
    limit(shop, amp, "6BQ5", Limit(12_000.0, 10_000.0))
    other = next(s for s in only_job(shop, amp).sockets if s.position == "V4")
    assert (other.then_text, other.now_text, other.lines) == ("not read", "not read", ())
    assert (other.proposed_then, other.proposed_now) == (Action.UNDECIDED, Action.REPLACE)
    assert other.why == "matched with the rest of group A"


def test_a_changed_limit_never_rewrites_the_verdict_that_was_given(shop: Shop) -> None:
    amp = read_amplifier(shop)
    told = amp.at("V3").verdict_text, amp.line("V3").text, amp.line("V3").limit
    for new in (Limit(12_000.0, 10_000.0), Limit(None, 9_500.0), None):
        limit(shop, amp, "6BQ5", new)
        assert (amp.at("V3").verdict_text, amp.line("V3").text, amp.line("V3").limit) == told


def test_a_verdict_with_one_limit_only_keeps_that_one_on_its_scale(shop: Shop) -> None:
    amp = read_amplifier(shop)
    limit(shop, amp, "6BQ5", Limit(None, 8_000.0))
    amp.found("V4")
    amp.enter("V4", "9000")
    limit(shop, amp, "6BQ5", Limit(12_000.0, 10_000.0))
    shown = amp.line("V4").limit
    assert shown is not None
    assert (shown.good_from, shown.reject_below) == (None, 8_000.0)


def test_the_default_rule_of_the_tester_counts_as_a_limit(shop: Shop) -> None:
    amp = read_amplifier(shop)
    (tester,) = testers.list_testers(shop)
    fields = {"name": "Tester B", "method": "transconductance", "unit": "µmho", "full_scale": "15000"}
    fields |= {"good_percent": "100", "reject_percent": "50", "relative_percent": "3"}
    testers.save_tester(shop, tester_id=tester.id, expected_version=tester.version, fields=fields)
    assert {socket.position for socket in only_job(shop, amp).sockets} == {"V1", "V3"}


def test_a_tester_known_to_repeat_worse_makes_a_verdict_unsure(shop: Shop) -> None:
    amp = read_amplifier(shop)
    (tester,) = testers.list_testers(shop)
    fields = {"name": "Tester B", "method": "transconductance", "unit": "µmho", "full_scale": "15000"}
    fields |= {"good_percent": "66", "reject_percent": "50", "relative_percent": "40"}
    testers.save_tester(shop, tester_id=tester.id, expected_version=tester.version, fields=fields)
    job = only_job(shop, amp)
    found = next(socket for socket in job.sockets if socket.position == "V3")
    assert found.then_text == "good, transconductance"
    assert found.now_text == "good, transconductance, read again"


def test_a_limit_that_moves_without_a_verdict_is_only_counted(shop: Shop) -> None:
    amp = read_amplifier(shop)
    limit(shop, amp, "6BQ5", Limit(5_000.0, 4_000.0))
    job = only_job(shop, amp)
    assert (job.sockets, job.moved) == ((), 1)
    assert job.money_then is None


def test_a_limit_of_the_same_figures_from_another_source_changes_nothing(shop: Shop) -> None:
    amp = read_amplifier(shop)
    limit(shop, amp, "6BQ5", Limit(0.66 * 11_300, 0.5 * 11_300, source="the shop's notebook"))
    assert today_for(shop, job_id=amp.job().id).jobs == ()


def test_the_money_goes_from_the_estimate_of_now_to_that_of_todays_limits(shop: Shop) -> None:
    amp = read_amplifier(shop)
    job_id = amp.job().id
    decide.set_labour(shop, job_id=job_id, minor=4500)
    tube(shop, "6BQ5", price=2400)
    tube(shop, "6BQ5", price=2600)
    amp.found("V4")
    amp.enter("V4", "10800")
    limit(shop, amp, "6BQ5", Limit(12_000.0, 9_800.0))
    job = only_job(shop, amp)
    assert job.money_then is not None
    assert job.money_now is not None
    assert job.money_then == amp.job().estimate
    # V3 is a reject by today's limit; V4, weak, is of the same match group and goes with it.
    assert (job.money_then.total, job.money_now.total) == (4500, 4500 + 2400 + 2600)
    assert job.more == 5000
    assert today_for(shop).more == 5000


def test_what_the_technician_said_stands_and_so_does_the_money(shop: Shop) -> None:
    amp = read_amplifier(shop)
    tube(shop, "6BQ5", price=2400)
    amp.found("V4")
    amp.enter("V4", "10800")
    for position in ("V3", "V4"):
        bench.set_action(shop, socket_id=amp.id(position), action=Action.KEEP)
    limit(shop, amp, "6BQ5", Limit(12_000.0, 9_800.0))
    job = only_job(shop, amp)
    assert [s.said for s in job.sockets] == [Action.KEEP, Action.KEEP]
    assert [s.proposed_now for s in job.sockets] == [Action.REPLACE, Action.REPLACE]
    assert (job.money_then, job.more) == (None, 0)


def test_what_was_installed_is_told_as_left(shop: Shop) -> None:
    amp = read_amplifier(shop)
    spare = tube(shop, "6BQ5", price=2400)
    amp.found("V4")
    amp.enter("V4", "4000")
    spares.install(shop, item_id=spare, socket_id=amp.id("V4"))
    amp.enter("V4", "10000", stage=Stage.AS_LEFT)
    limit(shop, amp, "6BQ5", Limit(11_000.0, 3_000.0))
    entries = [s for s in only_job(shop, amp).sockets if s.stage is Stage.AS_LEFT]
    (left,) = entries
    assert (left.position, left.now_text) == ("V4", "weak, transconductance")


def test_a_closed_job_is_told_but_its_money_and_its_verdicts_stand(shop: Shop) -> None:
    amp = read_amplifier(shop)
    decide.set_status(shop, job_id=amp.job().id, status=JobStatus.HANDED_BACK)
    limit(shop, amp, "6BQ5", Limit(12_000.0, 10_000.0))
    job = only_job(shop, amp)
    assert (job.closed, job.more) == (True, 0)
    assert [s.position for s in job.sockets] == ["V3", "V4"]
    assert today_for(shop).looked_at == 0
    with pytest.raises(UserError, match="is closed"):
        judge_by_today(shop, job_id=job.job_id)


def test_all_open_jobs_are_asked_at_once(shop: Shop) -> None:
    amp = read_amplifier(shop)
    number, _ = intake.new_job(
        shop, customer="Ines Halloway", maker="Larkmere", model="B3", complement=AMPLIFIER
    )
    other = Bench(shop, number, amp.tester)
    other.found("V3")
    other.enter("V3", "9500")
    third, _ = intake.new_job(
        shop, customer="Ines Halloway", maker="Larkmere", model="C3", complement=AMPLIFIER
    )
    limit(shop, amp, "6BQ5", Limit(12_000.0, 10_000.0))
    told = today_for(shop)
    assert {job.number for job in told.jobs} == {amp.number, number}
    assert (told.looked_at, told.sockets) == (3, 4)
    assert third not in {job.number for job in told.jobs}


def test_judging_again_is_one_act_that_says_what_was_told_and_can_be_taken_back(shop: Shop) -> None:
    amp = read_amplifier(shop)
    limit(shop, amp, "6BQ5", Limit(12_000.0, 10_000.0))
    before = amp.job()
    told = read_socket(shop, amp)
    lines, changes = judge_by_today(shop, job_id=before.id)
    assert lines == 1
    assert changes.said == f"Job {amp.number}: one setting line judged again by today's limits"
    assert amp.at("V3").verdict_text == told.now_text
    assert amp.at("V1") == next(s for s in before.sockets if s.position == "V1")
    assert today_for(shop, job_id=before.id).jobs == ()
    undo.take_back(shop)
    assert amp.job() == before


def test_lines_that_were_read_together_are_judged_together(shop: Shop) -> None:
    amp = read_amplifier(shop)
    lines = setting_lines.setting_lines(shop, tester_id=amp.tester, type_id=shop.book.id_of("12AX7") or 0)
    setting_lines.save_line(shop, line_id=lines[1].id, section="2", limit=Limit(1_800.0, 1_000.0))
    assert judge_by_today(shop, job_id=amp.job().id)[0] == 2
    assert amp.at("V1").verdict.lines_read == 2
    assert amp.at("V1").verdict_text == "weak, transconductance, section 2"


def test_there_is_nothing_to_judge_again_where_nothing_changes(shop: Shop) -> None:
    amp = read_amplifier(shop)
    with pytest.raises(UserError, match="change no verdict"):
        judge_by_today(shop, job_id=amp.job().id)


def test_a_job_that_is_not_there_is_told(shop: Shop) -> None:
    for ask in (lambda: today_for(shop, job_id=77), lambda: judge_by_today(shop, job_id=77)):
        with pytest.raises(UserError, match="gone"):
            ask()


def test_words_are_judged_by_their_places(shop: Shop) -> None:
    amp = amplifier(shop)
    words = add_tester(
        shop,
        "Tester W",
        method="merit words",
        unit="",
        full_scale=None,
        words=("bad", "doubtful", "good"),
        default_good_share=None,
        default_reject_share=None,
        default_good_from=3.0,
        default_reject_below=2.0,
        relative=None,
    )
    amp.tester = words
    amp.found("V3")
    amp.enter("V3", "doubtful")
    limit(shop, amp, "6BQ5", Limit(2.0, None))
    socket = read_socket(shop, amp)
    assert (socket.then_text, socket.now_text) == ("weak, merit words", "good, merit words")
    assert socket.lines[0].words == ("bad", "doubtful", "good")


def test_a_tube_read_on_the_shelf_since_keeps_speaking_by_that_reading(shop: Shop) -> None:
    amp = read_amplifier(shop)
    amp.found("V4")
    amp.enter("V4", "4000")
    item_id = amp.at("V4").found.item_id
    assert item_id is not None
    spares.install(shop, item_id=tube(shop, "6BQ5"), socket_id=amp.id("V4"))
    pulls.keep_pull(shop, item_id=item_id, bin="C9")
    line = amp.line("V3").line_id
    read_spare(shop, item_id=item_id, line_id=line, tester_id=amp.tester, text="11000", confirmed=True)
    limit(shop, amp, "6BQ5", Limit(9_990.0, 9_900.0))
    judge_by_today(shop, job_id=amp.job().id)
    assert amp.at("V3").verdict.word == "reject"
    (kept,) = (row for row in search(shop, find="6BQ5").rows if row.id == item_id)
    assert (kept.verdict, kept.reads) == ("good", "11,000")
