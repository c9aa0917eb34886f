"""The preview of a paper: its pages as they will be printed, to a printer or into a PDF from here."""

from collections.abc import Sequence
from pathlib import Path

from PySide6.QtCore import QLocale, QSize, Qt
from PySide6.QtGui import QKeySequence, QPageSize, QShortcut
from PySide6.QtPrintSupport import QPrintDialog, QPrinter
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from tubeshelf.domain.errors import UserError
from tubeshelf.paper.output import PAGE_SIZES, print_to, sheet_of, to_pdf
from tubeshelf.paper.pager import Document, Pager
from tubeshelf.ui import tokens
from tubeshelf.ui.parts.ask_file import ask_where
from tubeshelf.ui.parts.buttons import Act, IconButton
from tubeshelf.ui.parts.form import Choice
from tubeshelf.ui.parts.head import TitleLine
from tubeshelf.ui.parts.notice import Notice
from tubeshelf.ui.parts.pages import PaperPages

_ZOOM = 1.25


class Preview(QWidget):
    """A window beside the main one. ``name`` is what its PDF is called, without the ending.

    ``variants`` are ways of printing the same, in words; the first of them is the document itself.
    """

    def __init__(
        self,
        document: Document,
        name: str,
        parent: QWidget | None = None,
        *,
        variants: Sequence[tuple[str, Document]] = (),
    ) -> None:
        super().__init__(parent, Qt.WindowType.Window)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.document = document
        self._name = name
        self.setWindowTitle(f"{document.title} – tubeshelf")
        self.head = TitleLine()
        self.notice = Notice()
        self.pages = PaperPages()
        self._variants = tuple(variant for _, variant in variants)
        words = [(word, at) for at, (word, _) in enumerate(variants)]
        self.variant_choice = Choice(words, name="What is printed, Ctrl+B")
        if not variants:
            self.variant_choice.hide()
        self.variant_choice.currentIndexChanged.connect(self._choose_variant)
        self.size_choice = Choice([(size, size) for size in PAGE_SIZES], name="Size of the paper")
        self.size_choice.choose(_usual_size())
        self.size_choice.currentIndexChanged.connect(lambda: self._lay_out())
        self._compose()
        self._lay_out()
        self.resize(self.sizeHint())
        self.pages.setFocus()

    @property
    def page_size(self) -> str:
        """The size of the paper that is chosen."""
        return str(self.size_choice.currentData())

    def sizeHint(self) -> QSize:
        """A page at its natural size, as far as the screen has room."""
        room = self.screen().availableSize() * 0.92
        return QSize(1040 if self._variants else 920, 860).boundedTo(room)

    def ask_for_pdf(self) -> None:
        """Ask where the PDF is to be kept."""
        ask_where(self, "Save as PDF", f"{self._name}.pdf", {"pdf": "PDF"}, self.save_pdf)

    def save_pdf(self, path: Path) -> None:
        """Write the PDF, and say so or what kept it."""
        try:
            count = to_pdf(self.document, path, self.page_size)
        except UserError as error:
            self.notice.fail(error.sentence)
        else:
            self.notice.tell(f"Saved {path}, {_pages(count)}.")

    def ask_for_printer(self) -> None:
        """Ask for the printer and print."""
        printer = QPrinter(QPrinter.PrinterMode.HighResolution)
        printer.setPageSize(QPageSize(PAGE_SIZES[self.page_size]))
        dialogue = QPrintDialog(printer, self)
        dialogue.setOption(QPrintDialog.PrintDialogOption.PrintPageRange)
        dialogue.setMinMax(1, self.pages.count)
        dialogue.accepted.connect(lambda: self.print_on(printer))
        dialogue.finished.connect(dialogue.deleteLater)
        dialogue.setWindowModality(Qt.WindowModality.WindowModal)
        dialogue.show()

    def print_on(self, printer: QPrinter) -> None:
        """Print, and say so or what kept it."""
        try:
            print_to(self.document, printer)
        except UserError as error:
            self.notice.fail(error.sentence)
        else:
            self.notice.tell(f"Sent to {printer.printerName() or printer.outputFileName()}.")

    def _choose_variant(self, at: int) -> None:
        self.document = self._variants[at]
        self._lay_out()

    def _next_variant(self) -> None:
        if self._variants:
            at = self.variant_choice.currentIndex() + 1
            self.variant_choice.setCurrentIndex(at % len(self._variants))

    def _lay_out(self) -> None:
        self.pages.show_pages(Pager(self.document, sheet_of(self.page_size)))
        self.head.show_title(self.document.title, _pages(self.pages.count))

    def _zoom(self, factor: float) -> None:
        self.pages.set_zoom(self.pages.zoom * factor if factor else 1.0)

    def _compose(self) -> None:
        save = Act("Save as PDF", "Ctrl+S", icon="save")
        save.clicked.connect(self.ask_for_pdf)
        to_printer = Act("Print…", "Ctrl+P", primary=True, icon="print")
        to_printer.clicked.connect(self.ask_for_printer)
        smaller = IconButton("minus", "Smaller", "Ctrl+-")
        smaller.clicked.connect(lambda: self._zoom(1 / _ZOOM))
        larger = IconButton("add", "Larger", "Ctrl++")
        larger.clicked.connect(lambda: self._zoom(_ZOOM))
        close = IconButton("close", "Close", "Esc")
        close.clicked.connect(self.close)
        for keys, factor in (("Ctrl+0", 0.0), ("Ctrl+=", _ZOOM)):
            QShortcut(QKeySequence(keys), self).activated.connect(lambda by=factor: self._zoom(by))
        QShortcut(QKeySequence("Ctrl+B"), self).activated.connect(self._next_variant)
        self.head.add(smaller, larger, self.variant_choice, self.size_choice, save, to_printer, close)
        line = QHBoxLayout()
        line.setContentsMargins(tokens.MARGIN, 0, tokens.MARGIN, 0)
        line.addWidget(self.notice)
        top = QHBoxLayout()
        top.setContentsMargins(tokens.MARGIN, 0, tokens.MARGIN - 6, 0)
        top.addWidget(self.head)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, tokens.GAP, 0, 0)
        column.addLayout(top)
        column.addLayout(line)
        column.addWidget(self.pages, 1)


def _pages(count: int) -> str:
    return "1 page" if count == 1 else f"{count} pages"


def _usual_size() -> str:
    """What paper this part of the world puts into its printers."""
    return "Letter" if QLocale().measurementSystem() is QLocale.MeasurementSystem.ImperialUSSystem else "A4"
