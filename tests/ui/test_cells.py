from dataclasses import dataclass

from PySide6.QtCore import QPersistentModelIndex, Qt
from PySide6.QtTest import QSignalSpy
from pytestqt.modeltest import ModelTester

from tubeshelf.ui.models.cells import Cell, CellRole, Column, RowsModel

Role = Qt.ItemDataRole


@dataclass(frozen=True)
class Tube:
    tag: int
    designation: str
    reading: float


TUBES = (Tube(412, "12AX7", 1640), Tube(977, "7025", 0), Tube(1003, "12AX7", 1205))
COLUMNS = (
    Column[Tube]("Tag", 60, lambda t: Cell(f"{t.tag:04}", t.designation, bold=True), sort=lambda t: t.tag),
    Column[Tube]("Reading", 80, lambda t: Cell(f"{t.reading:,.0f}"), sort=lambda t: t.reading, align="right"),
    Column[Tube]("Note", 80, lambda t: Cell("<b>from</b> a customer")),
)


def model() -> RowsModel[Tube]:
    made = RowsModel(COLUMNS, key=lambda t: t.tag)
    made.replace(TUBES)
    return made


def test_keeps_the_rules_of_a_model(qtmodeltester: ModelTester) -> None:
    qtmodeltester.check(model())


def test_a_cell_is_given_whole_and_in_words() -> None:
    tubes = model()
    at = tubes.index(0, 0)
    assert at.data(CellRole) == Cell("0412", "12AX7", bold=True)
    assert at.data(Role.DisplayRole) == "0412"
    assert at.data(Role.AccessibleTextRole) == "0412, 12AX7"


def test_a_tooltip_is_never_markup() -> None:
    tubes = model()
    assert tubes.index(0, 2).data(Role.ToolTipRole) == "&lt;b&gt;from&lt;/b&gt; a customer"


def test_sorts_by_the_key_and_stays_sorted() -> None:
    tubes = model()
    tubes.sort(1, Qt.SortOrder.DescendingOrder)
    assert [t.reading for t in tubes.rows] == [1640, 1205, 0]
    tubes.replace((*TUBES, Tube(2000, "12AX7", 1300)))
    assert [t.tag for t in tubes.rows] == [412, 2000, 1003, 977]
    tubes.sort(2)
    assert [t.tag for t in tubes.rows] == [412, 2000, 1003, 977]


def test_an_index_follows_its_row_when_the_order_changes() -> None:
    tubes = model()
    held = QPersistentModelIndex(tubes.index(1, 0))
    tubes.sort(0, Qt.SortOrder.DescendingOrder)
    assert (held.row(), held.data()) == (1, "0977")
    tubes.sort(1, Qt.SortOrder.AscendingOrder)
    assert (held.row(), held.data()) == (0, "0977")


def test_a_reload_of_the_same_things_does_not_reset() -> None:
    tubes = model()
    resets, changes = QSignalSpy(tubes.modelReset), QSignalSpy(tubes.dataChanged)
    tubes.replace((Tube(412, "12AX7", 1600), *TUBES[1:]))
    assert (resets.count(), changes.count()) == (0, 1)
    assert tubes.index(0, 1).data() == "1,600"
    tubes.replace(TUBES[1:])
    assert resets.count() == 1
    assert tubes.row_of(1003) == 1
    assert tubes.row_of(412) is None
