from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PySide6.QtCore import Qt
from PySide6.QtTest import QSignalSpy
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from tests.ui.test_cells import COLUMNS, TUBES, Tube, model
from tubeshelf.domain.palette import Palette
from tubeshelf.ui.models.cells import Cell, Column, RowsModel
from tubeshelf.ui.parts.header import share_out
from tubeshelf.ui.parts.tableview import Table

Show = Callable[..., QWidget]


@pytest.fixture
def table(shown: Show) -> Table:
    made = Table("Tubes")
    made.set_rows_model(model(), COLUMNS)
    shown(made, 500, 300)
    made.setFocus()
    return made


def test_the_row_in_hand_survives_a_reload(table: Table) -> None:
    assert table.take_in_hand(1003)
    rows = table.model()
    assert isinstance(rows, RowsModel)
    rows.replace((TUBES[2], Tube(5, "6V6GT", 90)))
    assert table.in_hand() == TUBES[2]
    rows.replace((Tube(5, "6V6GT", 90),))
    assert table.in_hand() == Tube(5, "6V6GT", 90)


def test_an_emptied_table_says_that_nothing_is_in_hand(table: Table) -> None:
    table.take_in_hand(977)
    rows = table.model()
    assert isinstance(rows, RowsModel)
    told = QSignalSpy(table.row_changed)
    rows.replace(())
    assert told.at(told.count() - 1) == [None]


def test_a_thing_that_is_not_there_is_not_taken_in_hand(table: Table) -> None:
    table.take_in_hand(412)
    assert not table.take_in_hand(9999)
    assert table.in_hand() == TUBES[0]


def test_walks_by_keys_and_opens_on_enter(table: Table, qtbot: QtBot) -> None:
    table.take_in_hand(412)
    opened, changed = QSignalSpy(table.opened), QSignalSpy(table.row_changed)
    qtbot.keyClick(table, Qt.Key.Key_Down)
    qtbot.keyClick(table, Qt.Key.Key_Enter)
    assert changed.at(0) == [TUBES[1]]
    assert opened.at(0) == [TUBES[1]]


def test_the_accent_edge_marks_the_row_in_hand(table: Table, palette: Palette) -> None:
    table.take_in_hand(977)
    picture = table.viewport().grab().toImage()
    edge = [picture.pixelColor(2, 48 * row + 24).name().upper() for row in range(3)]
    assert edge == [palette.panel, palette.accent, palette.panel]


def test_a_click_on_a_title_sorts(table: Table, qtbot: QtBot) -> None:
    header = table.horizontalHeader()
    at = header.sectionViewportPosition(1) + 20
    qtbot.mouseClick(
        header.viewport(), Qt.MouseButton.LeftButton, pos=header.viewport().rect().topLeft().__class__(at, 10)
    )
    rows = table.model()
    assert isinstance(rows, RowsModel)
    assert [t.reading for t in rows.rows] == [0, 1205, 1640]


def test_a_reading_is_never_cut_while_words_can_be(shown: Show) -> None:
    columns = (
        Column[Tube]("Long", 60, lambda t: Cell("a long text that may well be cut"), stretch=True),
        Column[Tube]("Reading", 20, lambda t: Cell("1,540 · 1,510", align="right", big=True), align="right"),
    )
    rows = RowsModel(columns, key=lambda t: t.tag)
    table = Table("Tubes")
    table.set_rows_model(rows, columns)
    rows.replace(TUBES)
    shown(table, 260, 200)
    assert table.columnWidth(1) >= table.sizeHintForColumn(1)
    assert table.columnWidth(0) + table.columnWidth(1) == table.viewport().width()


@given(
    st.lists(st.tuples(st.integers(0, 200), st.integers(0, 300), st.booleans()), min_size=1),
    st.integers(0, 2000),
)
def test_columns_fill_the_table_and_keep_their_least(columns: list[tuple[int, int, bool]], room: int) -> None:
    least, wants, stretch = zip(*columns, strict=True)
    widths = share_out(least, wants, stretch, room)
    assert all(width >= low for width, low in zip(widths, least, strict=True))
    assert sum(widths) == max(room, sum(least)) or sum(least) <= sum(widths) <= room
