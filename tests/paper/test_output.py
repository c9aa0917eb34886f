import resource
import subprocess
import sys
from pathlib import Path

import pypdf
import pytest
from PySide6.QtPrintSupport import QPrinter

from tests.paper.samples import RETUBE, long_retube
from tubeshelf.domain.errors import UserError
from tubeshelf.paper.output import preview_images, print_to, to_pdf
from tubeshelf.paper.retube import retube_document

SHORT = retube_document(RETUBE)
LONG = retube_document(long_retube(60))


@pytest.mark.parametrize(("size", "width", "height"), [("A4", 210.0, 297.0), ("Letter", 215.9, 279.4)])
def test_the_pdf_has_the_size_asked_for_and_a_title(
    tmp_path: Path, size: str, width: float, height: float
) -> None:
    path = tmp_path / "list.pdf"
    assert to_pdf(SHORT, path, size) == 1
    reader = pypdf.PdfReader(path)
    box = reader.pages[0].mediabox
    assert float(box.width) * 25.4 / 72 == pytest.approx(width, abs=0.5)
    assert float(box.height) * 25.4 / 72 == pytest.approx(height, abs=0.5)
    assert reader.metadata is not None
    assert reader.metadata.title == "Retube list, job 214"
    assert reader.metadata.creator == "tubeshelf"


def test_the_font_comes_along_in_the_pdf(tmp_path: Path) -> None:
    path = tmp_path / "list.pdf"
    to_pdf(SHORT, path)
    resources = pypdf.PdfReader(path).pages[0]["/Resources"]
    fonts = {font.get_object()["/BaseFont"] for font in resources["/Font"].values()}
    assert fonts
    assert all("DejaVuSans" in name for name in fonts)


def test_an_unknown_paper_size_is_refused(tmp_path: Path) -> None:
    with pytest.raises(UserError, match="choose A4 or Letter"):
        to_pdf(SHORT, tmp_path / "list.pdf", "A7")


def test_a_folder_that_is_not_there_is_named(tmp_path: Path) -> None:
    with pytest.raises(
        UserError, match=r"list\.pdf could not be written to .*nowhere: the folder does not exist"
    ):
        to_pdf(SHORT, tmp_path / "nowhere" / "list.pdf")


def test_a_folder_of_that_name_is_not_replaced(tmp_path: Path) -> None:
    (tmp_path / "list.pdf").mkdir()
    with pytest.raises(UserError, match="there is a folder of that name"):
        to_pdf(SHORT, tmp_path / "list.pdf")
    assert [entry.name for entry in tmp_path.iterdir()] == ["list.pdf"]


def test_a_disk_that_takes_no_more_leaves_the_old_paper_whole(tmp_path: Path) -> None:
    path = tmp_path / "list.pdf"
    to_pdf(SHORT, path)
    before = path.read_bytes()
    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (4096, hard))
    try:
        with pytest.raises(UserError, match="choose another folder"):
            to_pdf(LONG, path)
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))
    assert path.read_bytes() == before
    assert [entry.name for entry in tmp_path.iterdir()] == ["list.pdf"]


def test_a_preview_has_the_pages_of_the_pdf(tmp_path: Path) -> None:
    images = preview_images(LONG, dpi=50)
    assert len(images) == to_pdf(LONG, tmp_path / "list.pdf")
    assert (images[0].width(), images[0].height()) == (413, 585)
    assert images[0].pixelColor(2, 2).name() == "#ffffff"
    inked = sum(images[0].pixelColor(x, y).lightness() < 128 for x in range(413) for y in range(30, 90))
    assert inked > 100


def test_a_printer_gets_the_same_pages_and_keeps_to_the_range(tmp_path: Path) -> None:
    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
    printer.setOutputFileName(str(tmp_path / "printed.pdf"))
    printer.setFromTo(2, 3)
    total = print_to(LONG, printer)
    assert total == to_pdf(LONG, tmp_path / "list.pdf")
    printed = [page.extract_text() for page in pypdf.PdfReader(tmp_path / "printed.pdf").pages]
    written = [page.extract_text() for page in pypdf.PdfReader(tmp_path / "list.pdf").pages]
    assert [text.split() for text in printed] == [text.split() for text in written[1:3]]


@pytest.mark.qt_log_ignore("QPainter::begin")
def test_a_printer_that_cannot_start_is_told_in_a_sentence(tmp_path: Path) -> None:
    printer = QPrinter()
    printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
    printer.setOutputFileName(str(tmp_path / "nowhere" / "printed.pdf"))
    with pytest.raises(UserError, match="choose another printer or place"):
        print_to(SHORT, printer)


def test_the_command_line_makes_a_paper_without_display_and_widgets(tmp_path: Path) -> None:
    program = (
        "import sys\n"
        "from pathlib import Path\n"
        "from tests.paper.samples import RETUBE\n"
        "from tubeshelf.paper.output import to_pdf\n"
        "from tubeshelf.paper.retube import retube_document\n"
        "print(to_pdf(retube_document(RETUBE), Path(sys.argv[1])))\n"
        "print('PySide6.QtWidgets' in sys.modules, 'matplotlib' in sys.modules)\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", program, str(tmp_path / "list.pdf")],
        env={"PATH": "/usr/bin:/bin", "HOME": str(tmp_path)},
        cwd=Path(__file__).parents[2],
        capture_output=True,
        text=True,
        check=True,
    )
    assert done.stdout.split() == ["1", "False", "False"]


def test_words_can_be_searched_for(tmp_path: Path) -> None:
    path = tmp_path / "list.pdf"
    to_pdf(SHORT, path)
    text = pypdf.PdfReader(path).pages[0].extract_text()
    assert "practice amplifier, serial 30417" in text
    assert "\t" not in text
