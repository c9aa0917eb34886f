"""Testers in the window: a new one by keys alone, and limits typed into the sheet like into a table."""

from collections.abc import Callable

import pytest
from PySide6.QtCore import QSettings
from PySide6.QtWidgets import QWidget
from pytestqt.modeltest import ModelTester
from pytestqt.qtbot import QtBot

from tests.ui.drivers.testers import TestersDriver, open_testers
from tubeshelf.domain.judging import DefaultRule, Limit, PassLimits, Repeatability, Scale
from tubeshelf.services.setting_lines import save_line
from tubeshelf.services.testers import save_tester
from tubeshelf.services.undo import take_back
from tubeshelf.store.record import Record

METER = {
    "name": "Tester B",
    "method": "transconductance",
    "unit": "µmho",
    "full_scale": "15000",
    "relative_percent": "3",
    "good_percent": "66",
    "reject_percent": "50",
    "field_names": "range; bias",
}
WORDS = {"name": "Tester W", "method": "merit words", "words": "bad; doubtful; good", "good_from": "good"}


@pytest.fixture
def testers(
    file_record: Record, qtbot: QtBot, shown: Callable[..., QWidget], settings: QSettings
) -> TestersDriver:
    return open_testers(file_record, qtbot, shown, settings)


def add(testers: TestersDriver, fields: dict[str, str], *lines: tuple[str, str]) -> None:
    """A tester with lines for (type, section), in hand."""
    tester_id, changes = save_tester(testers.shop, fields=fields)
    for name, section in lines:
        type_id = testers.shop.book.id_of(name)
        save_line(testers.shop, tester_id=tester_id, type_id=type_id, section=section)
    testers.window.bridge.publish(changes)
    testers.take(fields["name"])


def test_an_empty_list_says_what_belongs_there_and_offers_it(testers: TestersDriver) -> None:
    assert "No tester yet." in testers.texts(testers.page.list)
    testers.page.list.empty.act.click()
    assert testers.on_field == "Name"


def test_a_new_tester_by_keys_alone(testers: TestersDriver) -> None:
    testers.press("Ctrl+N")
    for text in ("Tester C", "", "mA", "100", "4", "1", "heater; load", "2 Feb 2026", "by the window"):
        testers.write(text)
        testers.press("Tab")
    testers.press("Down")
    testers.press("Tab")
    for text in ("60", "40,5", "2,5", "3", "divisions"):
        testers.write(text)
        testers.press("Tab")
    testers.press("Ctrl+Return")
    assert testers.errors() == []
    tester = testers.tester("Tester C")
    assert (tester.method, tester.scale) == ("transconductance", Scale("mA", 100))
    assert tester.repeatability == Repeatability(0.04, 1)
    assert tester.default == DefaultRule(good_from=60, reject_below=40.5)
    assert (tester.field_names, tester.note) == (("heater", "load"), "by the window")
    assert tester.passes == PassLimits(leakage_least=2.5, gas_most=3, gas_unit="divisions")
    facts = testers.texts(testers.page.sheet)
    assert "Default rule: good from 60, reject below 40.5." in facts
    assert "Lets pass leakage from 2.5 MΩ, gas up to 3 divisions." in facts
    assert testers.focus is testers.page.list.table


def test_mistakes_stand_beside_their_fields_and_what_was_typed_stays(testers: TestersDriver) -> None:
    testers.press("Ctrl+N")
    testers.write("Tester C")
    form = testers.page.form
    testers.fill(form.full_scale, "a hundred")
    testers.fill(form.forms[0].fields["checked_on"], "2/3/2026")
    testers.press("Ctrl+Return")
    assert "“a hundred” is not a number" in form.forms[0].complaint(form.full_scale)
    assert len(testers.errors()) == 2
    assert form.full_scale.text() == "a hundred"
    assert testers.focus is form.full_scale
    testers.press("Esc")
    assert "No tester yet." in testers.texts(testers.page.list)


def test_shares_are_explained_and_refused_a_method_that_states_no_bogey(testers: TestersDriver) -> None:
    testers.press("Ctrl+N")
    form = testers.page.form
    form.rule.choose("share")
    assert "A share of the type’s bogey value" in form.explained.text()
    assert form.shares[0].isVisible()
    assert not form.own[0].isVisible()
    form.method.choose("emission")
    assert "would judge nothing" in form.explained.text()
    form.method.choose("merit words")
    assert form.words.isVisible()
    assert not form.unit.isVisible()


def test_a_tester_that_judges_by_words(testers: TestersDriver) -> None:
    testers.press("Ctrl+N")
    testers.write("Tester W")
    form = testers.page.form
    form.method.choose("merit words")
    testers.press("Ctrl+Return")
    assert "worst first" in form.forms[0].complaint(form.words)
    testers.fill(form.words, "bad; doubtful; good")
    assert not form.relative.isVisible()
    testers.fill(form.absolute, "0.3")
    form.rule.choose("own")
    testers.fill(form.own[0], "fine")
    testers.press("Ctrl+Return")
    assert "none of its words: bad, doubtful, good" in form.forms[1].complaint(form.own[0])
    testers.fill(form.own[0], "Good")
    testers.press("Ctrl+Return")
    assert testers.tester("Tester W").default == DefaultRule(good_from=3)
    assert testers.tester("Tester W").repeatability == Repeatability(absolute=0.3)
    testers.press("Ctrl+L")
    testers.enter("0A2", "", "")
    testers.enter("")  # bogey
    testers.enter("62")
    assert "none of its words" in testers.sentence
    testers.press("Ctrl+A")
    testers.enter("doubtful")
    (line,) = testers.lines("Tester W")
    assert line.limit is not None
    assert (line.limit.good_from, line.limit.derived) == (2, False)
    assert testers.row(0)[4] == "doubtful"


def test_a_line_is_typed_from_cell_to_cell(testers: TestersDriver) -> None:
    add(testers, METER)
    testers.press("Ctrl+L")
    assert testers.at == (0, "Type")
    testers.enter("ecc83", "triode 1", "1", "C", "41", "1600", "1050,5", "800", "", "bench book")
    (line,) = testers.lines("Tester B")
    assert (line.designation, line.label, line.section) == ("12AX7", "triode 1", "1")
    assert line.fields == (("range", "C"), ("bias", "41"))
    assert line.limit == Limit(1050.5, 800, 1600, None, "µmho", "bench book", testers.shop.today)
    assert line.quantity == "transconductance"
    assert testers.row(0)[-5:] == ["1,600", "1,050.5", "800", "", "bench book"]
    assert testers.editor is None
    assert testers.page.list.in_hand() == testers.tester("Tester B")
    assert testers.tester("Tester B").lines == 1


def test_text_in_a_cell_for_figures_is_not_taken_and_stays(testers: TestersDriver) -> None:
    add(testers, METER, ("12AX7", "1"))
    testers.go_to(0, "Good")
    testers.enter("twelve")
    assert testers.sentence == "“twelve” is not a number: type figures, such as 62 or 0.35."
    assert testers.editor is not None
    assert (testers.editor.text(), testers.at) == ("twelve", (0, "Good"))
    testers.page.list.table.setFocus()
    assert testers.editor is not None
    assert testers.editor.text() == "twelve"
    testers.editor.setFocus()
    testers.press("Esc")
    assert testers.sentence == ""
    (line,) = testers.lines("Tester B")
    assert line.limit is not None
    assert line.limit.derived


def test_reject_above_good_is_told_by_its_column(testers: TestersDriver) -> None:
    add(testers, METER, ("12AX7", "1"))
    testers.go_to(0, "Good")
    testers.enter("1000", "800")
    testers.go_to(0, "Good")
    testers.enter("700")
    assert testers.sentence.startswith("Reject: Reject has to lie below good")
    testers.press("Esc")
    testers.go_to(0, "Reject")
    testers.enter("500")
    testers.go_to(0, "Good")
    testers.enter("700")
    (line,) = testers.lines("Tester B")
    assert line.limit is not None
    assert (line.limit.good_from, line.limit.reject_below) == (700, 500)


def test_what_the_default_rule_made_is_shown_and_not_typed_over_by_walking(testers: TestersDriver) -> None:
    add(testers, METER, ("12AX7", "1"))
    assert testers.row(0)[-5:] == ["1,600", "1,056", "800", "", "default rule"]
    testers.go_to(0, "Bogey")
    testers.press("Return")
    testers.enter("", "", "", "")
    (line,) = testers.lines("Tester B")
    assert line.limit is not None
    assert line.limit.derived
    testers.go_to(0, "Source")
    testers.enter("hearsay")
    assert "A source belongs to a limit" in testers.sentence


def test_enter_walks_into_the_next_line_and_past_its_type(testers: TestersDriver) -> None:
    add(testers, METER, ("12AX7", "1"), ("12AX7", "2"))
    testers.go_to(0, "Source")
    testers.press("Return")
    testers.press("Return")
    assert testers.at == (1, "Label")
    testers.press("Backtab")
    assert testers.at == (0, "Source")


@pytest.mark.parametrize(("typed", "says"), [("12AX9", "near it are 12A"), ("", "Type the type")])
def test_a_line_needs_a_type_that_is_in_the_table(testers: TestersDriver, typed: str, says: str) -> None:
    add(testers, METER)
    testers.press("Ctrl+L")
    testers.enter(typed)
    assert says in testers.sentence
    testers.press("Esc")
    assert testers.lines("Tester B") == []
    assert "No setting line yet" in testers.texts(testers.page.sheet)


def test_a_section_that_the_type_lacks_is_refused(testers: TestersDriver) -> None:
    add(testers, METER, ("12AX7", ""))
    testers.go_to(0, "Section")
    testers.enter("3")
    assert testers.sentence == "12AX7 has no section 3: choose 1, 2, or none."


def test_a_line_is_retired_and_taken_back(testers: TestersDriver) -> None:
    add(testers, METER, ("12AX7", "1"), ("6BQ5", "1"))
    testers.go_to(1, "Label")
    testers.press("Del")
    assert [line.designation for line in testers.lines("Tester B")] == ["12AX7"]
    testers.window.bridge.publish(take_back(testers.shop))
    assert testers.row(1)[0] == "6BQ5"


def test_a_tester_is_changed_and_its_dialled_values_follow_their_fields(testers: TestersDriver) -> None:
    add(testers, METER, ("12AX7", "1"))
    testers.go_to(0, "bias")
    testers.enter("41")
    testers.take("Tester B")
    testers.press("F2")
    testers.fill(testers.page.form.forms[0].fields["field_names"], "bias dial; heater; range")
    testers.press("Ctrl+Return")
    assert testers.errors() == []
    assert dict(testers.lines("Tester B")[0].fields)["range"] == ""
    assert "heater" in [column.title for column in testers.page.sheet.model.columns]


def test_a_retired_tester_says_so(testers: TestersDriver) -> None:
    add(testers, METER)
    testers.page.sheet.retire.click()
    assert testers.tester("Tester B").retired
    assert "Tester B (retired)" in testers.texts(testers.page.sheet)
    testers.page.sheet.retire.click()
    assert not testers.tester("Tester B").retired


def test_the_model_of_the_lines_keeps_qts_rules(testers: TestersDriver, qtmodeltester: ModelTester) -> None:
    add(testers, METER, ("12AX7", "1"), ("6BQ5", ""))
    assert testers.page.sheet.model is not None
    qtmodeltester.check(testers.page.sheet.model)
    testers.press("Ctrl+L")
    testers.enter("5AR4")
    testers.press("Esc")
    assert [row.line.designation for row in testers.page.sheet.model.rows if row.line] == [
        "12AX7",
        "6BQ5",
        "5AR4",
    ]
