"""From a service's ``Changes`` to one Qt signal: nothing else notifies anybody."""

from PySide6.QtCore import QObject, Signal

from tubeshelf.services.changes import Changes


class Bridge(QObject):
    """``changed`` carries the Changes of every act; pages that show what it touches reload."""

    changed = Signal(object)

    def publish(self, changes: Changes) -> None:
        """Tell what a service call changed. An act that wrote nothing still says its words."""
        self.changed.emit(changes)
