"""The program as a user starts it, in a process of its own, which alone tells what a start imports."""

import os
import subprocess
import sys
from pathlib import Path

BEFORE_THE_FIRST_PAGE = """
import sys
from PySide6.QtWidgets import QApplication
from tubeshelf.__main__ import main
from tubeshelf.ui.window import MainWindow

def instead_of_a_page(window):
    print(*sys.modules)
    print(len(window.bar.findChildren(object)), window.status.isVisible())
    QApplication.quit()

MainWindow._open_first = instead_of_a_page
main()
"""

AFTER_THE_FIRST_PAGE = """
import gc
from PySide6.QtWidgets import QApplication
from tubeshelf.__main__ import main
from tubeshelf.ui import start

settle = start.settle
def said():
    print(gc.isenabled())
    settle()
    print(gc.isenabled())
    QApplication.quit()

start.settle = said
main()
"""

NOT_YET = (
    "sqlalchemy",
    "alembic",
    "matplotlib",
    "numpy",
    "logging.handlers",
    "tubeshelf.store",
    "tubeshelf.ui.pages",
)


def started(program: str, folder: Path) -> list[str]:
    """What the program printed, line by line."""
    return process(program, folder).stdout.splitlines()


def process(program: str, folder: Path) -> "subprocess.CompletedProcess[str]":
    """The program as it ended, in a folder that is also its home."""
    places = {name: str(folder) for name in ("HOME", "XDG_CONFIG_HOME", "XDG_DATA_HOME", "XDG_STATE_HOME")}
    environment = {**os.environ, **places, "QT_QPA_PLATFORM": "offscreen"}
    return subprocess.run(
        [sys.executable, "-c", program],
        env=environment,
        cwd=folder,
        capture_output=True,
        text=True,
        timeout=60,
        check=True,
    )


def test_the_window_is_painted_before_the_record_and_the_pages_are_imported(tmp_path: Path) -> None:
    modules, frame = started(BEFORE_THE_FIRST_PAGE, tmp_path)
    imported = set(modules.split())
    assert "tubeshelf.ui.topbar" in imported
    assert {name for name in imported if name.startswith("tubeshelf.services.")} == {
        "tubeshelf.services.changes"
    }
    assert sorted(name for name in imported if name.startswith(NOT_YET)) == []
    parts, status = frame.split()
    assert int(parts) > 7
    assert status == "True"


def test_garbage_is_collected_again_once_the_first_page_is_there(tmp_path: Path) -> None:
    assert started(AFTER_THE_FIRST_PAGE, tmp_path) == ["False", "True"]


NO_RECORD = """
import sys
from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication, QLabel
from tubeshelf.__main__ import main
from tubeshelf.ui import start

def said():
    window = QApplication.activeWindow()
    print(*(x.text() for x in window.stack.findChildren(QLabel) if x.isVisible()))
    window.close()

start.settle = said
sys.argv[1:] = ["--record", "notes.tubeshelf"]
print(main())
"""


def test_a_file_that_is_no_record_is_told_in_the_window_and_by_the_exit_status(tmp_path: Path) -> None:
    (tmp_path / "notes.tubeshelf").write_text("milk, solder\n" * 400, encoding="utf-8")
    run = process(NO_RECORD, tmp_path)
    sentence, status = run.stdout.splitlines()
    assert "notes.tubeshelf is not a record of tubeshelf" in sentence
    assert status == "1"
    assert run.stderr.strip() == f"tubeshelf: {sentence.strip()}"
    assert (tmp_path / "notes.tubeshelf").read_text(encoding="utf-8").startswith("milk")
