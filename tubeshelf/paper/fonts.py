"""The fonts of window and paper, also on a machine that has none installed."""

import importlib.util
from pathlib import Path

from PySide6.QtGui import QFont, QFontDatabase, QGuiApplication

from tubeshelf.domain.errors import UserError

FALLBACK = "DejaVu Sans"
_FILES = ("DejaVuSans.ttf", "DejaVuSans-Bold.ttf", "DejaVuSansMono.ttf", "DejaVuSansMono-Bold.ttf")


def ensure_fonts() -> str:
    """The family to write in: the platform's own, or DejaVu Sans where nothing is installed.

    Needs a QGuiApplication. Raises UserError if there is no font at all.
    """
    if QFontDatabase.families():
        return QGuiApplication.font().family()
    return load_known_fonts()


def load_known_fonts() -> str:
    """Load the DejaVu fonts that come with matplotlib and name their family.

    matplotlib is found but not imported: importing it costs more than showing the window. Tests and
    papers use this to come out alike on every machine.
    """
    loaded = [QFontDatabase.addApplicationFont(str(folder / f)) for folder in _folders() for f in _FILES]
    if not any(number >= 0 for number in loaded):
        raise UserError(
            "No font is installed here: install one, for example with 'apt install fonts-dejavu-core'."
        )
    return FALLBACK


def tabular(font: QFont, *, pixels: int, bold: bool = True) -> QFont:
    """``font`` for readings: figures of equal width, so that columns of numbers line up."""
    figures = QFont(font)
    figures.setPixelSize(pixels)
    figures.setBold(bold)
    figures.setFeature(QFont.Tag("tnum"), 1)
    return figures


def _folders() -> list[Path]:
    spec = importlib.util.find_spec("matplotlib")
    places = spec.submodule_search_locations if spec else None
    return [Path(place) / "mpl-data" / "fonts" / "ttf" for place in places or ()]
