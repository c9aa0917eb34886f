"""The help pages: Markdown files that come with the program, shown in the window, nothing from elsewhere."""

from pathlib import Path

from PySide6.QtCore import Qt, QUrl
from PySide6.QtGui import QTextBlockFormat, QTextCursor, QTextFormat, QTextFrameFormat, QTextLength
from PySide6.QtWidgets import QHBoxLayout, QListWidget, QListWidgetItem, QTextBrowser

from tubeshelf import paths
from tubeshelf.ui import tokens
from tubeshelf.ui.page import Page
from tubeshelf.ui.parts.sheet import Sheet

_FILE = int(Qt.ItemDataRole.UserRole)
_ROOM = 9
_HEADING_ROOM = 16
_LINE_WIDTH = 760


class HelpPage(Page):
    """Topics at the left, the page at the right. Files are shown in the order of their names."""

    name = "help"

    def __init__(self, folder: Path | None = None) -> None:
        super().__init__()
        self.head.show_title("Help")
        self._folder = folder or paths.root("resources") / "help"
        self.topics = QListWidget()
        self.topics.setAccessibleName("Topics")
        self.topics.setFixedWidth(240)
        self.browser = _Browser(self._folder)
        row = QHBoxLayout()
        row.setSpacing(tokens.GAP)
        left, right = Sheet(flush=True), Sheet(flush=True)
        left.body.addWidget(self.topics)
        right.body.addWidget(self.browser)
        row.addWidget(left)
        row.addWidget(right, 1)
        self.column.addLayout(row, 1)
        for file in sorted(self._folder.glob("*.md")):
            item = QListWidgetItem(_title(file))
            item.setData(_FILE, str(file))
            self.topics.addItem(item)
        self.topics.currentItemChanged.connect(self._turn_to)
        self.topics.setCurrentRow(0)

    def open_topic(self, stem: str) -> None:
        """Turn to the page whose file is called ``stem.md``."""
        for i in range(self.topics.count()):
            if Path(self.topics.item(i).data(_FILE)).stem == stem:
                self.topics.setCurrentRow(i)

    def _turn_to(self, item: QListWidgetItem | None) -> None:
        if item is not None:
            self.browser.setMarkdown(Path(item.data(_FILE)).read_text(encoding="utf-8"))
            self.browser.space_out()


class _Browser(QTextBrowser):
    """Loads pictures and pages from the help folder only."""

    def __init__(self, folder: Path) -> None:
        super().__init__()
        self._folder = folder.resolve()
        self.setOpenExternalLinks(False)
        self.setOpenLinks(False)
        self.setAccessibleName("Help page")
        self.document().setDocumentMargin(12)

    def space_out(self) -> None:
        """Give paragraphs and list items room, which Qt's Markdown does not, and lines a length to read."""
        document = self.document()
        cursor = QTextCursor(document)
        block = document.begin()
        while block.isValid():
            form = block.blockFormat()
            code = form.hasProperty(QTextFormat.Property.BlockCodeFence) or form.nonBreakableLines()
            heading = form.headingLevel() > 0
            form.setTopMargin(_HEADING_ROOM if heading and block.position() else 0)
            form.setBottomMargin(0 if code else _ROOM)
            form.setLineHeight(130, int(QTextBlockFormat.LineHeightTypes.ProportionalHeight.value))
            cursor.setPosition(block.position())
            cursor.setBlockFormat(form)
            block = block.next()
        document.rootFrame().setFrameFormat(_page_frame())

    def loadResource(self, kind: int, name: QUrl | str) -> object:
        """A file of the help folder, or nothing."""
        url = QUrl(name)
        file = (self._folder / url.path()).resolve()
        if url.isRelative() and file.is_relative_to(self._folder) and file.is_file():
            return file.read_bytes()
        return None


def _page_frame() -> QTextFrameFormat:
    frame = QTextFrameFormat()
    frame.setMargin(20)
    frame.setWidth(QTextLength(QTextLength.Type.FixedLength, _LINE_WIDTH))
    return frame


def _title(file: Path) -> str:
    """The first line of the file, which is its heading."""
    return file.read_text(encoding="utf-8").partition("\n")[0].lstrip("# ").strip()
