"""The large-figure view: what it says of the socket in hand, that all of it fits, and where it opens."""

import json
import os
import subprocess
import sys
from collections.abc import Callable
from dataclasses import replace
from itertools import combinations
from pathlib import Path

import pytest
from PySide6.QtCore import QSettings
from PySide6.QtGui import QFontMetricsF
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from tests.ui.drivers.bench import Bench, set_up
from tests.ui.drivers.keyboard import Keyboard
from tubeshelf.domain.palette import Palette
from tubeshelf.store.record import Record
from tubeshelf.ui import tokens
from tubeshelf.ui.large import LargeView
from tubeshelf.ui.largelayout import HEIGHT, WIDTH, Figures, font_of, placed
from tubeshelf.ui.marks import verdict_look
from tubeshelf.ui.pages.bench import BenchPage
from tubeshelf.ui.start import Program

USUAL = Figures(
    position="V3",
    role="output",
    type="12AU7",
    note="wrong type, 12AX7 belongs here",
    note_tone="weak",
    line="section 2",
    dial=(("heater volts", "6.3"), ("bias dial", "41"), ("range", "3,000"), ("pin plate", "N2")),
    reading="10,250",
    unit="µmho",
    look=verdict_look("good", "too close to call"),
    beside="1,057 ± 30 of three, good from 1,050",
    before="Before: V2 section 1 9,650 µmho, good",
    warning="Do not power. V5: a 5U4G takes 3 A from a winding rated 2 A.",
)
LONG = replace(
    USUAL,
    position="V12A-left",
    role="intermediate frequency amplifier and detector",
    dial=tuple((f"control number {n}", f"{n}23.5") for n in range(12)),
    reading="123,456.78",
    beside="transconductance, section 2, " * 6,
    before="Before: " + "V2 " * 60,
    warning="Do not power. " + "V5: a 5U4G takes 3 A from a winding rated 2 A. " * 4,
)
SIZES = [(WIDTH, HEIGHT), (1024, 400), (640, 400), (320, 200), (1366, 768), (1920, 1080), (1080, 1920)]


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("figures", [USUAL, LONG, Figures(type="No job is on the bench.")])
def test_nothing_is_cut_and_nothing_stands_over_another(figures: Figures, size: tuple[int, int]) -> None:
    base = QApplication.font()
    texts = placed(figures, *size, base)
    for one in texts:
        assert one.box.left() >= 0
        assert one.box.top() >= 0
        assert one.box.right() <= size[0]
        assert one.box.bottom() <= size[1]
        if not one.icon:
            metrics = QFontMetricsF(font_of(one, base, one.pixels))
            assert metrics.horizontalAdvance(one.text) <= one.box.width() + 1
            assert metrics.height() <= one.box.height() + 1, one.text
    over = [(a.text, b.text) for a, b in combinations(texts, 2) if a.box.intersects(b.box)]
    assert over == []


@pytest.mark.parametrize("size", [size for size in SIZES if size[0] >= 640])
def test_what_is_too_wide_shrinks_before_it_is_cut(size: tuple[int, int]) -> None:
    texts = [one.text for one in placed(USUAL, *size, QApplication.font())]
    assert [text for text in texts if text.endswith("…")] == []
    crowded = {one.text: one.pixels for one in placed(LONG, *size, QApplication.font())}
    assert [value for _, value in LONG.dial if value not in crowded] == []
    assert LONG.position in crowded
    assert LONG.reading in crowded


def test_at_its_usual_size_the_figures_are_as_large_as_the_design_wants() -> None:
    sizes = {one.text: one.pixels for one in placed(USUAL, WIDTH, HEIGHT, QApplication.font())}
    assert sizes["V3"] == sizes["10,250"] == tokens.READING_LARGE
    assert all(text in sizes for _, text in USUAL.dial)
    assert min(size for text, size in sizes.items() if size) >= 24


def test_it_is_drawn_light_and_dark(
    palette: Palette, shown: Callable[..., QWidget], settings: QSettings
) -> None:
    view = LargeView(settings, QWidget())
    view.show_figures(USUAL)
    view.resize(WIDTH, HEIGHT)
    image = view.grab().toImage()
    colours = {image.pixelColor(x, y).name().upper() for x in range(0, WIDTH, 2) for y in range(HEIGHT)}
    assert {palette.panel, palette.ink, palette.accent, palette.again, palette.reject} <= colours


class Technician(Keyboard):
    """The bench of the real window, by keys, with what the large view says."""

    def __init__(self, bench: Bench, program: Program) -> None:
        self.bench, self.program = bench, program

    @property
    def page(self) -> BenchPage:
        page = self.program.window.current
        assert isinstance(page, BenchPage)
        return page

    @property
    def view(self) -> LargeView | None:
        return next((v for v in self.program.window.findChildren(LargeView) if v.isVisible()), None)

    @property
    def figures(self) -> Figures:
        QTest.qWait(20)
        assert self.view is not None
        return self.view.figures


@pytest.fixture
def program(
    file_record: Record, qapp: QApplication, settings: QSettings, shown: Callable[..., QWidget], qtbot: QtBot
) -> Technician:
    bench = set_up(file_record)
    made = Program(qapp, lambda: bench.shop, settings)
    shown(made.window, 1366, 768)
    qtbot.waitUntil(lambda: made.window.current is not None)
    hands = Technician(bench, made)
    hands.page.open_job(bench.job_id)
    return hands


def test_it_follows_the_socket_in_hand_and_leaves_the_keyboard_to_the_entry(program: Technician) -> None:
    program.press("F11")
    first = program.figures
    assert (first.position, first.role, first.type) == ("V1", "input", "12AX7")
    assert first.note == "belongs here, not looked yet"
    assert first.reading == "–"
    assert program.page.table.field.hasFocus()
    program.write("+")
    assert program.figures.dial == (("heater", "6.3"), ("range", "C"), ("pins", "2·3·7"), ("press", "P4"))
    assert (program.figures.line, program.figures.note) == ("section 1", "")
    program.write("15")
    assert (program.figures.reading, program.figures.typed, program.figures.look) == ("15", True, None)
    program.write("40\n1510\n")
    assert program.figures.position == "V2"
    assert program.figures.before == "Before: V1 section 2 1,510 µmho, good"
    program.press("Up")
    shown = program.figures
    assert (shown.position, shown.reading, shown.unit) == ("V1", "1,540", "µmho")
    assert shown.look == verdict_look("good")


def test_a_tube_of_another_type_and_harm_are_told(program: Technician) -> None:
    program.press("F11")
    for _ in range(4):
        program.press("Down")
    program.write("5U4GB\n")
    program.press("Down")
    shown = program.figures
    assert (shown.position, shown.type) == ("V5", "5U4GB")
    assert shown.note.startswith("harmful, 5Y3GT belongs here")
    assert shown.warning.startswith("Do not power. V5: a 5U4GB takes 3 A")
    assert "Do not power" in (program.view.accessibleDescription() if program.view else "")
    program.press("Up")
    program.press("+")
    program.press("*")
    program.write("1\n")  # a short; between which pins is not known
    assert program.figures.warning == "Do not power. V4: short. And 1 more."
    program.press("Down")
    assert program.figures.warning.startswith("Do not power. V5: a 5U4GB takes 3 A")
    assert program.figures.warning.endswith(". And 1 more.")


def test_without_a_job_it_says_so(program: Technician) -> None:
    program.press("F11")
    program.press("Ctrl+O")
    assert program.figures == Figures(type="No job is on the bench.")


def test_the_same_key_closes_it_and_from_another_page_too(program: Technician) -> None:
    program.press("F11")
    assert program.view is not None
    program.program.window.open_page("shelf")
    QTest.keySequence(program.program.window, "F11")
    assert program.view is None
    assert program.program.window.current is not None
    assert program.program.window.current.name == "shelf"
    QTest.keySequence(program.program.window, "F11")
    assert program.view is not None


def test_it_goes_with_its_window_and_comes_back_at_the_next_start_where_it_stood(
    program: Technician, qapp: QApplication, settings: QSettings, shown: Callable[..., QWidget], qtbot: QtBot
) -> None:
    program.press("F11")
    assert program.view is not None
    program.view.setGeometry(40, 50, 700, 410)
    assert program.program.window.close()
    assert program.view is None
    again = next_start(program, qapp, settings, shown)
    qtbot.waitUntil(lambda: again.view is not None)
    assert again.view is not None
    assert (again.view.width(), again.view.height()) == (700, 410)
    again.program.window.activateWindow()
    qtbot.waitUntil(again.program.window.isActiveWindow)
    QTest.keySequence(again.program.window, "Ctrl+Q")
    third = next_start(program, qapp, settings, shown)
    qtbot.waitUntil(lambda: third.view is not None)
    third.press("F11")
    assert third.program.window.close()
    fourth = next_start(program, qapp, settings, shown)
    QTest.qWait(100)
    assert fourth.view is None


def test_closed_by_its_frame_it_stays_closed(
    program: Technician, qapp: QApplication, settings: QSettings, shown: Callable[..., QWidget]
) -> None:
    program.press("F11")
    assert program.view is not None
    program.view.windowHandle().close()
    assert program.view is None
    assert program.program.window.close()
    again = next_start(program, qapp, settings, shown)
    QTest.qWait(100)
    assert again.view is None


def next_start(
    before: Technician, qapp: QApplication, settings: QSettings, shown: Callable[..., QWidget]
) -> Technician:
    """The program as it is started anew."""
    made = Program(qapp, lambda: before.bench.shop, settings)
    shown(made.window, 1366, 768)
    QTest.qWait(50)
    return Technician(before.bench, made)


TWO_SCREENS = """
import sys
from PySide6.QtCore import QSettings
from PySide6.QtWidgets import QApplication, QWidget
from tubeshelf.ui.large import LargeView, other_screen
app = QApplication([])
window = QWidget()
window.setGeometry(100, 100, 800, 500)
window.show()
view = LargeView(QSettings(sys.argv[1], QSettings.Format.IniFormat), window)
view.open()
print(len(app.screens()), other_screen(window).name(), view.screen().name(), view.width(), view.height())
"""


def test_on_a_second_screen_it_fills_that_one(tmp_path: Path) -> None:
    screens = [
        {"name": name, "x": x, "y": 0, "width": width, "height": 900, "logicalDpi": 96, "dpr": 1}
        for name, x, width in (("desk", 0, 1400), ("wall", 1400, 1600))
    ]
    config = tmp_path / "screens.json"
    config.write_text(json.dumps({"screens": screens}), encoding="utf-8")
    told = subprocess.run(
        [sys.executable, "-c", TWO_SCREENS, str(tmp_path / "window.ini")],
        env={**os.environ, "QT_QPA_PLATFORM": f"offscreen:configfile={config}"},
        capture_output=True,
        text=True,
        timeout=60,
        check=True,
    )
    assert told.stdout.split() == ["2", "wall", "wall", "1600", "900"]
