"""Spares for jobs: keeping one for a job, letting it go again, putting it in."""

from collections.abc import Sequence

from PySide6.QtWidgets import QHBoxLayout, QLabel, QVBoxLayout, QWidget

from tubeshelf.services.changes import Changes
from tubeshelf.services.shop import Shop
from tubeshelf.services.spares import install, promise, release
from tubeshelf.services.views.shelf import ItemView
from tubeshelf.services.wants import Kept, OpenJob, Want, kept_for, open_jobs, wants_for
from tubeshelf.ui.pages.shelf_forms import ItemForm
from tubeshelf.ui.pages.shelf_words import called
from tubeshelf.ui.parts.actform import ActForm, Refused, whole
from tubeshelf.ui.parts.buttons import Link
from tubeshelf.ui.parts.form import Choice
from tubeshelf.ui.parts.sheet import clear
from tubeshelf.ui.parts.text import label

_NO_JOB = "No job is open: take one in on the Jobs page first."
_NO_SOCKET = "No open job has a socket for this type: its sockets are on the Jobs page."


class PromiseForm(ItemForm):
    """For which socket, or for which job as a whole; what it is kept for already can be let go."""

    def __init__(self, shop: Shop) -> None:
        super().__init__(shop, "Promise")
        self.where = self.choice("&For job")
        self.many = self.line("&How many")
        self.blamed = self.where
        self._wanted = wanted_below(self, self.where)
        self._kept = QVBoxLayout()
        self.column.insertLayout(1, self._kept)

    def open_for(self, item: ItemView) -> None:
        """Offer the sockets that want it first, then every open job."""
        super().open_for(item)
        wants = wants_for(self.shop, item_id=item.id)
        options: list[tuple[str, object]] = [(_words(want), want) for want in wants]
        options += [(f"Job {job.number} as a whole", job) for job in open_jobs(self.shop)]
        offer(self.where, self._wanted, options)
        self.many.setText("1")
        self.form.show_row(self.many, item.lot)
        self._show_kept(kept_for(self.shop, item_id=item.id))
        self.begin(f"Promise {called(item)}", self.where)

    def write(self) -> Changes:
        """Keep it."""
        chosen = self.where.currentData()
        if chosen is None:
            raise Refused(self.where, _NO_JOB)
        quantity = whole(self.many) if self.item.lot else 1
        socket_id = chosen.socket_id if isinstance(chosen, Want) else None
        return promise(
            self.shop, item_id=self.item.id, socket_id=socket_id, job_id=chosen.job_id, quantity=quantity
        )[1]

    def _show_kept(self, promises: tuple[Kept, ...]) -> None:
        clear(self._kept)
        for kept in promises:
            line = QWidget()
            row = QHBoxLayout(line)
            row.setContentsMargins(0, 0, 0, 0)
            many = f"{kept.quantity} kept" if self.item.lot else "Kept"
            where = f", {kept.position}" if kept.position else ""
            row.addWidget(label(f"{many} for job {kept.number}{where}", wrap=True), 1)
            free = Link("Release")
            free.setAccessibleName(f"Release from job {kept.number}")
            free.clicked.connect(lambda _=False, job_id=kept.job_id: self._release(job_id))
            row.addWidget(free)
            self._kept.addWidget(line)
            QWidget.setTabOrder(free, self.where)

    def _release(self, job_id: int) -> None:
        changes = release(self.shop, item_id=self.item.id, job_id=job_id)[1]
        self.left.emit()
        self.wrote.emit(changes)


class InstallForm(ItemForm):
    """Into which socket of which open job."""

    def __init__(self, shop: Shop) -> None:
        super().__init__(shop, "Install")
        self.where = self.choice("Into so&cket")
        self.blamed = self.where
        self._wanted = wanted_below(self, self.where)

    def open_for(self, item: ItemView) -> None:
        """Offer the sockets that are meant for it, those to be replaced first."""
        super().open_for(item)
        wants = wants_for(self.shop, item_id=item.id)
        offer(self.where, self._wanted, [(_words(want), want) for want in wants])
        self.begin(f"Install {'one of the ' if item.lot else ''}{called(item)}", self.where)

    def write(self) -> Changes:
        """Put it in."""
        want = self.where.currentData()
        if not isinstance(want, Want):
            raise Refused(self.where, _NO_SOCKET)
        return install(self.shop, item_id=self.item.id, socket_id=want.socket_id)[1]


def wanted_below(form: ActForm, where: Choice) -> QLabel:
    """A line below the choice that says what is chosen: a choice has no room for all of it."""
    below = label("", "small", wrap=True)
    form.column.insertWidget(form.column.indexOf(form.trouble), below)
    where.currentIndexChanged.connect(lambda: below.setText(_about(where.currentData())))
    return below


def offer(where: Choice, below: QLabel, options: Sequence[tuple[str, object]]) -> None:
    """Offer these, the first chosen."""
    where.clear()
    where.offer(options)
    below.setText(_about(where.currentData()))


def _words(want: Want) -> str:
    return f"Job {want.number}, {want.position} {want.role}".strip()


def _about(chosen: object) -> str:
    if isinstance(chosen, Want):
        return f"{chosen.title}: {chosen.position} is for a {chosen.intended}, now {chosen.action}"
    return chosen.title if isinstance(chosen, OpenJob) else ""
