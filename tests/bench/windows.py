"""Whole programs that open a window and say when it can be seen, for measuring from the start of Python."""

from contextlib import closing
from pathlib import Path

from tests.services.benchwork import amplifier
from tubeshelf.bootstrap import open_record
from tubeshelf.services.shop import open_shop

_WINDOW = """
import os, sys
os.environ["QT_QPA_PLATFORM"] = "offscreen"
from PySide6.QtWidgets import QApplication, QMainWindow

class Bare(QMainWindow):
    def paintEvent(self, event):
        super().paintEvent(event)
        then()
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
    method = {"painted": "paintEvent", "filled": "open_page"}[until]
    return f"""
import os, sys
os.environ["QT_QPA_PLATFORM"] = "offscreen"
os.environ["XDG_CONFIG_HOME"] = {record.parent.as_posix()!r}
sys.argv = ["tubeshelf", "--record", {record.as_posix()!r}]
from tubeshelf.__main__ import main

def watch(name, word):
    from tubeshelf.ui import window
    before = getattr(window.MainWindow, name)
    def said(self, *given):
        answer = before(self, *given)
        if name == "open_page":
            answer.repaint()
        print(word, flush=True)
        return answer
    setattr(window.MainWindow, name, said)

watch({method!r}, {until!r})
main()
"""


def prepared(folder: Path) -> Path:
    """A record with one job in it."""
    path = folder / "shop.tubeshelf"
    with closing(open_record(str(path))) as record:
        amplifier(open_shop(record))
    return path
