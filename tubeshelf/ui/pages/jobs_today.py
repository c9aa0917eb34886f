"""The sheet that tells what today's limits would say: of the job in hand, or of all open jobs."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QGridLayout, QVBoxLayout, QWidget

from tubeshelf.domain.errors import UserError
from tubeshelf.domain.judging import TubeVerdict
from tubeshelf.domain.verdict_words import doubt_text
from tubeshelf.services.judged_again import judge_by_today
from tubeshelf.services.shop import Shop
from tubeshelf.services.today import today_for
from tubeshelf.services.views.today import JobToday, SocketToday, TodayView
from tubeshelf.ui import tokens
from tubeshelf.ui.marks import Look, MarkLabel, verdict_look
from tubeshelf.ui.pages import jobs_today_words as words
from tubeshelf.ui.parts.buttons import Act, Link
from tubeshelf.ui.parts.empty import Empty
from tubeshelf.ui.parts.notice import Notice
from tubeshelf.ui.parts.sheet import Sheet, clear
from tubeshelf.ui.parts.text import label, rule
from tubeshelf.ui.runner import Runner

_ASKING = "Asking of every open job what today's limits say of it …"

MOST_JOBS = 20
"""Jobs told of socket by socket; further ones by number, for nobody reads on."""


class TodaySheet(Sheet):
    """``left`` when it is done with, ``told`` when it shows something else, ``wrote`` carries the Changes of
    judging again, ``job_wanted`` the id of the one job of all that is to be looked at."""

    left = Signal()
    told = Signal()
    wrote = Signal(object)
    job_wanted = Signal(int)

    def __init__(self, shop: Shop, runner: Runner) -> None:
        super().__init__("Today's limits", scrolls=True)
        self._shop, self._runner = shop, runner
        self._job_id: int | None = None
        self.view = TodayView(0, ())
        self.notice = Notice()
        self.summary = label("", wrap=True)
        self._rows = QVBoxLayout()
        self._rows.setSpacing(tokens.GAP)
        self.note = label("", "small", wrap=True)
        for part in (self.notice, self.summary):
            self.body.addWidget(part)
        self.body.addLayout(self._rows)
        self.body.addWidget(self.note)
        self.body.addStretch(1)
        self.back = Act("Back", "Esc")
        self.back.clicked.connect(self.left)
        self.again = Act("Judge again", "Ctrl+Return", shown="Ctrl Enter")
        self.again.clicked.connect(self._judge_again)
        foot = self.foot()
        foot.addWidget(self.back)
        foot.addStretch(1)
        foot.addWidget(self.again)

    def show_job(self, job_id: int, number: int) -> None:
        """Ask of one job; UserError if it is gone."""
        self._job_id = job_id
        self.set_title(f"Today's limits: job {number}")
        self.refresh()
        (self.again if self.again.isVisibleTo(self) else self.back).setFocus()

    def show_all(self) -> None:
        """Ask of all open jobs, beside the window's own work: there may be many."""
        self._job_id = None
        self.set_title("Today's limits: all open jobs")
        self.refresh()
        self.back.setFocus()

    def refresh(self) -> None:
        """Ask again, of the same."""
        self.notice.clear()
        if self._job_id is not None:
            self._show(today_for(self._shop, job_id=self._job_id))
            return
        self._clear(_ASKING)
        record = self._shop.record
        # A shop of its own: what a shop keeps in memory belongs to the thread that uses it.
        self._runner.run("Today's limits", lambda ticket: today_for(Shop(record)), self._show_all, self._fail)

    def _show_all(self, view: TodayView) -> None:
        if self._job_id is None:  # nobody asked of one job meanwhile
            self._show(view)

    def _fail(self, sentence: str) -> None:
        self._clear("")
        self.notice.fail(sentence)

    def _clear(self, told: str) -> None:
        clear(self._rows)
        self.summary.setText(told)
        for part, shown in ((self.summary, bool(told)), (self.note, False), (self.again, False)):
            part.setVisible(shown)
        self.told.emit()

    def _show(self, view: TodayView) -> None:
        self.view = view
        whole = self._job_id is None
        currency = self._shop.settings.currency
        self._clear(words.summary(view, currency) if whole and view.jobs else "")
        if not view.jobs:
            self._rows.addWidget(Empty(words.NOTHING_AT_ALL if whole else words.NOTHING_OF_JOB))
            return
        for job in view.jobs[:MOST_JOBS]:
            self._add_job(job, currency, headed=whole)
        if rest := view.jobs[MOST_JOBS:]:
            self._rows.addWidget(label(words.rest_words(rest), wrap=True))
        closed = any(job.closed for job in view.jobs)
        one = words.STANDS_CLOSED if closed else words.STANDS
        self.note.setText(words.STANDS_IN_ALL if whole else one)
        self.note.show()
        self.again.setVisible(not whole and not closed)
        self.told.emit()

    def _add_job(self, job: JobToday, currency: str, *, headed: bool) -> None:
        if headed:
            link = Link(f"Job {job.number} · {job.title} · {job.customer}")
            link.clicked.connect(lambda _=False, job_id=job.job_id: self.job_wanted.emit(job_id))
            self._rows.addWidget(link, 0, Qt.AlignmentFlag.AlignLeft)
        for socket in job.sockets:
            self._rows.addWidget(socket_row(socket))
        for told in (words.moved_words(job), words.money_words(job, currency)):
            if told:
                self._rows.addWidget(label(told, "strong" if told.startswith("Estimate") else "", wrap=True))
        if headed:
            self._rows.addWidget(rule())

    def _judge_again(self) -> None:
        if self._job_id is None:
            return
        self.notice.clear()
        try:
            _, changes = judge_by_today(self._shop, job_id=self._job_id)
        except UserError as error:
            self.notice.fail(error.sentence)
            return
        self.back.setFocus()  # the act is hidden once there is nothing left to judge
        self.wrote.emit(changes)


def socket_row(socket: SocketToday) -> QWidget:
    """A socket: both verdicts side by side by mark and word, below them the limits and what is proposed."""
    whole = QWidget()
    grid = QGridLayout(whole)
    grid.setContentsMargins(0, 0, 0, 0)
    grid.setHorizontalSpacing(8)
    grid.setVerticalSpacing(2)
    grid.setColumnStretch(4, 1)
    grid.addWidget(label(socket.position, "strong"), 0, 0)
    grid.addWidget(MarkLabel(_look(socket.then)), 0, 1)
    grid.addWidget(label("→", "soft"), 0, 2)
    grid.addWidget(MarkLabel(_look(socket.now)), 0, 3)
    details = (words.place_words(socket), *words.line_words(socket.lines), words.proposal_words(socket))
    for row, told in enumerate((told for told in details if told), start=1):
        grid.addWidget(label(told, "small", wrap=True), row, 1, 1, 4)
    whole.setAccessibleName(f"{socket.position}: {socket.then_text}, today {socket.now_text}")
    return whole


def _look(verdict: TubeVerdict) -> Look:
    return verdict_look(verdict.word, doubt_text(verdict))
