"""Where the tubes are, at the bench: which one is out, and what is asked before the set is put aside."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtCore import QTimer

from tubeshelf.domain.errors import UserError
from tubeshelf.services.shop import Shop
from tubeshelf.services.views.aside import Whereabouts
from tubeshelf.ui.bridge import Bridge
from tubeshelf.ui.pages.bench_spots import has_tube
from tubeshelf.ui.parts.aside import AsideQuestion

if TYPE_CHECKING:
    from tubeshelf.ui.pages.bench import BenchPage

_MOST_NAMED = 4
_LATER_MS = 60
"""Behind the painting of what the last key did, and behind what the page itself reads then."""


class BenchAside:
    """Counts the tubes that are out in the foot of the table, once the page is painted, and asks before a
    job leaves the bench with a socket empty."""

    def __init__(
        self, shop: Shop, page: BenchPage, bridge: Bridge, print_tag: Callable[[int], object]
    ) -> None:
        self._page = page
        self.question = AsideQuestion(shop, page, bridge.publish, print_tag)
        self._later = QTimer(page)
        self._later.setSingleShot(True)
        self._later.setInterval(_LATER_MS)
        self._later.timeout.connect(self._count)
        page.keys_changed.connect(self._later.start)

    def leave(self) -> None:
        """Ctrl O: take the job off the bench."""
        self._ask(self._page.leave_job)

    def make_way(self, job_id: int, then: Callable[[], object]) -> None:
        """Put another job on the bench as ``then`` does, which may have to wait for an answer."""
        job = self._page.desk.job
        if job is None or job.id == job_id:
            then()
            self._welcome()
        else:
            self._ask(then)

    def may_close(self) -> bool:
        """Whether the window may be closed; if not, the question stands on the page."""
        here = self._here()
        return here is None or self.question.first(here, lambda: None, self._page.back_to_entry)

    def print_tag(self) -> None:
        """Ctrl Shift A: put the set aside, with its tag; or say that what was out then is back."""
        here = self._here()
        if here is None:
            return
        if here.asks:
            self.question.first(here, lambda: None, self._page.back_to_entry)
        elif here.left_out:
            self.question.ask_back(here, self._page.back_to_entry)
        else:
            self.question.print_tag(here.job_id)

    def _welcome(self) -> None:
        here = self._here()
        if here is not None:
            self.question.tell_opened(here)

    def _ask(self, then: Callable[[], object]) -> None:
        here = self._here()
        if here is None:
            then()
            return

        def leave() -> None:
            then()
            self.question.tell_left(here)

        self.question.first(here, leave, self._page.back_to_entry)

    def _here(self) -> Whereabouts | None:
        """Where the tubes are; None without a job, or where the record cannot tell, which the page says."""
        job, socket = self._page.desk.job, self._page.desk.socket
        if job is None:
            return None
        due = socket is not None and has_tube(socket, job.stage)
        due = due and socket is not None and any(not line.readings for line in socket.lines)
        position = "" if socket is None else socket.position
        try:
            return self.question.stands(job.id, in_hand=position, reading_due=due)
        except UserError:
            return None

    def _count(self) -> None:
        here = self._here()
        if here is not None:
            self._page.frame.show_out(*_counts(here))


def _counts(here: Whereabouts) -> tuple[tuple[int, str], ...]:
    """How many tubes are out, and how many other sockets stand empty, with their positions."""
    others = [position for position in here.empty if position not in here.out]
    named = ", ".join(others[:_MOST_NAMED]) + (" …" if len(others) > _MOST_NAMED else "")
    sockets = "socket" if len(others) == 1 else "sockets"
    counts = ((len(here.out), f"tube out: {', '.join(here.out)}"), (len(others), f"{sockets} empty: {named}"))
    return tuple(count for count in counts if count[0])
