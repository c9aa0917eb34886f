"""A picture of every page from the demo record: ``python -m tests.screens DIR``.

Light and dark, 1366 × 768. They are for looking at, and README's pictures are taken from them.
"""

import os
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import date
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtCore import QSettings
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from tubeshelf.services.changes import Kind
from tubeshelf.ui.start import Program
from tubeshelf.ui.theme import Scheme

if TYPE_CHECKING:
    from tubeshelf.services.shop import Shop

SIZE = (1366, 768)


def job_not_to_power(shop: "Shop") -> tuple[Kind, int]:
    """The first open job that nobody must power."""
    from tubeshelf.services.jobs import list_jobs

    return Kind.JOB, next(job.id for job in list_jobs(shop) if job.harm)


def tested_triode(shop: "Shop") -> tuple[Kind, int]:
    """A 12AX7 that was read."""
    from tubeshelf.services.shelf_search import search

    return Kind.ITEM, next(row.id for row in search(shop, find="12AX7").rows if row.reads)


def twin_triode(shop: "Shop") -> tuple[Kind, int]:
    """The type 12AX7."""
    type_id = shop.book.id_of("12AX7")
    assert type_id is not None
    return Kind.TYPE, type_id


SCENES: tuple[tuple[str, str, "Callable[[Shop], tuple[Kind, int]] | None"], ...] = (
    ("bench-pick", "bench", None),
    ("bench", "bench", job_not_to_power),
    ("jobs", "jobs", None),
    ("shelf", "shelf", tested_triode),
    ("types", "types", twin_triode),
    ("testers", "testers", None),
    ("settings", "settings", None),
    ("help", "help", None),
)
"""Each picture: its name, the page, and what is brought into hand there."""


def main(folder: Path) -> int:
    """Write the pictures into a folder and say which."""
    app = QApplication.instance() or QApplication(["screens"])
    assert isinstance(app, QApplication)
    folder.mkdir(parents=True, exist_ok=True)
    with TemporaryDirectory() as scratch, demo_shop(Path(scratch)) as open_the_shop:
        settings = QSettings(str(Path(scratch) / "window.ini"), QSettings.Format.IniFormat)
        program = Program(app, open_the_shop, settings)
        program.window.resize(*SIZE)
        program.window.show()
        for scheme in (Scheme.LIGHT, Scheme.DARK):
            program.theme.choose(scheme)
            for name, page, bring in SCENES:
                shown = program.window.open_page(page)
                QTest.qWait(250)
                if shown is not None and bring:
                    shown.show_thing(*bring(program.shop))
                    QTest.qWait(400)
                file = folder / f"{name}-{scheme}.png"
                program.window.grab().save(str(file))
                print(file)
        program.window.close()
    return 0


@contextmanager
def demo_shop(folder: Path) -> "Iterator[Callable[[], Shop]]":
    """How to open the demo workshop, built anew in a folder and closed at the end."""
    from tubeshelf.bootstrap import open_record
    from tubeshelf.services.demo.build import build_demo
    from tubeshelf.services.shop import open_shop

    path = folder / "demo.tubeshelf"
    build_demo(lambda clock: open_record(str(path), clock=clock), today=date.today())
    record = open_record(str(path))
    try:
        yield lambda: open_shop(record)
    finally:
        record.close()


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1] if len(sys.argv) > 1 else "screens")))
