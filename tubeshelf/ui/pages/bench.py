"""The bench: one job, one row a socket, everything by keyboard; beside it the socket in hand."""

from collections.abc import Callable, Sequence
from functools import cached_property, partial
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QStackedWidget

from tubeshelf.domain.errors import UserError
from tubeshelf.domain.jobs import Action, Answer
from tubeshelf.domain.judging import Stage
from tubeshelf.services import jobs
from tubeshelf.services.after_reading import with_reading
from tubeshelf.services.changes import Changes, Kind
from tubeshelf.services.earlier import earlier_readings
from tubeshelf.services.recording import ReadingTaken
from tubeshelf.services.shop import Shop
from tubeshelf.services.spares import best_spares
from tubeshelf.services.undo import do_again, take_back
from tubeshelf.services.views.bench import JobView, LineView
from tubeshelf.ui.bridge import Bridge
from tubeshelf.ui.page import Page
from tubeshelf.ui.pages import bench_spots as spots
from tubeshelf.ui.pages.bench_aside import BenchAside
from tubeshelf.ui.pages.bench_desk import Desk, Hooks, Move, stay
from tubeshelf.ui.pages.bench_frame import BenchFrame
from tubeshelf.ui.pages.bench_jobs import JobPicker
from tubeshelf.ui.pages.bench_rows import bench_rows, own_testers
from tubeshelf.ui.pages.bench_table import SocketTable
from tubeshelf.ui.pages.bench_words import keys_at
from tubeshelf.ui.parts.sheet import Sheet
from tubeshelf.ui.parts.split import Split
from tubeshelf.ui.place import Place
from tubeshelf.ui.signs import Signs

if TYPE_CHECKING:
    from tubeshelf.ui.pages.bench_acts import Acts
    from tubeshelf.ui.pages.bench_detail import BenchDetail
    from tubeshelf.ui.pages.bench_in_set import InSet
    from tubeshelf.ui.pages.bench_map import ChassisBeside


_LATER_MS, _BESIDE_MS = 40, 25
"""How long after a key what follows from it is read: behind its painting, before the next one is likely."""

MOST_SPARES = 12
"""Of so many best spares the detail shows the first and the one named in the line."""


class BenchPage(Page):
    """Readings, verdicts, fits and decisions of one job.

    ``print_retube``, ``print_tag`` and ``show_picture`` get the id of the job. ``last_job`` is opened at
    first; ``remember`` is told which one was opened since. ``detail`` and ``acts`` are there once a job is.
    """

    name = "bench"
    shows = frozenset({Kind.JOB, Kind.ITEM, Kind.TYPE, Kind.TESTER, Kind.MODEL, Kind.SETTING})
    detail: "BenchDetail"
    acts: "Acts"
    in_set: "InSet"
    chassis: "ChassisBeside"

    def __init__(
        self,
        shop: Shop,
        bridge: Bridge,
        *,
        print_retube: Callable[[int], object],
        show_picture: Callable[[int], object],
        last_job: int | None = None,
        remember: Callable[[int], None] = lambda job_id: None,
        print_tag: Callable[[int], object] = lambda job_id: None,
        signs: Callable[[], Signs] = Signs,
    ) -> None:
        super().__init__()
        self._shop, self._bridge = shop, bridge
        self._print, self._picture, self._remember = print_retube, show_picture, remember
        self._job_id = last_job
        self._tester_id: int | None = None
        self._own_testers: dict[int, int] = {}
        self._stage = Stage.AS_FOUND
        self._beside_of: int | None = None
        self._beside = QTimer(self)
        self._beside.setSingleShot(True)
        self._beside.setInterval(_BESIDE_MS)
        self._beside.timeout.connect(self._show_beside)
        self._detail_due = QTimer(self)
        self._detail_due.setSingleShot(True)
        self._detail_due.timeout.connect(self.show_in_detail)
        self._put_off: list[Changes] = []
        self._later = QTimer(self)
        self._later.setSingleShot(True)
        self._later.setInterval(_LATER_MS)
        self._later.timeout.connect(self.settle)
        self.table, self.picker = SocketTable(), JobPicker()
        self.table.field.signs_now = signs
        hooks = Hooks(
            self.wrote,
            self._took_reading,
            self._spot_changed,
            lambda: self.acts.open_marks(),
            lambda: self._walk(take_back),
            lambda: self._walk(do_again),
            self._left,
        )
        self.desk = Desk(shop, self.table, self.name, hooks)
        self.frame = BenchFrame(self.head)
        self.aside = BenchAside(shop, self, bridge, print_tag)
        self._compose()
        self._connect()

    # ---- What pages do

    def load(self) -> None:
        """Read the job anew, or the list of open jobs while none is on the bench."""
        self._tell_put_off()
        if self._job_id is None:
            self._show_picker()
            return
        try:
            job = self._read_job(self._job_id)
        except UserError:
            if self.desk.job is not None:
                raise
            self.leave_job()  # the job that was open last time is of another record
            return
        self._show_job(job, self.desk.spot)

    def keys(self) -> Sequence[tuple[str, str]]:
        """What the keys do where the entry stands."""
        entering = self.in_set.keys or self.detail.marks.keys if self.desk.job is not None else ()
        return entering or keys_at(self.desk.job, self.desk.spot, self.table.field.signs)

    def show_thing(self, kind: Kind, thing_id: int) -> None:
        """Put a job on the bench."""
        if kind is Kind.JOB:
            self.open_job(thing_id)

    def print_out(self) -> None:
        """The retube list of this job."""
        self.settle()
        if self.desk.job is None:
            self.notice.tell("Open a job first; then this makes its retube list.")
        else:
            self._print(self.desk.job.id)

    def open_job(self, job_id: int) -> None:
        """Put a job on the bench, at the first thing that is left to do; one that is there may ask first."""
        self.aside.make_way(job_id, partial(self._put_on_bench, job_id))

    def may_close(self) -> bool:
        """Asked once where a socket of the job stands empty."""
        return self.aside.may_close()

    def _put_on_bench(self, job_id: int) -> None:
        if job_id != self._job_id:
            self.desk.show(None, None)
            self._tester_id, self._stage = None, Stage.AS_FOUND
            self._own_testers = {}
        self._job_id = job_id
        self._load()
        self._remember(job_id)
        self.table.field.setFocus()

    def leave_job(self) -> None:
        """Take the job off the bench: back to the list of open jobs."""
        self._job_id = None
        self.desk.show(None, None)
        self._load()
        self.setFocus()

    def wrote(self, changes: Changes, move: Move = stay) -> None:
        """An act of this page was stored: show it, go on as ``move`` says, and tell everybody."""
        if self._job_id is not None:
            job = self._read_job(self._job_id)
            spot = spots.still(job, self.desk.spot)
            there = None if spot is None else move(job, spot)
            self._show_job(job, there or spot)
        self._tell_put_off()
        self._bridge.publish(changes)

    @property
    def idle(self) -> bool:
        """Whether nothing is put off: everything that follows from the last key is on show."""
        timers = (self._detail_due, self._later, self._beside)
        return not any(timer.isActive() for timer in timers)

    def settle(self) -> None:
        """Do now what the last readings put off: read the job afresh, and tell everybody."""
        if not self._put_off:
            return
        if self._job_id is not None:
            try:
                self._show_job(self._read_job(self._job_id), self.desk.spot)
            except UserError as error:
                self.notice.fail(error.sentence)
        self._tell_put_off()

    def _tell_put_off(self) -> None:
        self._later.stop()
        told, self._put_off = self._put_off, []
        for changes in told:
            self._bridge.publish(changes)

    def _took_reading(self, line: LineView, taken: ReadingTaken, changes: Changes, move: Move) -> None:
        """A reading was stored: show its verdict at once, and all that follows from it in the next turn."""
        job, spot = self.desk.job, self.desk.spot
        if job is not None and spot is not None:
            job = with_reading(self._shop, job, socket_id=spot.socket_id, line=line, taken=taken)
            self.desk.show(job, move(job, spot) or spot)
            self._spot_changed()
        self._put_off.append(changes)
        self._later.start()

    # ---- Showing

    def _read_job(self, job_id: int) -> JobView:
        return jobs.open_job(
            self._shop,
            job_id=job_id,
            tester_id=self._tester_id,
            stage=self._stage,
            own_testers=self._own_testers,
        )

    def _show_picker(self) -> None:
        self.frame.show_nothing()
        self.picker.show_jobs(jobs.list_jobs(self._shop))
        self._stack.setCurrentWidget(self.picker)
        self.setFocusProxy(self.picker)
        self.keys_changed.emit()

    def _show_job(self, job: JobView, spot: spots.Spot | None) -> None:
        before = self.desk.job
        again = before is not None and before.id == job.id
        changed = before != job
        self.desk.show(job, spot if again else spots.first(job))
        self._tester_id = None if job.tester is None else job.tester.id
        if not again:
            self._own_testers = own_testers(job)
        self._stack.setCurrentWidget(self._split)
        self.setFocusProxy(self.table.field)
        if changed:
            self._beside_of = None
            self.frame.show_job(job)
        self.in_set.refresh(job)
        self._spot_changed()
        self.show_in_detail()
        if not again:
            self.table.begin()

    def _spot_changed(self) -> None:
        """Show where the entry stands: rows, field, detail, keys."""
        job, spot = self.desk.job, self.desk.spot
        if job is None:
            return
        unit = "" if job.tester is None else job.tester.scale.unit
        self.table.rows.show_rows(bench_rows(self._shop, job, spot, self.table.rows.rows), unit, job.stage)
        self.table.show_spot(job, spot)
        self._detail_due.start()
        self.keys_changed.emit()

    def show_in_detail(self) -> None:
        """Bring the detail up to where the entry stands; by itself that comes once the row is painted."""
        self._detail_due.stop()
        job, socket = self.desk.job, self.desk.socket
        if job is None or socket is None:
            self.detail.show_nothing()
            return
        self.detail.show_socket(job, socket, self.desk.line or next(iter(socket.lines), None))
        if self._beside_of != socket.id:
            self._beside.start()

    def _point_at(self, typed: str) -> None:
        """The needle goes with what is typed; with nothing typed it can wait for the row."""
        if typed:
            self.detail.dial.point_at(typed)
        else:
            self._detail_due.start()

    def _show_beside(self) -> None:
        """Spares and past of the socket in hand: asked for once its row is painted."""
        socket = self.desk.socket
        if socket is not None:
            self._beside_of = socket.id
            self.detail.show_spares(socket, *best_spares(self._shop, socket_id=socket.id, most=MOST_SPARES))
            self.detail.show_past(jobs.place_history(self._shop, socket_id=socket.id))
            before = earlier_readings(self._shop, socket_id=socket.id, stage=self._stage)
            self.detail.dial.show_before(before, self.table.field.text())
            self.in_set.show_beside(socket)

    def go_to(self, position: str) -> None:
        """Take the socket at a position in hand."""
        job = self.desk.job
        found = next((s for s in job.sockets if s.position == position), None) if job is not None else None
        if job is not None and found is not None:
            self.desk.go(spots.entry(found, job.stage))

    def go_to_job(self) -> None:
        """The job in hand on the Jobs page: its papers, estimate, comeback."""
        if self.desk.job is not None:
            self.go.emit(Place("jobs", Kind.JOB, self.desk.job.id))

    def go_to_type(self, name: str) -> None:
        """Look at a type on its own page."""
        self.go.emit(Place("types", Kind.TYPE, self._shop.book.id_of(name)))

    def _show_why(self) -> None:
        """The socket of the first harm; asked again, that of the next."""
        job, socket = self.desk.job, self.desk.socket
        if job is not None and job.harm:
            positions = list(dict.fromkeys(position for position, _ in job.harm))
            here = socket.position if socket is not None else ""
            self.go_to(
                positions[(positions.index(here) + 1) % len(positions)] if here in positions else positions[0]
            )
            self._split.show_detail()

    def _walk(self, one_act: Callable[..., Changes]) -> None:
        """Take back or do again, and go to where it shows."""
        self.settle()
        before = self.desk.job
        try:
            changes = one_act(self._shop, origin=self.name)
        except UserError as error:
            self.table.note.tell(error.sentence)
            self.table.place()
            return
        self.wrote(changes)
        if before is not None and self.desk.job is not None:
            self.desk.go(spots.differs(before, self.desk.job))

    def show_detail(self) -> None:
        """Make sure that the detail can be seen."""
        self._split.show_detail()

    def back_to_entry(self) -> None:
        """Close what is open in the detail; the keyboard goes back to the row in hand."""
        self.detail.close_panels()
        self._split.show_list()
        self.table.field.setFocus()

    def _left(self) -> None:
        """Escape with nothing typed."""
        self._split.show_list()

    # ---- Choices

    def _choose_tester(self, tester_id: int) -> None:
        self._tester_id = tester_id
        self._reopen()

    def _next_own_tester(self) -> None:
        """The next tester for the socket in hand alone; that of the job comes round again."""
        job, socket = self.desk.job, self.desk.socket
        if job is None or socket is None or job.tester is None or len(job.testers) < 2:
            return
        ids = [tester.id for tester in job.testers]
        now = self._own_testers.get(socket.id, job.tester.id)
        following = ids[(ids.index(now) + 1) % len(ids)] if now in ids else ids[0]
        self._own_testers.pop(socket.id, None)
        if following != job.tester.id:
            self._own_testers[socket.id] = following
        self.desk.clear()
        job = self._read_job(job.id)
        self._show_job(job, spots.entry(job.socket(socket.id), job.stage))

    def _choose_stage(self, stage: Stage) -> None:
        self._stage = stage
        self._reopen()

    def _reopen(self) -> None:
        """The same job, seen on another tester or at another stage."""
        self._tell_put_off()
        self.desk.clear()
        if self._job_id is not None:
            job = self._read_job(self._job_id)
            self._show_job(job, spots.first(job))
        self.table.field.setFocus()

    # ---- Building

    def _compose(self) -> None:
        self._stack = QStackedWidget()
        self._stack.addWidget(self.picker)
        self.frame.put_above(self.column)
        self.column.addWidget(self._stack, 1)
        self.column.addWidget(self.frame.caution)

    @cached_property
    def _split(self) -> Split:
        """The table with its detail, laid out for the first job: to pick one takes neither."""
        from tubeshelf.ui.pages.bench_acts import Acts
        from tubeshelf.ui.pages.bench_detail import BenchDetail
        from tubeshelf.ui.pages.bench_in_set import InSet
        from tubeshelf.ui.pages.bench_map import ChassisBeside

        sheet = Sheet(flush=True)
        sheet.body.addWidget(self.table)
        self.frame.put_into_foot(sheet.foot())
        self.detail = BenchDetail(self._shop)
        self.table.field.textChanged.connect(self._point_at)
        self.detail.dial.testers.connect(lambda: self.go.emit(Place("testers")))
        self.acts, self.in_set = Acts(self._shop, self), InSet(self._shop, self)
        self.chassis = ChassisBeside(self, self._shop, self._bridge)
        self.frame.chassis.clicked.connect(self.chassis.open)
        split = Split(sheet, self.detail)
        split.folded.connect(self.frame.narrow)
        self._stack.addWidget(split)
        self.frame.order_tabs()
        self._bind_keys()
        return split

    def _connect(self) -> None:
        frame = self.frame
        frame.jobs_wanted.connect(self.aside.leave)
        frame.stage_chosen.connect(self._choose_stage)
        frame.tester_chosen.connect(self._choose_tester)
        frame.add_tester.clicked.connect(lambda: self.go.emit(Place("testers")))
        frame.banner.asked.connect(self._show_why)
        frame.retube.clicked.connect(self.print_out)
        frame.picture.clicked.connect(self._show_picture)
        self.picker.picked.connect(self.open_job)
        self.picker.new_wanted.connect(lambda: self.go.emit(Place("jobs")))

    def _show_picture(self) -> None:
        self.settle()
        if self.desk.job is not None:
            self._picture(self.desk.job.id)

    def _bind_keys(self) -> None:
        acts = self.acts
        for keys, act in (
            ("F2", self.desk.name_found),
            ("F3", acts.open_found_form),
            ("F4", acts.open_modified_form),
            ("F5", partial(acts.say, Action.KEEP)),
            ("F6", partial(acts.say, Action.REPLACE)),
            ("F7", partial(acts.say, Action.UNDECIDED)),
            ("Shift+F5", partial(acts.answer, Answer.DECLINED)),
            ("Shift+F6", partial(acts.answer, Answer.AGREED)),
            ("Shift+F7", partial(acts.answer, Answer.ASK_AGAIN)),
            ("F10", acts.open_may_go),
            ("Ctrl+Shift+A", self.aside.print_tag),
            ("Ctrl+J", self.go_to_job),
            ("F9", acts.install_best),
            ("Shift+F9", acts.promise_best),
            ("Ctrl+E", self.in_set.open),
            ("Ctrl+L", self.frame.next_stage),
            ("Ctrl+T", self.frame.next_tester),
            ("Ctrl+Shift+T", self._next_own_tester),
        ):
            key = QShortcut(QKeySequence(keys), self)
            key.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
            key.activated.connect(act)
