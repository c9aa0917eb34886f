"""A comeback: the earlier job beside this one, socket by socket, what was promised, and covered or not."""

from collections.abc import Callable

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QLineEdit, QVBoxLayout

from tubeshelf.domain.comeback import SameTube
from tubeshelf.domain.dates import format_date
from tubeshelf.services.changes import Changes
from tubeshelf.services.comeback import comeback, read_tag, set_same
from tubeshelf.services.cover import set_cover
from tubeshelf.services.shop import Shop
from tubeshelf.services.views.comeback import ComebackView, EarlierView
from tubeshelf.ui import tokens
from tubeshelf.ui.pages.jobs_places import PlaceRows
from tubeshelf.ui.parts.entrysheet import EntrySheet
from tubeshelf.ui.parts.form import Choice, Form
from tubeshelf.ui.parts.sheet import section
from tubeshelf.ui.parts.text import label, restyle

_COVERED = (("not decided", None), ("covered", True), ("not covered", False))


class ComebackSheet(EntrySheet):
    """``changed`` carries the Changes of what is said of a tube, kept at once; ``decided`` of the cover."""

    changed = Signal(object)
    decided = Signal(object)

    def __init__(self, shop: Shop) -> None:
        super().__init__("Comeback", "Save cover")
        self._shop = shop
        self._view: ComebackView | None = None
        self.whose, self.came = label("", "soft", wrap=True), label("", wrap=True)
        self.beside = Choice(name="Beside which job")
        self.term, self.promise = label("", "strong", wrap=True), label("", wrap=True)
        self.rows = PlaceRows()
        self.covered, self.why = Choice(_COVERED), QLineEdit()
        self.why.setPlaceholderText("within the term, our tube failed")
        self.form = Form()
        self._covered_title = section("Covered or not")
        self._compose()
        self.beside.activated.connect(lambda: self._turn_to(self.beside.currentData()))
        self.rows.answered.connect(self._say_same)
        self.rows.tag_read.connect(self._read_tag)
        self.rows.done.connect(lambda socket_id: self.rows.go_on(socket_id, self.covered))

    def show_job(self, job_id: int) -> None:
        """Begin with a job; UserError where its unit was not here before."""
        self.notice.clear()
        self.form.clear()
        self._view = None
        self._show(comeback(self._shop, job_id=job_id))
        self.rows.begin(self.covered)

    def refresh(self, job_id: int) -> None:
        """Show the job as it is now, beside the same earlier one; what is typed stays."""
        earlier = None if self._view is None else self._view.earlier.id
        self._show(comeback(self._shop, job_id=job_id, earlier_id=earlier))

    def save(self) -> None:
        """Keep whether it is covered, and why."""
        view, covered = self._view, self.covered.currentData()
        assert view is not None
        if covered is not None and not self.why.text().strip():
            sentence = "Type why, such as: within the term, our tube failed."
            self.complain({self.why: sentence}, self.form)
            return
        done: list[Changes] = []
        why, earlier = self.why.text(), view.earlier.id
        if self.attempt(
            lambda: done.append(
                set_cover(self._shop, job_id=view.job_id, covered=covered, why=why, earlier_id=earlier)[1]
            )
        ):
            self.decided.emit(done[0])

    def _show(self, view: ComebackView) -> None:
        before, self._view = self._view, view
        beside = f"Job {view.number} beside job {view.earlier.number}"
        self.set_title(f"What job {view.number} left" if view.alone else beside)
        serial = f"serial {view.serial}" if view.serial else ""
        self.whose.setText(" · ".join(part for part in (view.title, serial, view.customer) if part))
        self.came.setText(view.note)
        self.came.setVisible(bool(view.note))
        self.beside.offer([(_words(one, view), one.id) for one in view.choices])
        self.beside.choose(view.earlier.id)
        self.term.setText(view.term)
        restyle(self.term, "tone", {True: "good", False: "reject", None: ""}[view.within])
        self.promise.setText(view.promise)
        self.promise.setVisible(bool(view.promise))
        self.rows.show_places(view)
        for widget in (self._covered_title, self.form, self.act):
            widget.setVisible(not view.alone)
        if before is None or before.cover != view.cover:
            self.covered.choose(None if view.cover is None else view.cover.covered)
            self.why.setText("" if view.cover is None else view.cover.why)

    def _turn_to(self, earlier_id: int) -> None:
        view = self._view
        if view is not None:
            self.attempt(lambda: self._show(comeback(self._shop, job_id=view.job_id, earlier_id=earlier_id)))

    def _say_same(self, socket_id: int, answer: SameTube | None) -> None:
        self._write(lambda: set_same(self._shop, socket_id=socket_id, answer=answer)[1])

    def _read_tag(self, socket_id: int, left_tag: str, text: str) -> None:
        if self._write(
            lambda: read_tag(self._shop, socket_id=socket_id, left_tag=left_tag, text=text)[1],
        ):
            self.rows.go_on(socket_id, self.covered)

    def _write(self, act: Callable[[], Changes]) -> bool:
        done: list[Changes] = []
        if self.attempt(lambda: done.append(act())):
            self.changed.emit(done[0])
            return True
        if self._view is not None:
            self.rows.show_places(self._view)
        return False

    def _compose(self) -> None:
        name = QLabel("Besi&de")
        name.setBuddy(self.beside)
        line = QHBoxLayout()
        line.setSpacing(tokens.GAP)
        line.addWidget(name)
        line.addWidget(self.beside)
        line.addStretch(1)
        promised = QVBoxLayout()
        promised.setSpacing(4)
        for widget in (section("What was promised"), self.term, self.promise):
            promised.addWidget(widget, 0, Qt.AlignmentFlag.AlignTop)
        self.form.row("Co&vered", self.covered)
        self.form.row("Wh&y", self.why)
        self.body.addWidget(self.whose)
        self.body.addWidget(self.came)
        self.body.addLayout(line)
        self.body.addLayout(promised)
        self.body.addWidget(section("Socket by socket"))
        self.body.addWidget(self.rows)
        self.body.addWidget(self._covered_title)
        self.body.addWidget(self.form)
        self.body.addStretch(1)


def _words(one: EarlierView, view: ComebackView) -> str:
    closed = "not closed" if one.closed_on is None else f"closed {format_date(one.closed_on)}"
    return f"Job {one.number}{', this one' if one.id == view.job_id else ''}, {closed}"
