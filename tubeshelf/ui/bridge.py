"""From a service's ``Changes`` to one Qt signal: nothing else notifies anybody."""

from dataclasses import replace
from functools import partial

from PySide6.QtCore import QObject, QTimer, Signal

from tubeshelf.services.changes import Changes


class Bridge(QObject):
    """``changed`` carries the Changes of every act; pages that show what it touches reload."""

    changed = Signal(object)

    def publish(self, changes: Changes) -> None:
        """Tell what a service call changed. An act that wrote nothing still says its words."""
        self.changed.emit(changes)


class Bridges(QObject):
    """Joins the bridges of several windows on one record: what one tells, all others tell too.

    There it is begun by no page: the page of that name in the other window does not know it yet. The others
    are told once the window that began it has painted what was done there.
    """

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._joined: list[Bridge] = []
        self._passing_on = False

    def join(self, bridge: Bridge) -> None:
        """Let a bridge hear the others, and be heard by them."""
        self._joined.append(bridge)
        bridge.changed.connect(partial(self._pass_on, bridge))

    def _pass_on(self, source: Bridge, changes: Changes) -> None:
        if not self._passing_on and len(self._joined) > 1:
            QTimer.singleShot(0, self, partial(self._tell_others, source, changes))

    def _tell_others(self, source: Bridge, changes: Changes) -> None:
        self._passing_on = True
        try:
            for bridge in self._joined:
                if bridge is not source:
                    bridge.publish(replace(changes, origin=""))
        finally:
            self._passing_on = False
