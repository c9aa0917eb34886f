"""One background runner for work over about 50 ms, with progress, cancel, and answers in the GUI thread."""

import threading
from collections.abc import Callable
from typing import Generic, TypeVar

from PySide6.QtCore import QObject, QRunnable, QThreadPool, Signal

from tubeshelf.domain.errors import UserError

T = TypeVar("T")


class Cancelled(Exception):  # noqa: N818 - it is an order, not an error
    """Raised within the work when the user has stopped it."""


class Ticket:
    """What the work is given: it reports progress and learns that it is no longer wanted."""

    def __init__(self, report: Callable[[int, int], None]) -> None:
        self._report = report
        self._stop = threading.Event()

    def progress(self, done: int, total: int = 0) -> None:
        """Report, and stop here by raising Cancelled if the user said so."""
        if self._stop.is_set():
            raise Cancelled
        self._report(done, total)

    def cancel(self) -> None:
        """Ask the work to stop at its next report."""
        self._stop.set()


class Runner(QObject):
    """Runs one piece of work after the other.

    ``busy`` carries (words, done, total) and ``idle`` says that nothing is under way; both and all
    callbacks arrive in the GUI thread.
    """

    busy = Signal(str, int, int)
    idle = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._pool = QThreadPool(self)
        self._pool.setMaxThreadCount(1)
        self._jobs: list[_Job[object]] = []

    def run(
        self,
        words: str,
        work: Callable[[Ticket], T],
        done: Callable[[T], None],
        failed: Callable[[str], None],
        cancelled: Callable[[], None] | None = None,
    ) -> Ticket:
        """Run ``work`` and hand its result to ``done``, or the sentence of a UserError to ``failed``.

        Any other error is a bug: it is raised again in the GUI thread, where the trouble dialogue
        gets it.
        """
        job: _Job[T] = _Job(work)
        self._jobs.append(job)  # type: ignore[arg-type] # kept alive until it has answered, whatever it answers
        job.told.moved.connect(lambda at, of: self.busy.emit(words, at, of))
        job.told.ended.connect(lambda: self._answer(job, done, failed, cancelled))
        self.busy.emit(words, 0, 0)
        self._pool.start(job)
        return job.ticket

    def cancel(self) -> None:
        """Stop all that is under way or waiting."""
        for job in self._jobs:
            job.ticket.cancel()

    def wait(self) -> None:
        """Cancel and wait: for closing the window."""
        self.cancel()
        self._pool.waitForDone()

    def _answer(
        self,
        job: "_Job[T]",
        done: Callable[[T], None],
        failed: Callable[[str], None],
        cancelled: Callable[[], None] | None,
    ) -> None:
        self._jobs.remove(job)  # type: ignore[arg-type] # as above
        if not self._jobs:
            self.idle.emit()
        if isinstance(job.error, UserError):
            failed(job.error.sentence)
        elif isinstance(job.error, Cancelled):
            if cancelled is not None:
                cancelled()
        elif job.error is not None:
            raise job.error
        else:
            done(job.result[0])


class _Told(QObject):
    """Made in the GUI thread, so that what the worker emits is delivered there."""

    moved = Signal(int, int)
    ended = Signal()


class _Job(QRunnable, Generic[T]):
    def __init__(self, work: Callable[[Ticket], T]) -> None:
        super().__init__()
        self.setAutoDelete(False)
        self.told = _Told()
        self.ticket = Ticket(self.told.moved.emit)
        self.result: list[T] = []
        self.error: BaseException | None = None
        self._work = work

    def run(self) -> None:
        """In the worker: whatever happens is kept for the GUI thread to deal with."""
        try:
            self.ticket.progress(0)
            self.result.append(self._work(self.ticket))
        except BaseException as error:  # noqa: BLE001 - raised again in the GUI thread
            self.error = error
        self.told.ended.emit()
