import shutil
import sys
from collections.abc import Callable, Iterator
from contextlib import closing
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import QSettings
from PySide6.QtGui import QFont
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from tests.records import FixedClock
from tests.typed import empty_file
from tests.ui.drivers.bench import Bench, BenchDriver, set_up
from tubeshelf.bootstrap import open_record
from tubeshelf.domain.palette import DARK, LIGHT, Palette
from tubeshelf.paper.fonts import load_known_fonts
from tubeshelf.services.shop import open_shop
from tubeshelf.ui import theme

__all__ = ["empty_file"]


@pytest.fixture(autouse=True)
def dressed(qapp: QApplication) -> None:
    """Every test starts light and in a font that is the same on every machine."""
    if qapp.font().family() != "DejaVu Sans":
        qapp.setFont(QFont(load_known_fonts()))
    if not qapp.styleSheet() or qapp.palette() != theme.qt_palette(LIGHT):
        theme.apply(qapp, LIGHT)


@pytest.fixture(params=[LIGHT, DARK], ids=lambda palette: palette.name)
def palette(request: pytest.FixtureRequest, qapp: QApplication) -> Iterator[Palette]:
    """Run the test light and dark."""
    theme.apply(qapp, request.param)
    yield request.param
    theme.apply(qapp, LIGHT)


@pytest.fixture
def shown(qtbot: QtBot) -> Callable[[QWidget], QWidget]:
    """Show a widget and wait until it was painted, where errors in painting come to light."""

    def show(widget: QWidget, width: int = 0, height: int = 0) -> QWidget:
        qtbot.addWidget(widget)
        if width:
            widget.resize(width, height or widget.sizeHint().height())
        with qtbot.waitExposed(widget):
            widget.show()
        widget.activateWindow()
        qtbot.waitUntil(widget.isActiveWindow)
        widget.grab()
        return widget

    return show


@pytest.fixture
def settings(tmp_path: Path) -> QSettings:
    """The window's state, in a file of the test's own."""
    return QSettings(str(tmp_path / "window.ini"), QSettings.Format.IniFormat)


@pytest.fixture
def hook() -> Iterator[None]:
    """Give the exception hook back."""
    before = sys.excepthook
    yield
    sys.excepthook = before


@pytest.fixture(scope="session")
def furnished(empty_file: Path, tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Bench]:
    """A record with the job in it, made once and copied for each test."""
    path = tmp_path_factory.mktemp("bench") / "furnished.tubeshelf"
    shutil.copyfile(empty_file, path)
    with closing(open_record(str(path), clock=FixedClock())) as record:
        return path, set_up(record)


@pytest.fixture
def bench(furnished: tuple[Path, Bench], tmp_path: Path, clock: FixedClock) -> Iterator[Bench]:
    path = tmp_path / "shop.tubeshelf"
    shutil.copyfile(furnished[0], path)
    with closing(open_record(str(path), clock=clock)) as record:
        yield replace(furnished[1], shop=open_shop(record))


@pytest.fixture
def at_bench(bench: Bench, qtbot: QtBot, shown: Callable[..., QWidget]) -> BenchDriver:
    return BenchDriver(qtbot, bench, shown)
