"""The keyboard and the screen reader get everywhere: Tab reaches every act and field, and each has a name."""

from collections.abc import Callable, Iterator

import pytest
from PySide6.QtCore import QSettings, Qt
from PySide6.QtGui import QKeySequence
from PySide6.QtTest import QTest
from PySide6.QtWidgets import (
    QAbstractButton,
    QApplication,
    QComboBox,
    QLabel,
    QLineEdit,
    QPlainTextEdit,
    QPushButton,
    QWidget,
)
from pytestqt.qtbot import QtBot

from tests import screens
from tubeshelf.services.shop import Shop, open_shop
from tubeshelf.store.record import Record
from tubeshelf.ui.start import Program

FIELDS = (QAbstractButton, QLineEdit, QComboBox, QPlainTextEdit)
PAGES = ("bench", "jobs", "shelf", "types", "testers", "settings", "help")
IN_HAND = {
    "bench": screens.job_not_to_power,
    "jobs": screens.job_not_to_power,
    "shelf": screens.tested_triode,
    "types": screens.twin_triode,
}


@pytest.fixture(scope="module")
def workshop(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Callable[[], Shop]]:
    """How to open the demo workshop."""
    with screens.demo_shop(tmp_path_factory.mktemp("focus")) as open_the_shop:
        yield open_the_shop


@pytest.fixture
def program(qapp: QApplication, workshop: Callable[[], Shop], settings: QSettings, qtbot: QtBot) -> Program:
    """The demo workshop in its window."""
    return shown(Program(qapp, workshop, settings), qtbot)


def shown(program: Program, qtbot: QtBot) -> Program:
    """The window on the screen, with the keyboard."""
    qtbot.addWidget(program.window)
    program.window.resize(1366, 768)
    program.window.show()
    QTest.qWaitForWindowActive(program.window)
    return program


def name_of(widget: QWidget, labels: list[QLabel]) -> str:
    """What a screen reader says of a widget: its own name, its words, or the label that leads to it."""
    words = widget.text() if isinstance(widget, QAbstractButton) else ""
    buddies = [label.text() for label in labels if label.buddy() is widget]
    return widget.accessibleName().strip() or words.strip() or " ".join(buddies).strip()


def tab_stops(start: QWidget, most: int = 120) -> list[QWidget]:
    """Where Tab goes from here, until it comes round."""
    start.setFocus()
    stops = [start]
    for _ in range(most):
        QTest.keyClick(stops[-1], Qt.Key.Key_Tab)
        focus = QApplication.focusWidget()
        assert focus is not None
        if focus in stops:
            break
        stops.append(focus)
    return stops


@pytest.mark.parametrize("page", PAGES)
def test_every_act_and_field_has_a_name(program: Program, page: str) -> None:
    on_show = program.window.open_page(page)
    assert on_show is not None
    if page in IN_HAND:
        on_show.show_thing(*IN_HAND[page](program.shop))
    QTest.qWait(50)
    labels = program.window.findChildren(QLabel)
    nameless = [
        f"{type(widget).__name__} in {type(widget.parentWidget()).__name__}"
        for kind in FIELDS
        for widget in program.window.findChildren(kind)
        if widget.focusPolicy() != Qt.FocusPolicy.NoFocus
        and not widget.isHidden()  # a banner without a link has an empty one
        and not isinstance(widget.parentWidget(), QComboBox)
        and not name_of(widget, labels)
    ]
    assert nameless == []


@pytest.mark.parametrize("page", ["jobs", "shelf", "types", "testers", "settings"])
def test_tab_reaches_every_act_and_field_on_show(program: Program, page: str) -> None:
    on_show = program.window.open_page(page)
    assert on_show is not None
    QTest.qWait(50)
    on_show.setFocus()
    focus = QApplication.focusWidget()
    assert focus is not None
    stops = tab_stops(focus)
    left_out = [
        name_of(widget, on_show.findChildren(QLabel))
        for kind in FIELDS
        for widget in on_show.findChildren(kind)
        if widget.isVisible()
        and widget.isEnabled()
        and widget.focusPolicy() & Qt.FocusPolicy.TabFocus
        and widget not in stops
    ]
    assert left_out == []


@pytest.mark.parametrize("page", ["jobs", "shelf", "testers"])
def test_the_keyboard_begins_an_empty_page_on_the_act_that_it_offers(
    file_record: Record, qapp: QApplication, settings: QSettings, qtbot: QtBot, page: str
) -> None:
    window = shown(Program(qapp, lambda: open_shop(file_record), settings), qtbot).window
    window.open_page(page)
    act = QApplication.focusWidget()
    assert isinstance(act, QAbstractButton)
    assert act.text() in ("New job", "Receive", "New tester")
    assert len(tab_stops(act)) > 4


@pytest.mark.parametrize(
    ("page", "keys", "way_out"),
    [
        ("testers", "Ctrl+N", ["Save", "Back"]),
        ("types", "Ctrl+N", ["Add a section", "Save", "Back"]),
        ("shelf", "M", ["Move", "Cancel"]),
        ("shelf", "Ctrl+R", ["Receive", "Cancel"]),
    ],
)
def test_tab_leaves_a_form_by_its_act(program: Program, page: str, keys: str, way_out: list[str]) -> None:
    on_show = program.window.open_page(page)
    assert on_show is not None
    on_show.setFocus()
    field = QApplication.focusWidget()
    assert field is not None
    QTest.keySequence(field, QKeySequence(keys))
    field = QApplication.focusWidget()
    assert field is not None
    stops = tab_stops(field)
    words = [stop.text() if isinstance(stop, QPushButton) else "" for stop in stops]
    assert [word for word in words if word][: len(way_out)] == way_out
