"""Words of the bench page: its title, its keys, its cautions."""

from dataclasses import astuple

from tubeshelf.domain.cautions import DEFERENCE
from tubeshelf.domain.dates import format_date
from tubeshelf.domain.jobs import FoundState
from tubeshelf.domain.judging import Stage
from tubeshelf.domain.verdict_words import AFTER_DO_NOT_POWER
from tubeshelf.services.views.bench import JobView
from tubeshelf.ui.pages.bench_spots import Spot
from tubeshelf.ui.signs import Signs, shown

Keys = tuple[tuple[str, str], ...]

_BEFORE = (
    "Lethal voltage and stored charge stay after the plug is out: discharge, then measure. Short test before "
    "quality test. Hot glass."
)
_AFTER = (
    "First power with the current limited. Some chassis are live: use an isolation transformer, never a "
    "bench ground."
)


def title_of(job: JobView) -> tuple[str, ...]:
    """The title of a job and the facts that identify it."""
    return (
        f"Job {job.number} · {job.equipment or job.title}",
        f"serial {job.serial}" if job.serial else "",
        job.complaint,
        f"promised for {format_date(job.promised_on)}" if job.promised_on else "",
        f"comes back from job {job.comeback_of}" if job.comeback_of else "",
        job.customer,
    )


def hint(job: JobView) -> str:
    """What else one should know before going on, in a sentence; empty for nothing."""
    if not job.sockets:
        return "This job has no sockets yet: type its complement on the Jobs page."
    if not job.testers:
        return "No tester is set up yet: add one on the Testers page, then readings can be taken."
    return " ".join(job.swaps)


def caution(job: JobView) -> str:
    """The one line of cautions that belongs to what is being done."""
    first = AFTER_DO_NOT_POWER if job.harm else _AFTER if job.stage is Stage.AS_LEFT else _BEFORE
    return f"{first} {DEFERENCE}"


def keys_at(job: JobView | None, spot: Spot | None, signs: Signs) -> Keys:
    """The keys that work now, most wanted first; ``signs`` are the five of the number pad."""
    if job is None or spot is None:
        return (("Enter", "open job"), ("Ctrl N", "new job"))
    socket = job.socket(spot.socket_id)
    enter, plus, minus, slash, star = map(shown, astuple(signs))
    if job.stage is Stage.AS_LEFT or spot.line is not None:
        here: Keys = ((enter, "next"), (plus, "read again"), (star, "mark"))
    elif socket.found.state is FoundState.NOT_LOOKED:
        here = ((plus, "as intended"), ("A … 9", "another type"), (star, "empty, mark"), (enter, "skip"))
    else:
        here = ((enter, "next"), (plus, "as intended"), ("A … 9", "another type"), (star, "mark"))
    return (*here, (minus, "back"), (slash, "take back"), *_DECIDE)


_DECIDE: Keys = (
    ("F5", "keep"),
    ("F6", "replace"),
    ("F7", "undecided"),
    ("F10", "what may go here"),
    ("F9", "install"),
    ("Shift F9", "promise"),
    ("F2", "what was found"),
    ("F3", "believed to be"),
    ("F4", "changed on purpose"),
    ("Shift F6", "customer agreed"),
    ("Shift F5", "customer declined"),
    ("Shift F7", "ask again"),
    ("Ctrl E", "measured in the set"),
    ("Ctrl J", "this job on the Jobs page"),
    ("Ctrl L", "as found / as left"),
    ("Ctrl T", "next tester"),
    ("Ctrl Shift T", "another tester for this socket"),
    ("Ctrl Y", "do again"),
    ("Ctrl R", "readings picture"),
    ("Ctrl Shift A", "put aside, chassis tag"),
    ("Ctrl O", "other job"),
)
