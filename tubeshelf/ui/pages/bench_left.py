"""The counts at the foot of the bench: what is left to decide, and as left what the set still waits for."""

from tubeshelf.domain.judging import Stage
from tubeshelf.services.views.bench import JobView
from tubeshelf.ui.pages.bench_spots import asks


def counts_of(job: JobView, unmeasured: int | None = None) -> tuple[tuple[int, str], ...]:
    """Numbers with their words. ``unmeasured`` counts values of the set, ``None`` if none are asked for."""
    to_replace = (job.to_replace, "to replace")
    if job.stage is not Stage.AS_LEFT:
        return to_replace, (job.undecided, "undecided"), (job.not_on_hand, "not on hand")
    unread = sum(socket.fitted is not None and asks(socket, job.stage) for socket in job.sockets)
    installed = f"installed {'tube' if unread == 1 else 'tubes'} not read as left"
    values = () if unmeasured is None else ((unmeasured, "not measured in the set"),)
    return (unread, installed), to_replace, *values
