import os
from collections.abc import Callable
from pathlib import Path

import pypdf
import pytest
from PySide6.QtGui import QGuiApplication

from tubeshelf.paper.output import to_pdf
from tubeshelf.paper.pager import Document

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

Pages = Callable[..., list[str]]


@pytest.fixture(autouse=True)
def _app(qapp: QGuiApplication) -> None:
    """One application for all tests: the one papers would start knows no widgets."""


@pytest.fixture
def pages(tmp_path: Path) -> Pages:
    """Makes a PDF of a document and reads the text of its pages back."""

    def read(document: Document, page_size: str = "A4") -> list[str]:
        path = tmp_path / "paper.pdf"
        to_pdf(document, path, page_size)
        return [page.extract_text() for page in pypdf.PdfReader(path).pages]

    return read
