"""Light and dark: dresses the application from the tokens and follows the system's choice."""

from enum import StrEnum
from string import Template

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtGui import QColor, QFont, QPalette
from PySide6.QtWidgets import QApplication

from tubeshelf import paths
from tubeshelf.domain.palette import DARK, LIGHT, Palette
from tubeshelf.paper.fonts import ensure_fonts
from tubeshelf.ui import tokens


class Scheme(StrEnum):
    """What the user asked for."""

    SYSTEM = "system"
    LIGHT = "light"
    DARK = "dark"


class Theme(QObject):
    """Keeps the application dressed; ``changed`` carries the new Palette, for charts to redraw."""

    changed = Signal(object)

    def __init__(self, app: QApplication, scheme: Scheme = Scheme.SYSTEM) -> None:
        super().__init__(app)
        self._app = app
        self.scheme = scheme
        self.palette = _wanted(app, scheme)
        apply(app, self.palette)
        app.styleHints().colorSchemeChanged.connect(self._refresh)

    def choose(self, scheme: Scheme) -> None:
        """Wear another scheme from now on."""
        self.scheme = scheme
        self._refresh()

    def _refresh(self) -> None:
        palette = _wanted(self._app, self.scheme)
        if palette is not self.palette:
            self.palette = palette
            apply(self._app, palette)
            self.changed.emit(palette)


def apply(app: QApplication, palette: Palette) -> None:
    """Dress the application, which is of the style Fusion: colours, font and style sheet."""
    font = QFont(ensure_fonts())
    font.setPixelSize(tokens.BODY)
    app.setFont(font)
    app.setPalette(qt_palette(palette))
    app.setStyleSheet(style_sheet(palette))


def style_sheet(palette: Palette) -> str:
    """The style sheet with the tokens filled in."""
    template = (paths.root("resources") / "style" / "tubeshelf.qss").read_text(encoding="utf-8")
    sizes = {name.lower(): f"{value}px" for name, value in vars(tokens).items() if isinstance(value, int)}
    return Template(template).substitute(sizes, **palette.colours())


def qt_palette(palette: Palette) -> QPalette:
    """The same colours for everything that the style sheet does not reach."""
    role, group = QPalette.ColorRole, QPalette.ColorGroup
    colours = {
        role.Window: palette.bg,
        role.WindowText: palette.ink,
        role.Base: palette.panel,
        role.AlternateBase: palette.bg,
        role.Text: palette.ink,
        role.PlaceholderText: palette.soft,
        role.Button: palette.panel,
        role.ButtonText: palette.ink,
        role.BrightText: palette.reject,
        role.ToolTipBase: palette.panel,
        role.ToolTipText: palette.ink,
        role.Highlight: palette.accent,
        role.HighlightedText: palette.on_accent,
        role.Accent: palette.accent,
        role.Link: palette.accent,
        role.LinkVisited: palette.accent,
        role.Light: palette.panel,
        role.Midlight: palette.bg,
        role.Mid: palette.line,
        role.Dark: palette.control,
        role.Shadow: palette.line,
    }
    made = QPalette()
    for which, colour in colours.items():
        made.setColor(which, QColor(colour))
    for which in (role.WindowText, role.Text, role.ButtonText):
        made.setColor(group.Disabled, which, QColor(palette.soft))
    return made


def _wanted(app: QApplication, scheme: Scheme) -> Palette:
    if scheme is Scheme.SYSTEM:
        return DARK if app.styleHints().colorScheme() == Qt.ColorScheme.Dark else LIGHT
    return DARK if scheme is Scheme.DARK else LIGHT
