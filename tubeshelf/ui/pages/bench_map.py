"""Ctrl M on the bench: the chassis map beside the list, both with the same socket in hand."""

from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QObject

from tubeshelf.services.shop import Shop
from tubeshelf.ui.bridge import Bridge
from tubeshelf.ui.pages.bench_map_window import ChassisWindow

if TYPE_CHECKING:
    from tubeshelf.ui.pages.bench import BenchPage


class ChassisBeside(QObject):
    """Opens the map of the job on the bench and keeps the two in step."""

    def __init__(self, page: "BenchPage", shop: Shop, bridge: Bridge) -> None:
        super().__init__(page)
        self._page, self._shop, self._bridge = page, shop, bridge
        self.window: ChassisWindow | None = None
        page.keys_changed.connect(lambda: self._follow())

    def open(self) -> None:
        """Show the map with the keyboard in it; a box of loose tubes has none."""
        job = self._page.desk.job
        if job is None or job.equipment_id is None:
            box = "" if job is None else f"Job {job.number} is a box of loose tubes: it has no chassis map."
            self._page.notice.tell(box or "Open a job first; then this shows its chassis.")
            return
        if self.window is None:
            self.window = ChassisWindow(self._shop, self._bridge, self._page.window())
            self.window.wanted.connect(self._go_to)
            self.window.left.connect(self._back)
            self._page.destroyed.connect(self.window.deleteLater)
            self._page.window().installEventFilter(self)
            self._set_beside(self.window)
        self.window.show()
        self._follow(anew=True)
        self.window.activateWindow()
        self.window.map.setFocus()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """The map goes with its main window, another of which may stay open."""
        if event.type() == QEvent.Type.Hide and not event.spontaneous() and self.window is not None:
            self.window.close()
        return super().eventFilter(watched, event)

    def _follow(self, *, anew: bool = False) -> None:
        """The bench shows another job, stage, tester or socket."""
        window, job, socket = self.window, self._page.desk.job, self._page.desk.socket
        if window is None or not window.isVisible():
            return
        if job is None:
            window.close()
        else:
            window.follow(job, "" if socket is None else socket.position, anew=anew)

    def _go_to(self, position: str) -> None:
        self._page.go_to(position)
        self._back()

    def _back(self) -> None:
        """The keyboard goes back to the entry; the map stays."""
        self._page.activateWindow()
        self._page.table.field.setFocus()

    def _set_beside(self, window: ChassisWindow) -> None:
        """At first over the detail, so that the list stays in sight."""
        frame = self._page.window().frameGeometry()
        at = window.frameGeometry()
        at.moveBottomRight(frame.bottomRight())
        window.move(at.topLeft())
