"""The table of sockets with its entry: one field that stands in the row in hand."""

from PySide6.QtCore import QRect, Qt, Signal
from PySide6.QtGui import QMouseEvent, QResizeEvent, QWheelEvent

from tubeshelf.domain.jobs import FoundState
from tubeshelf.services.views.bench import JobView, LineView, SocketView
from tubeshelf.ui.pages.bench_field import EntryField, LineNote, NameList
from tubeshelf.ui.pages.bench_rows import FOUND, READING, BenchModel, line_reads, own_tester
from tubeshelf.ui.pages.bench_spots import Spot
from tubeshelf.ui.parts.cellpaint import PAD
from tubeshelf.ui.parts.tableview import Table

_FIELD_HEIGHT = 38
_READING_WIDTH = 130
_SHARED_WIDTH = 86


def _read(line: LineView) -> str:
    """What stands in the field until something is typed: what was read before."""
    return line_reads(line) if line.readings else ""


def found_so_far(socket: SocketView) -> str:
    """What stands in the field until a type is typed: what was said before."""
    found = socket.found
    said = {FoundState.EMPTY: "empty", FoundState.UNREADABLE: "no mark", FoundState.NOT_LOOKED: "found?"}
    return said.get(found.state, found.marked)


class SocketTable(Table):
    """One row a socket. The keyboard belongs to ``field``; ``pointed`` carries socket id and column."""

    pointed = Signal(int, int)

    def __init__(self) -> None:
        super().__init__("Sockets in test order")
        self.rows = BenchModel(self)
        self.set_rows_model(self.rows, self.rows.columns)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.field = EntryField(self.viewport())
        self.note = LineNote(self.viewport())
        self._names: NameList | None = None
        self._spot: Spot | None = None
        self._several = False
        self.field.hide()

    @property
    def names(self) -> NameList:
        """The list of names, made when it is first wanted, over everything in the window."""
        if self._names is None:
            self._names = NameList(self.window())
        return self._names

    @property
    def offers_names(self) -> bool:
        """Whether names are on offer now."""
        return self._names is not None and self._names.isVisible()

    def hide_names(self) -> None:
        """Take the list away."""
        if self._names is not None:
            self._names.hide()

    def show_spot(self, job: JobView, spot: Spot | None) -> None:
        """Put the field where something is to be entered."""
        self._spot = spot
        self.hide_names()
        if spot is None:
            self.field.hide()
            return
        socket = job.socket(spot.socket_id)
        naming = spot.line is None
        on = f" on {own}" if (own := own_tester(job, socket)) else ""
        what = (
            "what stands in it"
            if spot.line is None
            else f"reading {socket.lines[spot.line].label}".strip() + on
        )
        self._several = len(socket.lines) > 1
        self.field.dress(naming=naming, small=self._several)
        self.field.setAccessibleName(f"{socket.position}, {what}")
        said = found_so_far(socket) if spot.line is None else _read(socket.lines[spot.line])
        self.field.setPlaceholderText(said)
        self.take_in_hand(socket.id, FOUND if naming else READING)
        self.place()
        self.field.show()

    def begin(self) -> None:
        """Show the rows from the first on, as far as the one in hand allows."""
        self.scrollToTop()
        self.scrollTo(self.currentIndex())

    def place(self) -> None:
        """Lay the field over its cell and the note over the rest of the row."""
        row = self.rows.row_of(self._spot.socket_id) if self._spot is not None else None
        if row is None or self._spot is None:
            return
        column = FOUND if self._spot.line is None else READING
        cell = self.visualRect(self.model().index(row, column))
        wanted = _SHARED_WIDTH if self._several else _READING_WIDTH
        width = cell.width() - PAD if column == FOUND else min(wanted, cell.width() - PAD)
        left = cell.left() + PAD // 2 if column == FOUND else cell.right() - PAD // 2 - width
        top = cell.top() + (cell.height() - _FIELD_HEIGHT) // 2
        self.field.setGeometry(left, top, width, _FIELD_HEIGHT)
        line = QRect(0, cell.top(), self.viewport().width(), cell.height())
        self.note.fit_into(line, left + width + PAD)

    def allot(self) -> None:
        """Columns may have moved under the field."""
        super().allot()
        if hasattr(self, "note"):
            self.place()

    def scrollContentsBy(self, dx: int, dy: int) -> None:
        """The field goes with its row."""
        super().scrollContentsBy(dx, dy)
        self.place()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """The row is as wide as the table, and stays in sight where a banner takes room."""
        super().resizeEvent(event)
        self.scrollTo(self.currentIndex())
        self.place()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """A click goes to a socket; the page decides whether the entry may leave where it is."""
        index = self.indexAt(event.position().toPoint())
        row = self.rows.row_at(index)
        if row is not None:
            self.pointed.emit(row.socket.id, index.column())

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Dragging selects nothing here."""

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """The first click has done it all."""

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Scrolling takes the names away, which would hang in the air."""
        self.hide_names()
        super().wheelEvent(event)
