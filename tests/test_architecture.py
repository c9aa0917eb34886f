"""The rooms import in one direction. Each rule is proved once by planting a violation in a copy."""

import ast
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
PACKAGE = ROOT / "tubeshelf"

PLANTED = {
    "Rooms import downwards only": ("domain/money.py", "from tubeshelf.services import shop"),
    "Pages, papers and the command line know no tables": ("ui/page.py", "import sqlalchemy"),
    "Qt stays in the window and on paper": ("services/shop.py", "from PySide6 import QtCore"),
    "Only the entry points build the whole": ("ui/page.py", "from tubeshelf import bootstrap"),
    "The domain is standard library only": ("domain/money.py", "import numpy"),
}


def check(folder: Path) -> str:
    """What import-linter says of the package in a folder."""
    command = [Path(sys.executable).with_name("lint-imports"), "--no-cache"]
    done = subprocess.run(command, cwd=folder, capture_output=True, text=True, check=False)
    return done.stdout + done.stderr


@pytest.fixture(scope="module")
def copy(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("rooms")
    shutil.copytree(PACKAGE, folder / "tubeshelf", ignore=shutil.ignore_patterns("__pycache__"))
    shutil.copy(ROOT / "pyproject.toml", folder)
    return folder


def test_the_rooms_keep_their_contracts(copy: Path) -> None:
    said = check(copy)
    assert "0 broken" in said, said


@pytest.mark.parametrize("contract", PLANTED)
def test_a_planted_violation_breaks_its_contract(copy: Path, contract: str) -> None:
    name, line = PLANTED[contract]
    file = copy / "tubeshelf" / name
    before = file.read_text(encoding="utf-8")
    file.write_text(f"{before}\n{line}\n", encoding="utf-8")
    try:
        said = " ".join(check(copy).split())
    finally:
        file.write_text(before, encoding="utf-8")
    assert f"{contract} BROKEN" in said


def imports(file: Path) -> Iterator[str]:
    """Every module that a file names in an import, at the top or within functions."""
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module:
            yield node.module
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


def offenders(pattern: str, *folders: str) -> list[str]:
    files = [file for folder in folders for file in (PACKAGE / folder).rglob("*.py")]
    assert files
    return [f"{file.name}: {name}" for file in files for name in imports(file) if name.startswith(pattern)]


def test_no_pyplot_anywhere() -> None:
    assert offenders("matplotlib.pyplot", ".") == []


def test_papers_need_no_widgets() -> None:
    assert offenders("PySide6.QtWidgets", "paper") == []


def test_qt_is_named_only_where_things_are_shown() -> None:
    rooms = [room.name for room in PACKAGE.iterdir() if room.is_dir() and room.name not in ("ui", "paper")]
    assert offenders("PySide6", *(room for room in rooms if any((PACKAGE / room).rglob("*.py")))) == []


def test_an_offender_would_be_found(tmp_path: Path) -> None:
    file = tmp_path / "chart.py"
    file.write_text("def draw():\n    from matplotlib import pyplot\n", encoding="utf-8")
    assert "matplotlib.pyplot" in set(imports(file))


def test_modules_stay_small() -> None:
    """A module past 400 lines wants to be two; a migration is a list and may be long."""
    files = [file for file in PACKAGE.rglob("*.py") if file.parent.name != "versions"]
    lengths = {file.name: len(file.read_text(encoding="utf-8").splitlines()) for file in files}
    assert {name: lines for name, lines in lengths.items() if lines > 400} == {}
