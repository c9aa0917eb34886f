"""Sizes of the window in logical pixels, and the palette that is in force."""

from PySide6.QtGui import QGuiApplication, QPalette

from tubeshelf.domain.palette import DARK, LIGHT, Palette, contrast

__all__ = ["DARK", "LIGHT", "Palette", "contrast", "palette_now"]

GRID = 4
MARGIN = 16
GAP = 12
CORNER = 8
ROW = 48
COMPACT_ROW = 36
HEADER = 32
EDGE = 4
RING = 2
MARK = 28

BODY = 14
SMALL = 12
TITLE = 20
READING = 17
READING_IN_HAND = 28
READING_LARGE = 72

FOLD_UNDER = 1100
"""A window narrower than this shows the list or the detail, not both."""


def palette_now() -> Palette:
    """The palette the application wears; read at paint time, so that a change needs no wiring."""
    return DARK if QGuiApplication.palette().color(QPalette.ColorRole.Window).lightness() < 128 else LIGHT
