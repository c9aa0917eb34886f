"""The bench page in its window, driven by keys in a dealer's record, and a bare table to measure it against.

Both are painted once the events that paint are over, not when painting was asked for.
"""

import os
import time
from collections.abc import Callable
from functools import cached_property
from pathlib import Path

from PySide6.QtCore import (
    QAbstractTableModel,
    QEvent,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    QSettings,
    Qt,
)
from PySide6.QtGui import QFont, QKeyEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QScrollArea, QTableView, QWidget

from tests.ui.drivers.bench import set_up
from tubeshelf.domain.palette import LIGHT
from tubeshelf.paper.fonts import load_known_fonts
from tubeshelf.services import finding, intake
from tubeshelf.services.views.bench import LineView
from tubeshelf.store.record import Record
from tubeshelf.ui import theme
from tubeshelf.ui.pages.bench import BenchPage
from tubeshelf.ui.pages.bench_spots import Spot
from tubeshelf.ui.window import MainWindow, PageSpec

COMPLEMENT = """V1 rf 6BA6
V2 converter 6BE6
V3 if 6BA6
V4 detector 6AV6
V5 inverter 12AX7
V6 output 6BQ5 =A
V7 output 6BQ5 =A
V8 rectifier 6CA4
"""
ROWS = len(COMPLEMENT.splitlines())
REPEATS = 3
"""How often a line is read: at most three repeats are asked for."""

_REST_MS = 400
Index = QModelIndex | QPersistentModelIndex


def application() -> QApplication:
    """The application, dressed as the program is."""
    os.environ["QT_QPA_PLATFORM"] = "offscreen"
    existing = QApplication.instance()
    if isinstance(existing, QApplication):
        return existing
    app = QApplication([])
    app.setFont(QFont(load_known_fonts()))
    theme.apply(app, LIGHT)
    return app


class Painted(QObject):
    """Whether all of some widgets have been sent the event that paints them, since ``wait`` began."""

    def __init__(self, *widgets: QWidget) -> None:
        super().__init__()
        self._missing: set[QObject] = set()
        self._widgets = widgets
        for widget in widgets:
            widget.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Note a paint event."""
        if event.type() == QEvent.Type.Paint:
            self._missing.discard(watched)
        return False

    def seconds(self, act: Callable[[], object]) -> float:
        """From the beginning of an act until everything is painted that it changed."""
        self._missing = set(self._widgets)
        start = time.perf_counter()
        act()
        QApplication.sendPostedEvents()  # the painting that was asked for, without what is to follow it
        while self._missing:
            QApplication.processEvents()
        return time.perf_counter() - start


class Bench:
    """The page with jobs of which every tube is said to be as intended."""

    def __init__(self, record: Record, folder: Path, *, jobs: int) -> None:
        made = set_up(record, COMPLEMENT, tester="Bench tester")
        self._shop = made.shop
        self._jobs = [made.job_id, *(self._new_job(n) for n in range(1, jobs))]
        application()
        store = QSettings(str(folder / "window.ini"), QSettings.Format.IniFormat)
        self.window = MainWindow((PageSpec("bench", "&Bench", self._page),), settings=store)
        self.window.resize(1366, 768)
        self.window.show()
        QTest.qWait(_REST_MS)
        found = self.window.findChild(BenchPage)
        assert found is not None
        self.page = found

    def place(self) -> tuple[int, int, int]:
        """Item, setting line and tester of a line with a chart, for writing to a copy by hand."""
        page = self.page
        self.open(0)
        assert page.desk.job is not None
        socket = next(s for s in page.desk.job.sockets if s.intended == "6BQ5")
        assert socket.found.item_id is not None
        line = socket.lines[0]
        assert line.line_id is not None
        return socket.found.item_id, line.line_id, line.tester.id

    def open(self, which: int) -> None:
        """Put a job on the bench and let everything settle."""
        self.page.open_job(self._jobs[which])
        QTest.qWait(_REST_MS)

    def go(self, row: int, *, last: bool = False) -> None:
        """Take a row in hand, at its first setting line or its last, and let everything settle."""
        assert self.page.desk.job is not None
        socket = self.page.desk.job.sockets[row]
        self.page.desk.go(Spot(socket.id, len(socket.lines) - 1 if last else 0))
        self.rest()

    def rest(self) -> None:
        """Let everything settle that follows by itself."""
        QTest.qWait(_REST_MS // 4)
        while not self.page.idle:
            QApplication.processEvents()
        QTest.qWait(_REST_MS // 8)

    @property
    def row(self) -> int:
        """Which row is in hand."""
        return self.page.table.currentIndex().row()

    def read(self, row: int) -> int:
        """How often the first line of a row was read."""
        assert self.page.desk.job is not None
        return len(self.page.desk.job.sockets[row].lines[0].readings)

    def type_reading(self) -> None:
        """Type a reading that no slip is suspected in."""
        QTest.keyClicks(self.page.table.field, _likely(self.page.desk.line))
        QApplication.processEvents()

    def enter(self) -> None:
        """Press Enter."""
        QTest.keyClick(self.page.table.field, Qt.Key.Key_Enter, Qt.KeyboardModifier.KeypadModifier)

    @cached_property
    def row_painted(self) -> Painted:
        """Watches the table."""
        return Painted(self.page.table.viewport())

    @cached_property
    def all_painted(self) -> Painted:
        """Watches table and detail."""
        area = self.page.detail.findChild(QScrollArea)
        inside = None if area is None else area.widget()
        assert inside is not None
        return Painted(self.page.table.viewport(), inside)

    def _new_job(self, number: int) -> int:
        _, changes = intake.new_job(
            self._shop,
            customer="Ada Larch",
            maker="Larkmere",
            model="R8 receiver",
            serial=str(number),
            complement=COMPLEMENT,
        )
        return next(thing for kind, thing in changes.things if kind == "job")

    def say_found(self) -> None:
        """Every tube of every job is as intended."""
        for which in range(len(self._jobs)):
            self.open(which)
            assert self.page.desk.job is not None
            for socket in self.page.desk.job.sockets:
                finding.found_as_intended(self._shop, socket_id=socket.id)

    def _page(self) -> BenchPage:
        nothing: Callable[[int], object] = lambda job_id: None  # noqa: E731
        return BenchPage(self._shop, self.window.bridge, print_retube=nothing, show_picture=nothing)


def _likely(line: LineView | None) -> str:
    limit = None if line is None else line.limit
    good = None if limit is None else limit.good_from
    return "5000" if good is None else f"{good * 1.3:.0f}"


class BareModel(QAbstractTableModel):
    """As many cells as the bench has, with words of about that length."""

    def __init__(self) -> None:
        super().__init__()
        self.turn = 0

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's signature
        """One row a socket."""
        return ROWS

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's signature
        """As the bench."""
        return 7

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """A few words."""
        return (
            f"cell {index.row()} {index.column()} {self.turn}"
            if role == Qt.ItemDataRole.DisplayRole
            else None
        )


class BareTable(QTableView):
    """Enter changes the row in hand and goes on to the next: both are painted, no others."""

    def __init__(self) -> None:
        super().__init__()
        self.rows = BareModel()
        self.setModel(self.rows)
        self.resize(900, 600)
        self.selectRow(0)
        self.painted = Painted(self.viewport())

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """The key, and nothing else."""
        row = self.currentIndex().row()
        self.rows.turn += 1
        self.rows.dataChanged.emit(self.rows.index(row, 0), self.rows.index(row, 6))
        self.setCurrentIndex(self.rows.index((row + 1) % ROWS, 3))

    def press(self) -> None:
        """Press Enter."""
        QTest.keyClick(self, Qt.Key.Key_Enter, Qt.KeyboardModifier.KeypadModifier)


def bare_table() -> BareTable:
    """A bare table on the screen, settled."""
    application()
    table = BareTable()
    table.show()
    QTest.qWait(_REST_MS)
    return table
