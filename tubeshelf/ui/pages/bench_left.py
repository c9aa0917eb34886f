"""What stands at the foot of the bench as left: what the set still waits for before it can go back."""

from tubeshelf.services.views.bench import JobView
from tubeshelf.ui.pages.bench_spots import asks


def left_text(job: JobView, unmeasured: int = 0) -> str:
    """What is missing, in words; ``unmeasured`` counts values of the set that are asked for."""
    installed = [socket for socket in job.sockets if socket.fitted is not None]
    unread = [socket for socket in installed if asks(socket, job.stage)]
    missing = (
        (len(unread), f"installed {_tubes(len(unread))} not read as left"),
        (job.to_replace, "to replace"),
        (unmeasured, f"{'value' if unmeasured == 1 else 'values'} not measured in the set"),
    )
    said = [f"{number} {words}" for number, words in missing if number]
    if said:
        return " · ".join(said)
    if not installed:
        return "No tube was installed: all count as found."
    return f"{len(installed)} installed {_tubes(len(installed))} read as left."


def _tubes(number: int) -> str:
    return "tube" if number == 1 else "tubes"
