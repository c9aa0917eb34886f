"""The bench page as it is seen: rows, detail, warnings, what is told to the rest of the window."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QApplication, QLabel
from pytestqt.qtbot import QtBot

from tests.ui.drivers.bench import Bench, BenchDriver
from tubeshelf.domain.judging import Mark, Stage
from tubeshelf.services.bench import observe
from tubeshelf.services.changes import Kind
from tubeshelf.services.finding import found_as_intended
from tubeshelf.services.intake import new_job


def test_harm_is_said_on_top_and_show_why_leads_there(at_bench: BenchDriver) -> None:
    for _ in range(4):
        at_bench.enter()
    at_bench.enter("5U4GB").press(Qt.Key.Key_Up, Qt.Key.Key_Up)
    assert at_bench.warning.startswith("Do not power. V5: a 5U4GB takes 3 A")
    assert at_bench.row("V5")[5].startswith("harmful")
    at_bench.page.frame.banner.asked.emit()
    assert at_bench.at.startswith("V5, reading")
    QApplication.processEvents()
    assert "first power the set with the current limited" in at_bench.detail


def test_of_many_dangers_two_are_told_and_the_number_of_the_others(
    at_bench: BenchDriver, bench: Bench
) -> None:
    for position in ("V1", "V2", "V3", "V4", "V5"):
        socket_id = bench.socket(position).id
        found_as_intended(bench.shop, socket_id=socket_id)
        _, changes = observe(
            bench.shop,
            socket_id=socket_id,
            stage=Stage.AS_FOUND,
            mark=Mark.SHORT,
            is_fault=True,
            pins="2-3",
        )
        at_bench.page.reload(changes)
    banner = at_bench.page.frame.banner
    seen = " ".join(label.text() for label in banner.findChildren(QLabel) if label.text())
    assert seen == "Do not power. V1: short, pins 2–3. V2: short, pins 2–3. And 3 more."
    assert "V5: short, pins 2–3." in at_bench.warning, "a screen reader is told all of them"


def test_the_needle_moves_while_a_reading_is_typed(at_bench: BenchDriver) -> None:
    at_bench.press("+").type("900")
    assert at_bench.page.detail.dial.scale.value == 900
    assert at_bench.page.detail.dial.scale.good_from == 1000


def test_a_reading_repaints_only_the_rows_it_touches(at_bench: BenchDriver) -> None:
    at_bench.press("+")
    touched: list[int] = []
    model = at_bench.page.table.rows
    model.modelReset.connect(lambda: pytest.fail("the whole table was built anew"))
    model.dataChanged.connect(lambda first, last: touched.extend(range(first.row(), last.row() + 1)))
    at_bench.enter("1540")
    assert set(touched) == {0}


def test_an_act_of_another_page_is_shown(at_bench: BenchDriver, bench: Bench) -> None:
    _, changes = found_as_intended(bench.shop, socket_id=bench.socket("V2").id, origin="jobs")
    at_bench.page.reload(changes)
    assert at_bench.row("V2")[2] == "12AX7"


def test_paper_and_picture_are_asked_for(at_bench: BenchDriver, bench: Bench, qtbot: QtBot) -> None:
    at_bench.page.print_out()
    at_bench.press("Ctrl+R")
    qtbot.waitUntil(lambda: bool(at_bench.pictured))
    assert (at_bench.printed, at_bench.pictured) == ([bench.job_id], [bench.job_id])


def test_two_tubes_in_each_others_places_are_said_as_one_swap(at_bench: BenchDriver) -> None:
    at_bench.enter("6BQ5").press(Qt.Key.Key_Down, Qt.Key.Key_Down)
    at_bench.enter("12AX7")
    assert at_bench.page.frame.hint.text() == (
        "V1 and V3 are swapped: the 6BQ5 belongs in V3, the 12AX7 in V1."
    )


def test_what_a_place_held_before_is_told_at_the_next_visit(at_bench: BenchDriver, bench: Bench) -> None:
    at_bench.press("+").enter("1540").enter("1510")
    visit = {"customer": "Ada Larch", "maker": "Larkmere", "model": "A12 practice amplifier"}
    _, changes = new_job(bench.shop, **visit, serial="30417")
    at_bench.page.show_thing(Kind.JOB, next(i for kind, i in changes.things if kind is Kind.JOB))
    at_bench.rest()
    assert "Mar 2026 · 12AX7 · 1,540 · 1,510 · good · job 1" in at_bench.detail


@pytest.mark.parametrize(("width", "height"), [(1366, 690), (1024, 560)])
def test_nothing_is_cut(at_bench: BenchDriver, width: int, height: int) -> None:
    at_bench.page.setGeometry(0, 0, width, height)
    at_bench.press("+").enter("1540").enter("1510").enter("12AU7").enter("2050").enter("2010")
    at_bench.press("+").enter("6900").enter("EL84").press("*").type("1").type("2-3").enter()
    QApplication.processEvents()
    table = at_bench.page.table
    for column in range(table.model().columnCount()):
        room = table.columnWidth(column)
        assert table.sizeHintForColumn(column) <= room
        assert table.horizontalHeader().sectionSizeHint(column) <= room
    assert table.columnViewportPosition(6) + table.columnWidth(6) <= table.viewport().width()


def test_everything_to_press_has_a_name(at_bench: BenchDriver) -> None:
    at_bench.press("+").enter("1540").press("-", "*")
    QApplication.processEvents()
    unnamed = [
        widget
        for widget in at_bench.page.findChildren(QAbstractButton)
        if widget.isVisible() and not (widget.text() or widget.accessibleName())
    ]
    assert unnamed == []
    assert at_bench.page.table.field.accessibleName()


def test_a_form_that_opens_and_closes_lays_out_the_detail_anew(at_bench: BenchDriver) -> None:
    at_bench.press("+").enter("1540").enter("1510")
    for key in ("F3", "F4", "F3"):
        at_bench.press(key)
        QTest.qWait(20)
        at_bench.escape()
        QTest.qWait(20)
    assert at_bench.at == "V2, what stands in it"
    assert not any(panel.isVisible() for panel in at_bench.page.detail.panels)
