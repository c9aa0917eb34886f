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
    places = {name: str(folder) for name in ("HOME", "XDG_CONFIG_HOME", "XDG_DATA_HOME", "XDG_STATE_HOME")}
    environment = {**os.environ, **places, "QT_QPA_PLATFORM": "offscreen"}
    run = subprocess.run(
        [sys.executable, "-c", program],
        env=environment,
        capture_output=True,
        text=True,
        timeout=60,
        check=True,
    )
    return run.stdout.splitlines()


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
