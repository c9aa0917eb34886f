"""The chassis map of the job on the bench, in a window beside the list: both tell of the same sockets."""

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QCloseEvent, QKeySequence, QShortcut
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from tubeshelf.domain.chassis import propose
from tubeshelf.domain.errors import UserError
from tubeshelf.domain.judging import Stage
from tubeshelf.domain.whereabouts import Where
from tubeshelf.services.aside import where_tubes_are
from tubeshelf.services.changes import Changes, Kind
from tubeshelf.services.chassis import ChassisView, chassis_of, place_sockets
from tubeshelf.services.shop import Shop
from tubeshelf.services.undo import do_again, take_back
from tubeshelf.services.views.bench import JobView
from tubeshelf.ui import tokens
from tubeshelf.ui.bridge import Bridge
from tubeshelf.ui.pages.bench_map_words import marks_of, spoken
from tubeshelf.ui.pages.bench_spots import has_tube
from tubeshelf.ui.parts.base import BasePicture
from tubeshelf.ui.parts.buttons import Act, IconButton
from tubeshelf.ui.parts.chassis import ChassisMap
from tubeshelf.ui.parts.head import TitleLine
from tubeshelf.ui.parts.notice import Notice
from tubeshelf.ui.parts.pins import base_view
from tubeshelf.ui.parts.text import label

_SHOWS = frozenset({Kind.JOB, Kind.ITEM, Kind.TYPE, Kind.TESTER, Kind.MODEL, Kind.SETTING})
_HINTS = {
    "placing": "Drag sockets, or move them by arrow keys (Shift: farther); Enter takes the next one.",
    "proposed": "Proposed: nobody has said yet where the sockets are. Drag them there, then save.",
    "some": "Proposed for {}: drag what is elsewhere, then save.",
}


@dataclass(frozen=True, slots=True)
class _Look:
    """How the job is seen on the bench: the map asks for the same."""

    job_id: int
    tester_id: int | None
    stage: Stage
    own_testers: tuple[tuple[int, int], ...]


class ChassisWindow(QWidget):
    """Shows where the sockets are and how they stand; places them, as one act.

    ``wanted`` carries the position that somebody chose: the bench takes it in hand; ``left`` says that the
    keyboard goes back to the list. It reloads through the bridge like any page, but keeps places that are not
    saved yet.
    """

    wanted = Signal(str)
    left = Signal()
    name = "chassis"

    def __init__(self, shop: Shop, bridge: Bridge, parent: QWidget | None = None) -> None:
        super().__init__(parent, Qt.WindowType.Window)
        self._shop, self._bridge = shop, bridge
        self._look: _Look | None = None
        self._view: ChassisView | None = None
        self._in_hand, self._due = "", False
        self._stands: dict[str, Where] = {}
        self.setWindowTitle("Chassis map – tubeshelf")
        self.head, self.notice, self.map = TitleLine(), Notice(), ChassisMap()
        self.hint, self.words = label("", "soft", wrap=True), label("", wrap=True)
        self.base_title, self.base = label("", "small", wrap=True), BasePicture()
        self.back = Act("List", "Ctrl+M")
        self.turn = Act("From below", "Ctrl+B")
        self.place = Act("Place sockets", "Ctrl+E")
        self.again = Act("Propose again", "Ctrl+N")
        self.save = Act("Save", "Ctrl+S", primary=True)
        self._compose()
        self._connect()
        self.resize(self.sizeHint())

    # ---- What the bench tells

    def follow(self, job: JobView, position: str, *, anew: bool = False) -> None:
        """Show the chassis of this job as the bench sees it, with this socket in hand.

        It is read where the bench looks at it otherwise than before, or ``anew``; else only what stands
        empty, which the socket in hand may have changed.
        """
        tester_id = None if job.tester is None else job.tester.id
        own = [(s.id, s.lines[0].tester.id) for s in job.sockets if s.lines]
        others = tuple((which, tester) for which, tester in own if tester != tester_id)
        look = _Look(job.id, tester_id, job.stage, others)
        in_hand = next((s for s in job.sockets if s.position == position), None)
        self._in_hand = position
        here = in_hand is not None and has_tube(in_hand, job.stage)
        self._due = here and in_hand is not None and any(not line.readings for line in in_hand.lines)
        if anew or look != self._look:
            if self._look is not None and look.job_id != self._look.job_id:
                self.map.placing = False
            self._look = look
            self.load()
        elif self._view is not None:
            self._show()

    def reload(self, changes: Changes) -> None:
        """Read anew what an act changed; a window that is closed reads when it is opened."""
        if self.isVisible() and any(changes.touches(kind) for kind in _SHOWS):
            self.load()

    def load(self) -> None:
        """Read the chassis and show it; a box of loose tubes has none, and says so."""
        if self._look is None:
            return
        look = self._look
        try:
            self._view = chassis_of(
                self._shop,
                job_id=look.job_id,
                tester_id=look.tester_id,
                stage=look.stage,
                own_testers=dict(look.own_testers),
            )
        except UserError as error:
            self._view = None
            self.map.show_marks((), "")
            self.notice.tell(error.sentence)
        else:
            self.notice.clear()
        self._show()

    # ---- Showing

    def _show(self) -> None:
        view = self._view
        if view is not None:
            places = where_tubes_are(
                self._shop, job_id=view.job_id, in_hand=self._in_hand, reading_due=self._due
            )
            self._stands = dict(places.stands)
            self.map.show_marks(marks_of(self._shop, view, self._stands), self._in_hand)
            self.setWindowTitle(f"Chassis map, job {view.number} – tubeshelf")
            facts = (f"job {view.number}", str(view.stage), view.tester)
            self.head.show_title("Chassis map", *(fact for fact in facts if fact))
        for part in (self.map, self.words, self.turn, self.place):
            part.setVisible(view is not None)
        self._show_mode()
        self._show_at()

    def _show_mode(self) -> None:
        """What can be done now: placing, or looking."""
        unsaved = () if self._view is None else self._view.unsaved
        everything = self._view is not None and len(unsaved) == len(self._view.sockets)
        mode = "placing" if self.map.placing else "proposed" if everything else "some" if unsaved else ""
        self.hint.setText(_HINTS.get(mode, "").format(", ".join(unsaved)))
        self.hint.setVisible(bool(self.hint.text()))
        self.again.setVisible(self.map.placing)
        self.place.setVisible(self._view is not None and not self.map.placing)
        self.save.setVisible(self.map.placing or bool(unsaved))
        self.turn.setText("From above" if self.map.below else "From below")

    def _show_at(self) -> None:
        """In words what the keyboard is at; from below, its base with the pins."""
        view = self._view
        sockets = () if view is None else view.sockets
        socket = next((s for s in sockets if s.position == self.map.at), None)
        told = "" if view is None or socket is None else spoken(socket, self._stands, view.stage)
        self.words.setText(told)
        tube = None if socket is None else self._shop.book.type(socket.intended_type_id)
        known = self.map.below and tube is not None and bool(tube.basing.pins)
        if known and socket is not None and tube is not None:
            self.base_title.setText(f"Pins of {socket.position} from below, wired for {socket.intended}")
            self.base.show_view(base_view(tube.basing))
        self.base.setVisible(known)
        self.base_title.setVisible(known)

    # ---- Acts

    def look_from_the_other_side(self) -> None:
        """From above or from below."""
        self.map.look_from(below=not self.map.below)
        self._show_mode()
        self._show_at()

    def start_placing(self) -> None:
        """The arrow keys move sockets from now on."""
        if self._view is not None:
            self.map.placing = True
            self._show_mode()
            self.map.setFocus()

    def propose_again(self) -> None:
        """Put everything where a first layout would; not saved yet."""
        if self._view is not None:
            sockets = self._view.sockets
            seats = propose([socket.placed_by for socket in sockets])
            self.map.show_seats(dict(zip((s.position for s in sockets), seats, strict=True)))

    def save_places(self) -> None:
        """Save where the sockets are with the model, as far as it still has them."""
        if self._view is None:
            return
        known = {socket.position for socket in self._view.sockets if socket.placed.in_model}
        places = {position: seat for position, seat in self.map.seats.items() if position in known}
        try:
            _, changes = place_sockets(
                self._shop, model_id=self._view.model_id, places=places, origin=self.name
            )
        except UserError as error:
            self.notice.fail(error.sentence)
            return
        self.map.placing = False
        self._bridge.publish(changes)
        self.map.setFocus()

    def reverse(self, act: Callable[..., Changes]) -> None:
        """Take back or do again, as in the main window; told of to every page."""
        try:
            changes = act(self._shop, origin=self.name)
        except UserError as error:
            self.notice.tell(error.sentence)
        else:
            self._bridge.publish(changes)

    def leave(self) -> None:
        """What was moved goes back; with nothing moved the window closes."""
        if self.map.placing:
            self.map.placing = False
            self._show()
        else:
            self.close()

    def closeEvent(self, event: QCloseEvent) -> None:
        """The keyboard goes back to the list; what was moved and not saved is forgotten."""
        self.map.placing = False
        super().closeEvent(event)
        self.left.emit()

    def sizeHint(self) -> QSize:
        """As much as a handful of sockets needs, and the screen has room for."""
        return QSize(700, 560).boundedTo(self.screen().availableSize() * 0.92)

    # ---- Building

    def _compose(self) -> None:
        close = IconButton("close", "Close  Esc")
        close.clicked.connect(self.leave)
        # Not the button's own shortcut: that presses it down for a tenth of a second first.
        QShortcut(QKeySequence("Esc"), self).activated.connect(self.leave)
        for keys, act in (("Ctrl+Z", take_back), ("Ctrl+Y", do_again), ("Ctrl+Shift+Z", do_again)):
            QShortcut(QKeySequence(keys), self).activated.connect(partial(self.reverse, act))
        self.head.add(self.turn, self.back, close)
        foot = QHBoxLayout()
        foot.setSpacing(tokens.GAP)
        foot.addWidget(self.words, 1)
        foot.addWidget(self.again)
        foot.addWidget(self.place)
        foot.addWidget(self.save)
        column = QVBoxLayout(self)
        column.setContentsMargins(tokens.MARGIN, tokens.GAP, tokens.MARGIN, tokens.GAP)
        column.setSpacing(8)
        for part in (self.head, self.notice, self.hint):
            column.addWidget(part)
        column.addWidget(self.map, 1)
        column.addWidget(self.base_title)
        column.addWidget(self.base)
        column.addLayout(foot)

    def _connect(self) -> None:
        self._bridge.changed.connect(self.reload)
        self.map.chosen.connect(self.wanted)
        self.map.pointed.connect(lambda: self._show_at())
        self.map.lifted.connect(self._show_mode)
        self.back.clicked.connect(self.left)
        self.turn.clicked.connect(self.look_from_the_other_side)
        self.place.clicked.connect(self.start_placing)
        self.again.clicked.connect(self.propose_again)
        self.save.clicked.connect(self.save_places)
