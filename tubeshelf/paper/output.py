"""Where papers go: a PDF file, pictures for a preview, a printer."""

import contextlib
import errno
import os
import re
import tempfile
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QBuffer, QByteArray, QIODevice, QMarginsF, QSizeF, Qt
from PySide6.QtGui import QImage, QPageLayout, QPageSize, QPdfWriter

from tubeshelf.domain.errors import UserError
from tubeshelf.paper.canvas import painting
from tubeshelf.paper.pager import Document, Pager, Sheet

if (
    TYPE_CHECKING
):  # QtPrintSupport brings all widgets with it, which a PDF from the command line does not need
    from PySide6.QtPrintSupport import QPrinter

PAGE_SIZES = {"A4": QPageSize.PageSizeId.A4, "Letter": QPageSize.PageSizeId.Letter}

_PDF_DPI = 1200

# Qt's table from glyphs to characters names the blank a tab, the first character that shares its glyph:
# text copied from the paper, or searched for, would have no spaces. The file keeps its length.
_GLYPHS = re.compile(rb"\[(?:<[0-9A-F]{4}> )+\]")
_TAB, _SPACE = b"<0009>", b"<0020>"

_REASONS = {
    errno.ENOSPC: "the disk is full: free some room or choose another folder",
    errno.EDQUOT: "the disk is full: free some room or choose another folder",
    errno.EFBIG: "the disk takes no file of this size: choose another folder",
    errno.EACCES: "writing there is not allowed: choose another folder",
    errno.EPERM: "writing there is not allowed: choose another folder",
    errno.EROFS: "writing there is not allowed: choose another folder",
    errno.ENOENT: "the folder does not exist: create it or choose another one",
    errno.ENOTDIR: "the folder does not exist: create it or choose another one",
    errno.EISDIR: "there is a folder of that name: choose another name",
    errno.ENAMETOOLONG: "the name is too long: choose a shorter one",
}


def to_pdf(document: Document, path: Path, page_size: str = "A4") -> int:
    """Write the document as a PDF with selectable text and return how many pages it has.

    A file already there is replaced only by a complete one. Raises UserError with what to do if the
    place cannot be written.
    """
    pager = Pager(document, sheet_of(page_size))
    _write(path, _pdf(pager, page_size))
    return pager.pages


def preview_images(document: Document, page_size: str = "A4", dpi: int = 110) -> list[QImage]:
    """Each page as a picture, white ground included."""
    pager = Pager(document, sheet_of(page_size))
    return [_picture(pager, number, dpi) for number in range(1, pager.pages + 1)]


def print_to(document: Document, printer: "QPrinter") -> int:
    """Draw the document on a printer, or on a preview that poses as one; returns its pages.

    The paper's size is the printer's; a range of pages chosen in the dialogue is kept to.
    """
    printer.setFullPage(True)
    size = printer.pageLayout().fullRect(QPageLayout.Unit.Millimeter).size()
    pager = Pager(document, Sheet(size.width(), size.height()))
    printer.setDocName(document.title)
    printer.setCreator("tubeshelf")
    pager.paint(printer, max(1, printer.fromPage()), printer.toPage() or None)
    return pager.pages


def sheet_of(page_size: str) -> Sheet:
    """The sheet of a named size; UserError for a name that is none of ``PAGE_SIZES``."""
    if page_size not in PAGE_SIZES:
        raise UserError(f"“{page_size}” is no paper size: choose {' or '.join(PAGE_SIZES)}.")
    size: QSizeF = QPageSize.size(PAGE_SIZES[page_size], QPageSize.Unit.Millimeter)
    return Sheet(size.width(), size.height())


def _pdf(pager: Pager, page_size: str) -> bytes:
    """The file in memory: Qt tells nobody when a disk runs full, Python does."""
    content = QByteArray()
    buffer = QBuffer(content)
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    writer = QPdfWriter(buffer)
    writer.setResolution(_PDF_DPI)
    writer.setPageSize(QPageSize(PAGE_SIZES[page_size]))
    writer.setPageMargins(QMarginsF(0, 0, 0, 0))
    writer.setTitle(pager.document.title)
    writer.setCreator("tubeshelf")
    pager.paint(writer)
    buffer.close()
    return _GLYPHS.sub(lambda found: found[0].replace(_TAB, _SPACE), bytes(content.data()))


def _picture(pager: Pager, number: int, dpi: int) -> QImage:
    sheet = pager.sheet
    image = QImage(
        round(sheet.width * dpi / 25.4), round(sheet.height * dpi / 25.4), QImage.Format.Format_RGB32
    )
    image.fill(Qt.GlobalColor.white)
    with painting(image) as painter:
        pager.paint_page(painter, number, dpi)
    return image


def _write(path: Path, content: bytes) -> None:
    """Write beside the target and rename, so that a failure leaves no half of a paper behind."""
    temporary = None
    if path.exists() and not (path.is_file() or path.is_dir()):
        raise UserError(f"{path} is no ordinary file: choose another name.")
    try:
        handle, name = tempfile.mkstemp(dir=path.parent, prefix=".paper-", suffix=".pdf")
        temporary = Path(name)
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        temporary.chmod(_mode(path))
        temporary.replace(path)
    except OSError as error:
        if temporary is not None:
            with contextlib.suppress(OSError):
                temporary.unlink(missing_ok=True)
        reason = _REASONS.get(error.errno or 0, "choose another folder")
        raise UserError(f"{path.name} could not be written to {path.parent}: {reason}.") from error


def _mode(path: Path) -> int:
    """The rights of the file replaced, or those any new file gets: a temporary one is private."""
    if path.exists():
        return path.stat().st_mode & 0o777
    mask = os.umask(0)
    os.umask(mask)
    return 0o666 & ~mask
