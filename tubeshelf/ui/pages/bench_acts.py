"""What is done to the socket in hand besides readings: marks, decisions, answers, spares, changed sockets."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING

from tubeshelf.domain.errors import UserError
from tubeshelf.domain.jobs import Action, Answer, Disposition
from tubeshelf.domain.judging import NO_PASS_LIMITS, Stage
from tubeshelf.services import bench, finding, intake_edit, pulls, shelf_moves, spares
from tubeshelf.services.answers import set_answer
from tubeshelf.services.changes import Changes
from tubeshelf.services.may_go import may_go_here
from tubeshelf.services.shop import Shop
from tubeshelf.services.unused import set_unused_sections
from tubeshelf.services.views.bench import JobView, LineView, SocketView, SpareView
from tubeshelf.ui.pages import bench_spots as spots
from tubeshelf.ui.pages.bench_marks import EMPTY
from tubeshelf.ui.pages.bench_observed import MarkPlace, Noted

if TYPE_CHECKING:
    from tubeshelf.ui.pages.bench import BenchPage

Write = Callable[..., tuple[object, Changes]]


class Acts:
    """Calls the services for the page's socket in hand; a refusal is said on the page."""

    def __init__(self, shop: Shop, page: BenchPage) -> None:
        self._shop, self._page = shop, page
        detail = page.detail
        detail.marks.noted.connect(self._note)
        detail.marks.found.connect(self._found)
        detail.found_form.saved.connect(self._save_found)
        detail.modified_form.saved.connect(self._save_modified)
        detail.marks.closed.connect(page.back_to_entry)
        detail.marks.unused.connect(self._set_unused)
        detail.marks.turned.connect(page.keys_changed)
        detail.keep_form.saved.connect(self._save_kept)
        detail.old.pull.connect(partial(self._on_socket, pulls.pull))
        detail.old.give_back.connect(self._give_back)
        detail.old.keep.connect(lambda: self._open(detail.keep_form.open_for))
        for form in (detail.found_form, detail.modified_form, detail.keep_form, detail.may_go):
            form.left.connect(page.back_to_entry)
        detail.may_go.type_wanted.connect(page.go_to_type)
        detail.ask_may_go.clicked.connect(self.open_may_go)
        detail.change_found.clicked.connect(self.open_found_form)
        detail.change_socket.clicked.connect(self.open_modified_form)
        detail.dial.strike.connect(lambda which: self._do(bench.drop_reading, reading_id=which))
        detail.noted.strike.connect(lambda which: self._do(bench.drop_observation, observation_id=which))
        detail.decision.said.connect(self.say)
        detail.decision.why.connect(self._say_why)
        detail.decision.answered.connect(self.answer)
        detail.spares.install.connect(self._install)
        detail.spares.promise.connect(partial(self._on_socket_item, spares.promise))
        detail.spares.release.connect(self._release)
        detail.spares.take_out.connect(partial(self._on_socket, spares.take_out))
        detail.spares.leave_empty.connect(self._leave_empty)

    # ---- Decisions

    def say(self, action: Action | None) -> None:
        """Keep, replace or undecided; ``None`` for as proposed."""
        self._on_socket(bench.set_action, action=action)

    def answer(self, answer: Answer | None) -> None:
        """What the customer said about this socket."""
        self._on_socket(set_answer, answer=answer)

    def _say_why(self, why: str) -> None:
        socket = self._page.desk.socket
        if socket is not None:
            self._on_socket(bench.set_action, action=socket.action, why=why)
            self._page.table.field.setFocus()

    def _leave_empty(self, empty: bool) -> None:
        self._on_socket(bench.set_disposition, disposition=Disposition.EMPTY_ON_PURPOSE if empty else None)

    # ---- Spares

    def install_best(self) -> None:
        """Put in the spare that is named first."""
        spare = self._best()
        if spare is not None:
            self._install(spare.item_id)

    def promise_best(self) -> None:
        """Keep the spare that is named first for this socket, or let it go again."""
        spare = self._best()
        if spare is not None and spare.here:
            self._release(spare.item_id)
        elif spare is not None:
            self._on_socket_item(spares.promise, spare.item_id)

    def _best(self) -> SpareView | None:
        """The spare in the line if one is named there, else the best of all."""
        self._page.settle()
        socket = self._page.desk.socket
        if socket is None:
            return None
        ranked, _ = spares.best_spares(self._shop, socket_id=socket.id, most=1)
        best = socket.spare or next(iter(ranked), None)
        if best is None:
            self._page.notice.tell(
                f"No spare on the shelf serves for the {socket.intended} of {socket.position}."
            )
        return best

    def open_may_go(self) -> None:
        """List what may go into the socket in hand."""
        panel = self._page.detail.may_go
        self._open(lambda socket: panel.show_types(may_go_here(self._shop, socket_id=socket.id)))

    def _install(self, item_id: int) -> None:
        self._on_socket_item(spares.install, item_id)

    def _release(self, item_id: int) -> None:
        job = self._page.desk.job
        if job is not None:
            self._do(spares.release, item_id=item_id, job_id=job.id)

    # ---- The old tube

    def _give_back(self) -> None:
        socket = self._page.desk.socket
        if socket is not None and socket.found.item_id is not None:
            self._do(shelf_moves.give_back, item_id=socket.found.item_id)

    def _save_kept(self) -> None:
        form, socket = self._page.detail.keep_form, self._page.desk.socket
        if socket is None or socket.found.item_id is None:
            return
        try:
            _, changes = pulls.keep_pull(
                self._shop, item_id=socket.found.item_id, bin=form.bin.text(), origin=self._page.name
            )
        except UserError as error:
            form.form.complain(form.bin, error.sentence)
            return
        self._page.wrote(changes)
        self._page.back_to_entry()

    # ---- Marks and what was found

    def open_marks(self) -> None:
        """Offer what may be noted of the socket in hand."""
        job, panel = self._page.desk.job, self._page.detail.marks
        if job is not None:
            line = self._page.desk.line
            panel.signs = self._page.table.field.signs
            self._open(lambda socket: panel.open_for(self._place(job, socket, line)))

    def _place(self, job: JobView, socket: SocketView, line: LineView | None) -> MarkPlace:
        book = self._shop.book
        left = socket.fitted if job.stage is Stage.AS_LEFT else None
        on = line or next(iter(socket.lines), None)
        tester = job.tester if on is None else on.tester
        sections = {one.section for one in socket.lines if one.section}
        last = on.readings[-1].value if on is not None and on.readings else None
        return MarkPlace(
            position=socket.position,
            tube=book.type(socket.found.type_id if left is None else book.id_of(left.designation)),
            passes=NO_PASS_LIMITS if tester is None else tester.passes,
            section=line.section if line is not None and len(sections) > 1 else "",
            unused=socket.unused,
            line_id=None if on is None else on.line_id,
            line=on.label if on is not None and len(socket.lines) > 1 else "",
            unit="" if on is None else on.tester.scale.unit,
            last=last,
            words=() if on is None else on.tester.scale.words,
        )

    def _set_unused(self, unused: bool) -> None:
        """The section in hand is not used in this set, or all are again."""
        socket, line = self._page.desk.socket, self._page.desk.line
        if socket is None:
            return
        sections = (*socket.unused, line.section) if unused and line is not None else ()

        def act() -> None:
            _, changes = set_unused_sections(
                self._shop, socket_id=socket.id, sections=sections, origin=self._page.name
            )
            self._page.wrote(changes, spots.left_to_read)

        self._page.attempt(act)
        self._page.back_to_entry()

    def _note(self, noted: object) -> None:
        socket, job = self._page.desk.socket, self._page.desk.job
        if not isinstance(noted, Noted) or socket is None or job is None:
            return
        try:
            _, changes = bench.observe(
                self._shop,
                socket_id=socket.id,
                stage=job.stage,
                mark=noted.mark,
                is_fault=noted.is_fault,
                value=noted.value,
                unit=noted.unit,
                pins=noted.pins,
                line_id=noted.line_id,
                origin=self._page.name,
            )
        except UserError as error:
            self._page.detail.marks.complain(error.sentence)
            return
        self._page.wrote(changes)
        self._page.back_to_entry()

    def _found(self, word: str) -> None:
        socket = self._page.desk.socket
        if socket is None:
            return
        write = finding.set_empty if word == EMPTY else finding.set_unreadable

        def act() -> None:
            _, changes = write(self._shop, socket_id=socket.id, origin=self._page.name)
            self._page.wrote(changes, spots.onward)

        self._page.attempt(act)
        self._page.back_to_entry()

    def open_found_form(self) -> None:
        """The tube is not what its mark says, or another one than at the last visit."""
        self._open(self._page.detail.found_form.open_for)

    def open_modified_form(self) -> None:
        """The socket was changed on purpose to another type."""
        self._open(self._page.detail.modified_form.open_for)

    def _open(self, open_for: Callable[[SocketView], None]) -> None:
        if self._page.desk.socket is not None:
            self._page.detail.close_panels()
            self._page.show_detail()
            open_for(self._page.desk.socket)

    def _save_found(self) -> None:
        form, socket = self._page.detail.found_form, self._page.desk.socket
        if socket is None:
            return
        believed, reason = form.believed.text(), form.reason.text()
        if form.marked.text().strip():
            write = partial(finding.set_found, text=form.marked.text(), another=form.another.isChecked())
        else:
            write = partial(finding.set_unreadable)
        try:
            _, changes = write(
                self._shop, socket_id=socket.id, believed=believed, reason=reason, origin=self._page.name
            )
        except UserError as error:
            form.form.complain(form.believed, error.sentence)
            return
        self._page.wrote(changes)
        self._page.back_to_entry()

    def _save_modified(self) -> None:
        form, socket = self._page.detail.modified_form, self._page.desk.socket
        if socket is None:
            return
        try:
            _, changes = intake_edit.set_modified(
                self._shop,
                socket_id=socket.id,
                type_name=form.type_name.text(),
                note=form.note.text(),
                origin=self._page.name,
            )
        except UserError as error:
            form.form.complain(form.type_name, error.sentence)
            return
        self._page.wrote(changes)
        self._page.back_to_entry()

    # ---- The one way

    def _on_socket(self, write: Write, **what: object) -> None:
        socket = self._page.desk.socket
        if socket is not None:
            self._do(write, socket_id=socket.id, **what)

    def _on_socket_item(self, write: Write, item_id: int) -> None:
        self._on_socket(write, item_id=item_id)

    def _do(self, write: Write, **what: object) -> None:
        def act() -> None:
            _, changes = write(self._shop, origin=self._page.name, **what)
            self._page.wrote(changes)

        self._page.attempt(act)
