"""Our own drawn icons: read from SVG, coloured from the tokens, sharp at every scale."""

from functools import lru_cache

from PySide6.QtCore import QByteArray, QRectF, QSize, Qt
from PySide6.QtGui import QIcon, QPainter, QPixmap, QPixmapCache
from PySide6.QtSvg import QSvgRenderer

from tubeshelf import paths

_ICON_SIZES = (16, 24, 32, 48, 96)


def icon(name: str, colour: str) -> QIcon:
    """A coloured icon for buttons and menus."""
    made = QIcon()
    for size in _ICON_SIZES:
        made.addPixmap(_pixmap(name, colour, size))
    return made


def app_icon() -> QIcon:
    """The program's icon, in its own colours."""
    made = QIcon()
    for size in (16, 32, 48, 64, 128, 256):
        made.addPixmap(_pixmap("app", "#000000", size))
    return made


def paint_mark(painter: QPainter, rect: QRectF, name: str, colour: str) -> None:
    """Paint an icon in the middle of ``rect``, square, at the device's own resolution."""
    side = min(rect.width(), rect.height())
    square = QRectF(rect.center().x() - side / 2, rect.center().y() - side / 2, side, side)
    device = painter.device()
    ratio = device.devicePixelRatioF() if device is not None else 1.0
    painter.drawPixmap(square, _pixmap(name, colour, round(side * ratio)), QRectF())


def pixmap(name: str, colour: str, size: int, ratio: float) -> QPixmap:
    """An icon for a label: ``size`` logical pixels on a screen with this device pixel ratio."""
    made = QPixmap(_pixmap(name, colour, round(size * ratio)))
    made.setDevicePixelRatio(ratio)
    return made


def _pixmap(name: str, colour: str, pixels: int) -> QPixmap:
    """Rendered once a name, colour and size; Qt's cache throws old ones away."""
    key = f"tubeshelf/{name}/{colour}/{pixels}"
    made = QPixmap()
    if QPixmapCache.find(key, made):
        return made
    made = QPixmap(QSize(pixels, pixels))
    made.fill(Qt.GlobalColor.transparent)
    with QPainter(made) as painter:
        QSvgRenderer(QByteArray(_drawing(name).replace(b"currentColor", colour.encode()))).render(painter)
    QPixmapCache.insert(key, made)
    return made


@lru_cache(maxsize=128)
def _drawing(name: str) -> bytes:
    return (paths.root("resources") / "icons" / f"{name}.svg").read_bytes()
