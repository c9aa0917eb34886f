"""Whole programs that open a window and say when it can be seen, for measuring from the start of Python.

Both say so once the event that painted is over: with the window, all that stands in it.
"""

from contextlib import closing
from pathlib import Path

from tests.services.benchwork import amplifier
from tubeshelf.bootstrap import open_record
from tubeshelf.services.shop import open_shop

_WINDOW = """
import os, sys
os.environ["QT_QPA_PLATFORM"] = "offscreen"
from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication, QMainWindow

class Bare(QMainWindow):
    def paintEvent(self, event):
        super().paintEvent(event)
        QTimer.singleShot(0, then)
"""

BARE = f"""{_WINDOW}
def then():
    print("painted", flush=True)

app = QApplication([])
window = Bare()
window.resize(1366, 768)
window.show()
app.exec()
"""
"""A window and nothing else."""


def bare_with_query(record: Path) -> str:
    """A bare window that, once painted, imports SQLAlchemy's ORM and asks the record one question."""
    return f"""{_WINDOW}
def then():
    from sqlalchemy import create_engine, text
    import sqlalchemy.orm
    with create_engine("sqlite:///{record.as_posix()}").connect() as connection:
        assert connection.execute(text("SELECT number, title FROM job")).all()
    print("filled", flush=True)

app = QApplication([])
window = Bare()
window.resize(1366, 768)
window.show()
app.exec()
"""


def ours(record: Path, *, until: str) -> str:
    """The program itself as a user starts it, made to say when it is ``painted`` or its page ``filled``."""
    return f"""
import os, sys
os.environ["QT_QPA_PLATFORM"] = "offscreen"
os.environ["XDG_CONFIG_HOME"] = {record.parent.as_posix()!r}
sys.argv = ["tubeshelf", "--record", {record.as_posix()!r}]
from tubeshelf import __main__ as program

before = program.start_lean
def watched():
    before()
    from PySide6.QtCore import QTimer
    from tubeshelf.ui import window
{_WATCH[until]}
program.start_lean = watched
program.main()
"""


_WATCH = {
    "painted": """
    paint = window.MainWindow.paintEvent
    def painted(self, event):
        QTimer.singleShot(0, lambda: print("painted", flush=True))
        paint(self, event)
    window.MainWindow.paintEvent = painted
""",
    "filled": """
    build = window.MainWindow.open_page
    def filled(self, name):
        page = build(self, name)
        page.repaint()
        print("filled", flush=True)
        return page
    window.MainWindow.open_page = filled
""",
}


def prepared(folder: Path) -> Path:
    """A record with one job in it."""
    path = folder / "shop.tubeshelf"
    with closing(open_record(str(path))) as record:
        amplifier(open_shop(record))
    return path
