"""What papers need of Qt before anything can be measured: an application and the one known font."""

from PySide6.QtGui import QGuiApplication

from tubeshelf.paper.fonts import load_known_fonts

_LOADED = "tubeshelf_paper_family"


def ensure_gui() -> QGuiApplication:
    """The running QGuiApplication, or a new one without a display, for the command line.

    A new one lives until the program ends, so a window can no longer be opened in the same process.
    """
    running = QGuiApplication.instance()
    if isinstance(running, QGuiApplication):
        return running
    return QGuiApplication(["tubeshelf", "-platform", "offscreen"])


def paper_family(app: QGuiApplication) -> str:
    """The family papers are set in, loaded once for each application.

    Papers never take the platform's font, so that one paper breaks its lines alike on every machine.
    """
    family = app.property(_LOADED)
    if not isinstance(family, str):
        family = load_known_fonts()
        app.setProperty(_LOADED, family)
    return family
