"""What today's limits change, in words."""

from collections.abc import Sequence

from tubeshelf.domain.judging import Limit, Stage
from tubeshelf.domain.money import format_money
from tubeshelf.domain.numbers import format_number
from tubeshelf.domain.verdict_words import merit_word
from tubeshelf.services.spare_verdict import mean_text
from tubeshelf.services.views.bench import EstimateView
from tubeshelf.services.views.today import JobToday, LineToday, SocketToday, TodayView

NOTHING_OF_JOB = "Nothing changes: today's limits say of this job what its verdicts say."
NOTHING_AT_ALL = "Nothing changes: today's limits say of every open job what its verdicts say."
STANDS = (
    "Every verdict stands as it was given. Judge again supersedes those of this job by what today's limits "
    "say; the record keeps the old ones, and take back brings them back."
)
STANDS_IN_ALL = "Every verdict stands as it was given. A job can be judged again on its own: open it here."
STANDS_CLOSED = "This job is closed: it keeps the verdicts and the money that it was closed with."


def limit_words(limit: Limit, words: tuple[str, ...] = ()) -> str:
    """All of a limit: ``good from 7,458, reject below 5,650 (shop default)``."""

    def say(figure: float) -> str:
        return merit_word(figure, words) if words else format_number(figure)

    parts = [
        "" if limit.good_from is None else f"good from {say(limit.good_from)}",
        "" if limit.reject_below is None else f"reject below {say(limit.reject_below)}",
        "" if limit.above is None else f"remark above {say(limit.above)}",
    ]
    said = ", ".join(part for part in parts if part) or "no limit"
    return f"{said} (shop default)" if limit.derived else said


def line_words(lines: Sequence[LineToday]) -> list[str]:
    """What the lines read and both limits, those with the same limits together.

    Where the limits are the same, it is the tester of which something else is known now.
    """
    alike: dict[tuple[str, str], list[LineToday]] = {}
    for line in lines:
        then, now = limit_words(line.then.limit, line.words), limit_words(line.now.limit, line.words)
        changed = f"{then} → {now}" if then != now else f"{now}; its tester is known to repeat otherwise now"
        alike.setdefault((line.tester, changed), []).append(line)
    return [f"{tester}: {_reads(group)}; {changed}" for (tester, changed), group in alike.items()]


def _reads(lines: Sequence[LineToday]) -> str:
    reads = " · ".join(mean_text(line.then, line.words) for line in lines)
    return f"{reads} {lines[0].unit}".rstrip()


def place_words(socket: SocketToday) -> str:
    """Which socket, and that it is about the tube as left where it is."""
    left = "as left" if socket.stage is Stage.AS_LEFT else ""
    return " · ".join(part for part in (socket.role, left) if part)


def proposal_words(socket: SocketToday) -> str:
    """What is proposed then and now; empty where that stays."""
    if socket.proposed_then is socket.proposed_now:
        return ""
    why = f", {socket.why}" if socket.why else ""
    said = "" if socket.said is None else f"; you said {socket.said}, which stands"
    return f"Proposed: {socket.proposed_then} → {socket.proposed_now}{why}{said}"


def money_words(job: JobToday, currency: str) -> str:
    """The estimate then and now; empty where no proposal that counts has changed."""
    then, now = job.money_then, job.money_now
    if then is None or now is None:
        return ""
    if job.more == 0:
        told = f"The estimate stays {format_money(now.total, currency)}."
    else:
        totals = f"{format_money(then.total, currency)} → {format_money(now.total, currency)}"
        told = f"Estimate: {totals}, {more_words(job.more, currency)}."
    return " ".join(part for part in (told, _unpriced(now), _over(now, currency)) if part)


def more_words(more: int, currency: str) -> str:
    """A difference of money: ``50.00 more``."""
    return f"{format_money(abs(more), currency)} {'more' if more > 0 else 'less'}"


def _unpriced(estimate: EstimateView) -> str:
    if not estimate.unpriced:
        return ""
    many = "One tube has" if estimate.unpriced == 1 else f"{estimate.unpriced} tubes have"
    return f"{many} no price yet: the total is without."


def _over(estimate: EstimateView, currency: str) -> str:
    return f"That is {format_money(estimate.over, currency)} over what was agreed." if estimate.over else ""


def moved_words(job: JobToday) -> str:
    """How many sockets only have other limits; empty for none."""
    if not job.moved:
        return ""
    where = "In one socket" if job.moved == 1 else f"In {job.moved} sockets"
    more = " more" if job.sockets else ""
    return f"{where}{more} other limits hold now; the verdict stays the same."


def summary(view: TodayView, currency: str) -> str:
    """All open jobs in a sentence: ``Of 6 open jobs 2 change: 3 sockets, 50.00 more.``"""
    jobs = f"{view.looked_at} open jobs" if view.looked_at != 1 else "one open job"
    many = sum(bool(job.sockets) for job in view.jobs)
    if not many:
        return f"Of {jobs} none changes."
    sockets = f"{view.sockets} {'socket' if view.sockets == 1 else 'sockets'}"
    more = f", {more_words(view.more, currency)}" if view.more else ""
    return f"Of {jobs} {many} {'changes' if many == 1 else 'change'}: {sockets}{more}."


def rest_words(jobs: Sequence[JobToday]) -> str:
    """The jobs that are not told of one by one, with how to ask of them."""
    numbers = ", ".join(str(job.number) for job in jobs)
    return f"Also of {len(jobs)} more: {numbers}. Take one in hand and press Ctrl L."
