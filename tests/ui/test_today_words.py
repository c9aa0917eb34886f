"""What today's limits change, as it is worded."""

from dataclasses import replace
from datetime import date

from tubeshelf.domain.jobs import Action
from tubeshelf.domain.judging import Limit, LineVerdict, Repeatability, Stage, TubeVerdict
from tubeshelf.domain.verdict import judge_line
from tubeshelf.services.views.bench import ApprovalView, EstimateView
from tubeshelf.services.views.today import JobToday, LineToday, SocketToday, TodayView
from tubeshelf.ui.pages import jobs_today_words as words

LIMIT = Limit(7000, 5600, unit="µmho")
VERDICT = TubeVerdict("good", True)
SOCKET = SocketToday(
    1, "V3", "output", Stage.AS_FOUND, (), VERDICT, VERDICT, "", "", Action.KEEP, Action.REPLACE, None
)
JOB = JobToday(1, 214, "Larkmere A12", "Ada Brindle", closed=False, sockets=(SOCKET,), moved=0)


def judged(value: float, limit: Limit | None, relative: float = 0.03) -> LineVerdict:
    return judge_line([value], limit, Repeatability(relative=relative))


def line(then: LineVerdict, now: LineVerdict, label: str = "", scale: tuple[str, ...] = ()) -> LineToday:
    return LineToday(label, "Tester B", "" if scale else "µmho", scale, then, now)


def money(total: int, unpriced: int = 0, ceiling: int | None = None) -> EstimateView:
    approval = None if ceiling is None else ApprovalView("Ada", date(2026, 3, 2), "", ceiling)
    return EstimateView(total, 0, total, unpriced, (), approval)


def test_a_limit_is_said_whole() -> None:
    assert words.limit_words(LIMIT) == "good from 7,000, reject below 5,600"
    assert words.limit_words(replace(LIMIT, above=14000, derived=True)) == (
        "good from 7,000, reject below 5,600, remark above 14,000 (shop default)"
    )
    assert words.limit_words(Limit(None, None)) == "no limit"
    assert (
        words.limit_words(Limit(3, 2), ("bad", "doubtful", "good")) == "good from good, reject below doubtful"
    )


def test_lines_with_the_same_limits_are_told_together() -> None:
    new = Limit(8000, 6000)
    lines = [
        line(judged(7200, LIMIT), judged(7200, new), "section 1"),
        line(judged(7400, LIMIT), judged(7400, new), "section 2"),
        line(judged(7600, None), judged(7600, new), "balance"),
    ]
    now = "good from 8,000, reject below 6,000"
    assert words.line_words(lines) == [
        f"Tester B: 7,200 · 7,400 µmho; good from 7,000, reject below 5,600 → {now}",
        f"Tester B: 7,600 µmho; no limit → {now}",
    ]


def test_where_the_limit_stays_it_is_the_tester_that_changed() -> None:
    (told,) = words.line_words([line(judged(7200, LIMIT), judged(7200, LIMIT, 0.001))])
    assert told.endswith("reject below 5,600; its tester is known to repeat otherwise now")


def test_words_of_a_merit_scale_are_said_as_words() -> None:
    scale = ("bad", "doubtful", "good")
    (told,) = words.line_words([line(judged(2, Limit(3, None)), judged(2, Limit(2, None)), scale=scale)])
    assert told == "Tester B: doubtful; good from good → good from doubtful"


def test_what_is_proposed_and_what_the_technician_said() -> None:
    assert words.proposal_words(SOCKET) == "Proposed: keep → replace"
    matched = replace(SOCKET, why="matched with the rest of group A")
    assert words.proposal_words(matched) == "Proposed: keep → replace, matched with the rest of group A"
    said = replace(SOCKET, said=Action.KEEP)
    assert words.proposal_words(said) == "Proposed: keep → replace; you said keep, which stands"
    assert words.proposal_words(replace(SOCKET, proposed_now=Action.KEEP)) == ""
    assert words.place_words(replace(SOCKET, stage=Stage.AS_LEFT)) == "output · as left"


def test_money_goes_up_down_or_stays() -> None:
    assert words.money_words(JOB, "€") == ""
    up = replace(JOB, money_then=money(4500), money_now=money(9500))
    assert words.money_words(up, "") == "Estimate: 45.00 → 95.00, 50.00 more."
    down = replace(JOB, money_then=money(9500), money_now=money(4500))
    assert words.money_words(down, "") == "Estimate: 95.00 → 45.00, 50.00 less."
    same = replace(JOB, money_then=money(4500), money_now=money(4500, unpriced=2))
    assert words.money_words(same, "") == (
        "The estimate stays 45.00. 2 tubes have no price yet: the total is without."
    )
    over = replace(JOB, money_then=money(4500), money_now=money(9500, ceiling=6000))
    assert words.money_words(over, "").endswith("That is 35.00 over what was agreed.")


def test_all_jobs_in_a_sentence() -> None:
    other = replace(JOB, number=215, sockets=(), moved=1)
    dear = replace(JOB, money_then=money(0), money_now=money(5000))
    assert words.summary(TodayView(6, (JOB, other)), "") == "Of 6 open jobs 1 changes: 1 socket."
    assert words.summary(TodayView(6, (dear, JOB)), "") == "Of 6 open jobs 2 change: 2 sockets, 50.00 more."
    assert words.summary(TodayView(1, (other,)), "") == "Of one open job none changes."
    assert words.rest_words([JOB, other]) == "Also of 2 more: 214, 215. Take one in hand and press Ctrl L."


def test_sockets_that_only_have_other_limits() -> None:
    assert words.moved_words(JOB) == ""
    assert words.moved_words(replace(JOB, moved=1)) == (
        "In one socket more other limits hold now; the verdict stays the same."
    )
    assert words.moved_words(replace(JOB, sockets=(), moved=2)) == (
        "In 2 sockets other limits hold now; the verdict stays the same."
    )
