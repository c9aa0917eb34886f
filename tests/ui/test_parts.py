import sys
from collections.abc import Callable
from xml.etree import ElementTree

import pytest
from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QImage, QPainter
from PySide6.QtTest import QSignalSpy
from PySide6.QtWidgets import QApplication, QLabel, QLineEdit, QPushButton, QToolButton, QVBoxLayout, QWidget
from pytestqt.qtbot import QtBot

from tubeshelf import paths
from tubeshelf.domain.fitting import Outcome
from tubeshelf.domain.judging import Mark, Zone
from tubeshelf.domain.palette import DARK, LIGHT, Palette
from tubeshelf.paper.fonts import load_known_fonts, tabular
from tubeshelf.ui import icons, theme, tokens
from tubeshelf.ui.marks import MarkLabel, fit_cell, fit_look, verdict_look
from tubeshelf.ui.parts.banner import Banner
from tubeshelf.ui.parts.buttons import Act, IconButton, shown_keys
from tubeshelf.ui.parts.chips import Chips
from tubeshelf.ui.parts.empty import Empty
from tubeshelf.ui.parts.facts import Facts
from tubeshelf.ui.parts.form import Choice, Form, Lines, Tick
from tubeshelf.ui.parts.head import TitleLine
from tubeshelf.ui.parts.keys import KeyFoot, StatusLine
from tubeshelf.ui.parts.notice import Notice
from tubeshelf.ui.parts.search import SearchField
from tubeshelf.ui.parts.sheet import Counts, Sheet
from tubeshelf.ui.parts.split import Split
from tubeshelf.ui.parts.text import label

Show = Callable[..., QWidget]
ICONS = sorted(file.stem for file in (paths.root("resources") / "icons").glob("*.svg"))


def test_void_calls_do_not_lose_references_to_none(qapp: QApplication) -> None:
    """The wrong Qt for this Python aborts the interpreter sooner or later; see pyproject.toml."""
    widget = QLabel()
    before = sys.getrefcount(None)
    for n in range(1000):
        widget.setText(str(n))
    assert abs(sys.getrefcount(None) - before) < 100


@pytest.mark.parametrize("name", ICONS)
def test_icons_are_drawn_in_any_size_and_take_the_colour_given(name: str) -> None:
    for side in (16, 24, 48):
        image = QImage(side, side, QImage.Format.Format_ARGB32_Premultiplied)
        image.fill(Qt.GlobalColor.white)
        with QPainter(image) as painter:
            icons.paint_mark(painter, image.rect().toRectF(), name, LIGHT.reject)
        found = {image.pixelColor(x, y).name().upper() for x in range(side) for y in range(side)}
        assert len(found) > 1, "nothing was drawn"
    assert LIGHT.reject in found or name == "app"


def test_icons_carry_no_colour_of_their_own() -> None:
    for name in ICONS:
        if name == "app":
            continue
        for element in ElementTree.parse(paths.root("resources") / "icons" / f"{name}.svg").iter():
            colours = {element.get("fill"), element.get("stroke")}
            assert colours <= {None, "none", "currentColor"}, name


def test_marks_differ_in_grey() -> None:
    """Word and shape tell a verdict, never colour alone: no two drawings are the same picture."""

    def drawn(name: str) -> bytes:
        image = QImage(48, 48, QImage.Format.Format_Grayscale8)
        image.fill(Qt.GlobalColor.white)
        with QPainter(image) as painter:
            icons.paint_mark(painter, image.rect().toRectF(), name, "#000000")
        return bytes(image.constBits())

    marks = [name for name in ICONS if name.startswith(("tube-", "fit-"))]
    assert len({drawn(name) for name in marks}) == len(marks) == 21


@pytest.mark.parametrize("word", [*Mark, Zone.GOOD, Zone.WEAK, Zone.REJECT, Zone.UNJUDGED, "not read"])
def test_every_verdict_has_a_drawing_a_word_and_a_tone(word: str) -> None:
    for look in (verdict_look(word), verdict_look(word, "read again")):
        assert look.icon in ICONS
        assert look.word
        assert LIGHT.tone(look.tone)


def test_read_again_outranks_the_zone_in_shape_and_says_both() -> None:
    look = verdict_look("weak", "read again")
    assert (look.icon, look.word, look.tone) == ("tube-again", "Weak, read again", "again")


def test_too_close_to_call_does_not_look_good() -> None:
    look = verdict_look("good", "too close to call")
    assert (look.icon, look.word, look.tone) == ("tube-again", "Good, too close to call", "again")


def test_a_fault_without_a_drawing_gets_the_general_mark() -> None:
    assert verdict_look("hum").icon == "tube-fault"
    assert verdict_look("hum").word == "Hum"


@pytest.mark.parametrize("outcome", Outcome)
def test_every_fit_has_a_ring_of_its_own(outcome: Outcome) -> None:
    assert fit_look(outcome).icon in ICONS
    assert fit_look(outcome).word.lower() == outcome.value.replace("_", " ")
    assert fit_cell(outcome).bold == (outcome in (Outcome.WRONG_TYPE, Outcome.CANNOT_SEAT, Outcome.HARMFUL))


def test_a_mark_without_its_word_still_says_it(shown: Show) -> None:
    mark = MarkLabel(fit_look(Outcome.HARMFUL), word=False)
    shown(mark)
    assert (mark.accessibleName(), mark.toolTip()) == ("harmful", "harmful")


def test_buttons_without_words_have_a_name(shown: Show) -> None:
    button = IconButton("close", "Close")
    shown(button)
    assert button.accessibleName() == "Close"
    notice = Notice()
    notice.fail("Wrong.")
    shown(notice)
    assert all(b.accessibleName() for b in notice.findChildren(QToolButton))


def test_a_button_shows_its_key_and_the_key_works(shown: Show, qtbot: QtBot, palette: Palette) -> None:
    window = QWidget()
    column = QVBoxLayout(window)
    act = Act("&Receive", "Ctrl+R", primary=True)
    column.addWidget(act)
    shown(window, 300, 100)
    pressed = QSignalSpy(act.clicked)
    qtbot.keyClick(window, Qt.Key.Key_R, Qt.KeyboardModifier.ControlModifier)
    assert pressed.count() == 1
    with qtbot.waitSignal(act.clicked):
        qtbot.keyClick(window, Qt.Key.Key_R, Qt.KeyboardModifier.AltModifier)
    assert act.accessibleDescription() == "Ctrl R"
    assert act.minimumSizeHint().width() > act.fontMetrics().horizontalAdvance("Receive Ctrl R")


def test_keys_are_written_as_on_the_keyboard() -> None:
    assert shown_keys("Ctrl+Shift+R") == "Ctrl Shift R"


def test_the_banner_is_there_only_while_there_is_harm(shown: Show, qtbot: QtBot) -> None:
    page = QWidget()
    column = QVBoxLayout(page)
    banner = Banner()
    column.addWidget(banner)
    shown(page, 600, 200)
    assert banner.isHidden()
    banner.tell("V4 is shorted, pins 2–3.")
    assert banner.isVisible()
    assert banner.accessibleName() == "Do not power. V4 is shorted, pins 2–3."
    asked = QSignalSpy(banner.asked)
    qtbot.mouseClick(banner.findChild(QPushButton), Qt.MouseButton.LeftButton)
    assert asked.count() == 1
    banner.tell("")
    assert banner.isHidden()


def test_what_a_customer_wrote_is_never_markup(shown: Show) -> None:
    evil = "<img src='file:///etc/passwd'><b>x</b>"
    title = TitleLine()
    title.show_title(evil, evil)
    notice, banner, facts, sheet = Notice(), Banner(), Facts(), Sheet(evil)
    notice.fail(evil)
    banner.tell(evil)
    facts.show_facts([(evil, evil)])
    for widget in (title, notice, banner, facts, sheet, Empty(evil, evil)):
        shown(widget, 300, 200)
        for text in widget.findChildren(QLabel):
            assert text.textFormat() is Qt.TextFormat.PlainText
            assert "<img" not in text.toolTip()


def test_chips_can_be_dropped(shown: Show, qtbot: QtBot) -> None:
    chips = Chips()
    chips.show_chips([("type", "12AX7 & kin"), ("free", "not promised")])
    shown(chips, 400, 60)
    dropped = QSignalSpy(chips.dropped)
    button = next(b for b in chips.findChildren(QPushButton) if "12AX7" in b.text())
    assert button.accessibleName() == "Drop 12AX7 & kin"
    qtbot.mouseClick(button, Qt.MouseButton.LeftButton)
    assert dropped.at(0) == ["type"]


def test_chips_go_on_in_the_next_line(shown: Show) -> None:
    sheet = QWidget()
    column = QVBoxLayout(sheet)
    chips = Chips()
    chips.show_chips([(n, f"chip number {n}") for n in range(6)])
    column.addWidget(chips)
    column.addStretch(1)
    shown(sheet, 260, 400)
    rows = {button.y() for button in chips.findChildren(QPushButton)}
    assert len(rows) == 6
    assert all(b.geometry().right() <= chips.width() for b in chips.findChildren(QPushButton))


def test_facts_stand_a_few_to_a_line(shown: Show) -> None:
    facts = Facts(columns=2)
    facts.show_facts([("heater", "6.3"), ("range", "C"), ("press", "")])
    shown(facts, 300)
    names = [box.accessibleName() for box in facts.findChildren(QWidget) if box.accessibleName()]
    assert names == ["heater 6.3", "range C", "press "]


def test_a_form_names_its_fields_and_complains_beside_them(shown: Show, qtbot: QtBot) -> None:
    form = Form()
    field = QLineEdit()
    form.row("&Heater, V", field)
    form.row("No&te", Lines())
    form.row("Retired", Tick("no longer made"))
    shown(form, 400, 300)
    assert field.accessibleName() == "Heater, V"
    form.complain(field, "“abc” is no number: type volts, such as 6.3.")
    assert field.hasFocus()
    assert field.accessibleDescription() == form.complaint(field) != ""
    qtbot.keyClicks(field, "6")
    assert form.complaint(field) == ""
    assert not field.property("wrong")


def test_a_mnemonic_leads_to_the_field(shown: Show, qtbot: QtBot) -> None:
    form = Form()
    form.row("&Base", QLineEdit())
    note = Lines()
    form.row("No&te", note)
    shown(form, 400, 300)
    qtbot.keyClick(form, Qt.Key.Key_T, Qt.KeyboardModifier.AltModifier)
    assert note.hasFocus()
    qtbot.keyClick(note, Qt.Key.Key_Tab)
    assert not note.hasFocus()


def test_a_choice_keeps_what_was_chosen_when_the_offer_changes() -> None:
    choice = Choice([("Tester A", 1), ("Tester B", 2)], name="Tester")
    choice.choose(2)
    told = QSignalSpy(choice.currentIndexChanged)
    choice.offer([("Tester C", 3), ("Tester B", 2)])
    assert (choice.currentData(), told.count()) == (2, 0)
    choice.offer([("Tester C", 3)])
    assert choice.currentData() == 3


def test_a_tick_shows_that_it_is_ticked(shown: Show, palette: Palette) -> None:
    tick = Tick("shared")
    shown(tick)
    before = tick.grab().toImage()
    tick.setChecked(True)
    after = tick.grab().toImage()
    colours = {after.pixelColor(x, y).name().upper() for x in range(28) for y in range(after.height())}
    assert before != after
    assert palette.accent in colours
    assert palette.on_accent in colours


def test_the_foot_drops_keys_that_do_not_fit_but_never_the_last(shown: Show) -> None:
    foot = KeyFoot()
    foot.show_keys([(f"Ctrl {n}", "something long to say") for n in range(8)] + [("F1", "all keys")])
    shown(foot, 500, 34)
    texts = [text.text() for text in foot.findChildren(QLabel) if text.isVisible()]
    assert texts[-1] == "all keys"
    assert 2 < len(texts) < 18


def test_work_under_way_is_counted_and_can_be_stopped(shown: Show, qtbot: QtBot) -> None:
    line = StatusLine()
    shown(line, 900, 34)
    line.busy("Reading", 1200, 5000)
    texts = [text.text() for text in line.findChildren(QLabel) if text.isVisible()]
    assert "Reading 1,200 of 5,000" in texts
    stopped = QSignalSpy(line.cancelled)
    qtbot.mouseClick(line.findChild(QPushButton), Qt.MouseButton.LeftButton)
    assert stopped.count() == 1
    line.rest()
    assert not line.findChild(QPushButton).isVisible()


def test_a_narrow_window_shows_list_or_detail(shown: Show, qtbot: QtBot) -> None:
    left, detail = Sheet(), Sheet()
    split = Split(left, detail)
    shown(split, 1300, 400)
    assert (left.isVisible(), detail.isVisible()) == (True, True)
    split.resize(1000, 400)
    assert (left.isVisible(), detail.isVisible()) == (True, False)
    qtbot.keyClick(split, Qt.Key.Key_F8)
    assert (left.isVisible(), detail.isVisible()) == (False, True)
    split.resize(1300, 400)
    assert (left.isVisible(), detail.isVisible()) == (True, True)


@pytest.mark.parametrize("begun", [1000, 1300])
def test_a_window_made_wide_gives_the_detail_its_usual_share(shown: Show, begun: int) -> None:
    left, detail = Sheet(), Sheet()
    split = Split(left, detail)
    shown(split, begun, 400)
    split.resize(1000, 400)
    split.resize(1300, 400)
    assert detail.width() == pytest.approx(1300 * 0.3, abs=8)


def test_a_title_gives_way_instead_of_widening_the_window(shown: Show) -> None:
    title = TitleLine()
    title.show_title("Job 214 · " + "a very long name " * 9, "serial 1", "", "promised")
    title.add(Act("Print"))
    shown(title, 600)
    assert title.minimumSizeHint().width() < 600
    assert title.width() == 600


def test_a_search_field_asks_only_after_a_pause(shown: Show, qtbot: QtBot) -> None:
    field = SearchField("Type, tag, bin", "Ctrl+F")
    shown(field, 300)
    field.take_focus()
    with qtbot.waitSignal(field.paused, timeout=2000) as asked:
        qtbot.keyClicks(field, "12ax7")
    assert asked.args == ["12ax7"]


def test_counts_have_thousands_apart(shown: Show) -> None:
    counts = Counts()
    counts.show_counts((1284, "tubes"), (0, "promised"))
    shown(counts)
    assert [text.text() for text in counts.findChildren(QLabel)] == ["1,284", "tubes", "0", "promised"]


def test_no_part_opens_a_window_of_its_own(qapp: QApplication) -> None:
    """A part that is shown before it has a parent takes the focus away from the window for a moment."""
    before = {id(widget) for widget in qapp.topLevelWidgets() if widget.isVisible()}
    made = [Sheet("Title", scrolls=True), Banner(), Notice(), Form(), Empty("Nothing.", "Add"), StatusLine()]
    made.append(TitleLine("Title"))
    assert {id(widget) for widget in qapp.topLevelWidgets() if widget.isVisible()} == before
    assert made


def test_the_style_sheet_has_every_token_filled_in() -> None:
    for chosen in (LIGHT, DARK):
        sheet = theme.style_sheet(chosen)
        assert "$" not in sheet
        assert chosen.accent in sheet


def test_the_palette_in_force_is_read_from_the_application(palette: Palette) -> None:
    assert tokens.palette_now() is palette


def test_choosing_dark_is_told_once(qapp: QApplication) -> None:
    dress = theme.Theme(qapp, theme.Scheme.LIGHT)
    told = QSignalSpy(dress.changed)
    dress.choose(theme.Scheme.DARK)
    dress.choose(theme.Scheme.DARK)
    assert told.count() == 1
    assert told.at(0) == [DARK]
    dress.choose(theme.Scheme.LIGHT)


def test_icons_follow_the_palette(shown: Show, qapp: QApplication) -> None:
    button = IconButton("close", "Close")
    shown(button)
    before = button.icon().pixmap(24, 24).toImage()
    theme.apply(qapp, DARK)
    QApplication.sendEvent(button, QEvent(QEvent.Type.PaletteChange))
    assert button.icon().pixmap(24, 24).toImage() != before
    theme.apply(qapp, LIGHT)


def test_readings_stand_in_figures_of_equal_width(qapp: QApplication) -> None:
    assert load_known_fonts() == "DejaVu Sans"
    figures = tabular(qapp.font(), pixels=17)
    text = label("0123456789")
    text.setFont(figures)
    assert len({text.fontMetrics().horizontalAdvance(digit) for digit in "0123456789"}) == 1
    assert (figures.pixelSize(), figures.bold()) == (17, True)
