"""The preview of a paper and the picture window."""

import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pypdf
import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QImage
from PySide6.QtPrintSupport import QPrinter
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from tests.ui.drivers.jobs import answer_file_dialogue
from tubeshelf.charts.figures import job_figure
from tubeshelf.charts.values import ChartLine
from tubeshelf.domain.judging import Limit
from tubeshelf.domain.palette import DARK, LIGHT
from tubeshelf.paper.blocks import Paragraph
from tubeshelf.paper.pager import Document
from tubeshelf.ui import theme
from tubeshelf.ui.parts.picture import PictureWindow
from tubeshelf.ui.parts.preview import Preview

Show = Callable[..., QWidget]
LINES = tuple(Paragraph(f"Line {number} of a long paper", gap=3.0) for number in range(1, 121))
PAPER = Document(title="Retube list, job 214", running="job 214", blocks=LINES)
READ = ChartLine("V1 12AX7", "input", 1540.0, None, Limit(1040.0, 800.0, 1600.0), "µmho")


@pytest.fixture
def preview(shown: Show) -> Preview:
    paper = Preview(PAPER, "retube-214")
    paper.size_choice.choose("A4")
    shown(paper, 900, 760)
    return paper


def ink(image: QImage) -> int:
    """How many pixels of every seventh are dark."""
    spots = ((x, y) for x in range(0, image.width(), 7) for y in range(0, image.height(), 7))
    return sum(image.pixelColor(x, y).lightness() < 90 for x, y in spots)


def test_the_pages_that_will_be_printed_are_shown(preview: Preview) -> None:
    assert preview.pages.count > 1
    assert f"{preview.pages.count} pages" == preview.head._facts.accessibleName()
    first = preview.pages.grab().toImage()
    assert ink(first) > 50
    QTest.keyClick(preview.pages, Qt.Key.Key_End)
    assert preview.pages.page == preview.pages.count
    assert preview.pages.grab().toImage() != first


def test_another_size_of_paper_is_laid_out_anew(preview: Preview, shown: Show) -> None:
    preview.grab()
    preview.size_choice.setFocus()
    QTest.keyClick(preview.size_choice, Qt.Key.Key_Down)
    assert preview.page_size == "Letter"
    fresh = Preview(PAPER, "retube-214")
    fresh.size_choice.choose("Letter")
    shown(fresh, 900, 760)
    assert preview.pages.grab().toImage() == fresh.pages.grab().toImage()


def test_larger_and_back_to_the_width_of_the_window(preview: Preview, qtbot: QtBot) -> None:
    QTest.keyClick(preview, Qt.Key.Key_Plus, Qt.KeyboardModifier.ControlModifier)
    qtbot.waitUntil(lambda: preview.pages.horizontalScrollBar().maximum() > 0)
    preview.grab()
    QTest.keyClick(preview, Qt.Key.Key_0, Qt.KeyboardModifier.ControlModifier)
    assert preview.pages.horizontalScrollBar().maximum() == 0


def test_ctrl_s_asks_for_a_name_and_writes_selectable_text(
    preview: Preview, qtbot: QtBot, tmp_path: Path
) -> None:
    QTest.keyClick(preview, Qt.Key.Key_S, Qt.KeyboardModifier.ControlModifier)
    path = tmp_path / "my list.pdf"
    assert answer_file_dialogue(qtbot, preview, path) == "retube-214.pdf"
    qtbot.waitUntil(lambda: "my list.pdf" in preview.notice.text)
    pages = [page.extract_text() for page in pypdf.PdfReader(path).pages]
    assert len(pages) == preview.pages.count
    assert "Line 1 of a long paper" in pages[0]
    assert "Line 120 of a long paper" in pages[-1]


def test_a_place_that_cannot_be_written_is_said_in_the_window(preview: Preview, tmp_path: Path) -> None:
    preview.save_pdf(tmp_path / "no such folder" / "x.pdf")
    assert preview.notice.isVisible()
    assert "the folder does not exist" in preview.notice.text


def test_a_printer_gets_the_same_pages(preview: Preview, tmp_path: Path) -> None:
    printer = QPrinter()
    printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
    printer.setOutputFileName(str(tmp_path / "printed.pdf"))
    preview.print_on(printer)
    assert "printed.pdf" in preview.notice.text
    assert len(pypdf.PdfReader(tmp_path / "printed.pdf").pages) == preview.pages.count


def test_escape_closes_it_for_good(qtbot: QtBot) -> None:
    paper = Preview(PAPER, "retube-214")
    with qtbot.waitExposed(paper):
        paper.show()
    paper.activateWindow()
    qtbot.waitUntil(paper.isActiveWindow)
    with qtbot.waitSignal(paper.destroyed):
        QTest.keyClick(paper.pages, Qt.Key.Key_Escape)


@pytest.fixture
def picture(shown: Show) -> PictureWindow:
    window = PictureWindow(
        "Readings of job 214", "readings-214", lambda palette: job_figure((READ,), palette)
    )
    shown(window, 900, 600)
    return window


def test_the_canvas_stays_while_the_picture_follows_light_and_dark(
    picture: PictureWindow, qapp: QApplication
) -> None:
    canvas = picture.picture.widget()
    light = canvas.grab().toImage()
    theme.apply(qapp, DARK)
    qapp.processEvents()
    dark = canvas.grab().toImage()
    theme.apply(qapp, LIGHT)
    assert picture.picture.widget() is canvas
    assert light.pixelColor(2, 2).name().upper() == LIGHT.panel
    assert dark.pixelColor(2, 2).name().upper() == DARK.panel
    assert dark.size() == light.size()


@pytest.mark.parametrize(("ending", "begins"), [("png", b"\x89PNG"), ("svg", b"<?xml")])
def test_a_picture_is_saved_by_its_ending(
    picture: PictureWindow, qtbot: QtBot, tmp_path: Path, ending: str, begins: bytes
) -> None:
    QTest.keyClick(picture, Qt.Key.Key_S, Qt.KeyboardModifier.ControlModifier)
    path = tmp_path / f"mine.{ending}"
    assert answer_file_dialogue(qtbot, picture, path) == "readings-214.png"
    qtbot.waitUntil(lambda: bool(picture.notice.text))
    assert path.read_bytes().startswith(begins)


def test_a_picture_that_cannot_be_written_says_so(picture: PictureWindow, tmp_path: Path) -> None:
    picture.save(tmp_path / "no such folder" / "x.png")
    assert "choose another folder" in picture.notice.text


def test_neither_paper_nor_page_brings_matplotlib_in() -> None:
    program = (
        "import sys, tubeshelf.ui.pages.jobs, tubeshelf.ui.parts.picture, tubeshelf.ui.parts.preview;"
        "print(sorted(m for m in ('matplotlib', 'scipy', 'alembic') if m in sys.modules))"
    )
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def test_another_way_of_printing_is_chosen_by_key_and_goes_into_the_pdf(shown: Show, tmp_path: Path) -> None:
    other = Document(title="Retube list", running="", blocks=(Paragraph("seen from below"),))
    paper = Preview(PAPER, "retube-214", variants=(("map from above", PAPER), ("map from below", other)))
    shown(paper, 900, 760)
    assert paper.variant_choice.currentText() == "map from above"
    QTest.keySequence(paper.pages, "Ctrl+B")
    assert paper.variant_choice.currentText() == "map from below"
    assert paper.pages.count == 1
    paper.save_pdf(tmp_path / "below.pdf")
    assert "seen from below" in pypdf.PdfReader(tmp_path / "below.pdf").pages[0].extract_text()
    QTest.keySequence(paper.pages, "Ctrl+B")
    assert paper.pages.count > 1


def test_a_paper_that_is_printed_in_one_way_only_offers_no_choice(preview: Preview) -> None:
    assert not preview.variant_choice.isVisible()
    QTest.keySequence(preview.pages, "Ctrl+B")
    assert preview.document is PAPER
