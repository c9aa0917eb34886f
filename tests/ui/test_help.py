from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QUrl
from PySide6.QtWidgets import QWidget

from tubeshelf.ui.help import HelpPage

Show = Callable[..., QWidget]


def test_shows_the_help_pages_in_order_and_loads_nothing_from_elsewhere(shown: Show, tmp_path: Path) -> None:
    folder = tmp_path / "help"
    folder.mkdir()
    (folder / "20-shelf.md").write_text("# The shelf\n\nSpares lie in bins.", encoding="utf-8")
    (folder / "10-bench.md").write_text("# The bench\n\nType a reading.", encoding="utf-8")
    (tmp_path / "secret.txt").write_text("secret")
    page = HelpPage(folder)
    shown(page, 900, 500)
    assert [page.topics.item(i).text() for i in range(page.topics.count())] == ["The bench", "The shelf"]
    assert "Type a reading." in page.browser.toPlainText()
    page.open_topic("20-shelf")
    assert "Spares lie in bins." in page.browser.toPlainText()
    for url in ("../secret.txt", "file:///etc/passwd", "http://example.org/x.png", "no-such.png"):
        assert page.browser.loadResource(2, QUrl(url)) is None
    assert page.browser.loadResource(2, QUrl("10-bench.md")) == (folder / "10-bench.md").read_bytes()
