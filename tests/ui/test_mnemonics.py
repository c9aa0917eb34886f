"""Alt and an underlined letter lead to one place: no field or act of a page takes a letter of the top bar."""

import ast
import re
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QSettings
from PySide6.QtWidgets import QAbstractButton, QApplication
from pytestqt.qtbot import QtBot

import tubeshelf.ui.pages
from tubeshelf.services.shop import open_shop
from tubeshelf.store.record import Record
from tubeshelf.ui.start import Program

PAGES = sorted(path for path in Path(tubeshelf.ui.pages.__file__).parent.glob("*.py"))
OF_THE_BAR = frozenset("BJSTEM")
"""Bench, Jobs, Shelf, Types, Testers, and the menu of what is needed seldom."""


def underlined(tree: ast.AST) -> Iterator[tuple[str, str]]:
    """The underlined letters of all texts in a piece of source, with the texts."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str):
            yield from ((found.upper(), node.value) for found in re.findall(r"(?<!&)&([A-Za-z])", node.value))


@pytest.mark.parametrize("module", PAGES, ids=lambda path: path.stem)
def test_no_letter_of_a_page_is_one_of_the_top_bar(module: Path) -> None:
    found = underlined(ast.parse(module.read_text(encoding="utf-8")))
    assert [words for letter, words in found if letter in OF_THE_BAR] == []


@pytest.mark.parametrize("module", PAGES, ids=lambda path: path.stem)
def test_no_form_takes_a_letter_twice(module: Path) -> None:
    for node in ast.walk(ast.parse(module.read_text(encoding="utf-8"))):
        if isinstance(node, ast.ClassDef):
            # ``Good from`` and ``Good from, %`` are one field in two units, of which one is on show.
            fields = {(letter, words.partition(",")[0]) for letter, words in underlined(node)}
            times = Counter(letter for letter, _ in fields)
            assert [field for field in fields if times[field[0]] > 1] == [], node.name


def test_the_top_bar_has_these_letters(
    file_record: Record, qapp: QApplication, settings: QSettings, qtbot: QtBot
) -> None:
    program = Program(qapp, lambda: open_shop(file_record), settings)
    qtbot.addWidget(program.window)
    buttons = program.window.findChildren(QAbstractButton)
    keys = [button.shortcut().toString() for button in buttons]
    assert {key.removeprefix("Alt+") for key in keys if re.fullmatch("Alt[+][A-Z]", key)} == OF_THE_BAR
