"""Bugs: to the log with their trace, and one honest dialogue."""

import logging
import sys
from collections.abc import Callable
from pathlib import Path
from types import TracebackType
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Qt
from PySide6.QtWidgets import QApplication

from tubeshelf.domain.errors import UserError

if TYPE_CHECKING:
    from PySide6.QtWidgets import QMessageBox

_LOG = logging.getLogger("tubeshelf")


class Trouble(QObject):
    """Takes every exception that reaches the event loop.

    A UserError becomes its sentence, given to ``say``. Anything else is logged and shown once; while
    that dialogue is open, further errors are only logged. The log is opened with the first of them.
    """

    def __init__(self, app: QApplication, folder: Path, say: Callable[[str], None] | None = None) -> None:
        super().__init__(app)
        self._say = say
        self._dialogue: QMessageBox | None = None
        self.file = folder / "tubeshelf.log"
        self._handler: logging.Handler | None = None
        self._before = sys.excepthook
        sys.excepthook = self.caught

    def speak_through(self, say: Callable[[str], None]) -> None:
        """Where the sentence of a UserError goes that no page has caught."""
        self._say = say

    def caught(self, kind: type[BaseException], error: BaseException, trace: TracebackType | None) -> None:
        """The hook itself."""
        if issubclass(kind, KeyboardInterrupt):
            QApplication.quit()
        elif isinstance(error, UserError) and self._say is not None:
            self._say(error.sentence)
        else:
            self._open_log()
            _LOG.error("Unexpected error", exc_info=(kind, error, trace))
            self._show()

    def uninstall(self) -> None:
        """Give the hook back and close the log."""
        sys.excepthook = self._before
        if self._handler is not None:
            _LOG.removeHandler(self._handler)
            self._handler.close()

    def _open_log(self) -> None:
        if self._handler is None:
            self._handler = _handler(self.file)
            _LOG.addHandler(self._handler)

    def _show(self) -> None:
        from PySide6.QtWidgets import QMessageBox

        if self._dialogue is not None and self._dialogue.isVisible():
            return
        box = QMessageBox(QApplication.activeWindow())
        box.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose, False)
        box.setTextFormat(Qt.TextFormat.PlainText)
        box.setIcon(QMessageBox.Icon.Warning)
        box.setWindowTitle("Something went wrong in tubeshelf")
        box.setText(
            "This is a fault of the program, not yours. What was saved before is in the record; "
            "the act under way may not have been saved. Look before you go on."
        )
        box.setInformativeText(f"The details are in {self.file}")
        self._dialogue = box
        box.open()


def _handler(file: Path) -> logging.Handler:
    from logging.handlers import RotatingFileHandler  # with half the network modules of Python

    form = logging.Formatter("%(asctime)s %(levelname)s %(name)s: %(message)s")
    handler: logging.Handler
    try:
        file.parent.mkdir(parents=True, exist_ok=True)
        handler = RotatingFileHandler(file, maxBytes=500_000, backupCount=2, encoding="utf-8", delay=True)
    except OSError:
        # A home that cannot be written to is no reason not to start; the trace still reaches a terminal.
        handler = logging.StreamHandler()
    handler.setFormatter(form)
    return handler
