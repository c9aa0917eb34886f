from collections.abc import Callable
from datetime import datetime

import pytest
from PySide6.QtCore import QPoint, QSettings, Qt
from PySide6.QtGui import QPaintEvent
from PySide6.QtWidgets import QApplication, QLabel, QLineEdit, QMessageBox, QPushButton, QVBoxLayout, QWidget
from pytestqt.qtbot import QtBot

from tubeshelf.domain.errors import UserError
from tubeshelf.services.changes import Changes, Kind
from tubeshelf.ui.keysheet import KeySheet
from tubeshelf.ui.page import Page
from tubeshelf.ui.place import Hit, Place
from tubeshelf.ui.runner import Ticket
from tubeshelf.ui.window import Hooks, MainWindow, PageSpec

Show = Callable[..., QWidget]
CTRL = Qt.KeyboardModifier.ControlModifier


class Jobs(Page):
    """A page that counts what happens to it."""

    shows = frozenset({Kind.JOB})

    def __init__(self) -> None:
        super().__init__()
        self.loads = 0
        self.printed = 0
        self.taken: list[tuple[Kind, int]] = []
        self.head.show_title("Jobs", "14 open")
        self.field = QLineEdit()
        self.column.addWidget(self.field)
        self.column.addStretch(1)
        self.setFocusProxy(self.field)

    def load(self) -> None:
        self.loads += 1

    def keys(self) -> tuple[tuple[str, str], ...]:
        return (("Enter", "open"),)

    def show_thing(self, kind: Kind, thing_id: int) -> None:
        self.taken.append((kind, thing_id))

    def print_out(self) -> None:
        self.printed += 1


class Shelf(Jobs):
    shows = frozenset({Kind.ITEM})


def refused() -> Page:
    raise UserError("The record is gone: put the disk back and open this page again.")


PAGES = (
    PageSpec("jobs", "&Jobs", Jobs),
    PageSpec("shelf", "&Shelf", Shelf),
    PageSpec("broken", "&Broken", refused),
    PageSpec("settings", "Settings", Page, in_bar=False, shortcut="Ctrl+,"),
)


@pytest.fixture
def window(shown: Show, settings: QSettings, qtbot: QtBot) -> MainWindow:
    made = MainWindow(PAGES, settings=settings, about="tubeshelf 0")
    shown(made)
    qtbot.waitUntil(lambda: made.current is not None)
    return made


def page(window: MainWindow, name: str) -> Jobs:
    opened = window.open_page(name)
    assert isinstance(opened, Jobs)
    return opened


def said(window: MainWindow) -> str:
    return window.status.said.text()


def job(number: int, origin: str = "", words: str = "") -> Changes:
    return Changes(1, words, frozenset({(Kind.JOB, number)}), origin)


class Watched(MainWindow):
    """A window that knows whether its first picture is finished."""

    pictures = 0

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        self.pictures += 1


def test_the_window_is_painted_before_any_page_is_built(
    shown: Show, settings: QSettings, qtbot: QtBot
) -> None:
    pictures: list[int] = []

    def build() -> Page:
        pictures.append(window.pictures)
        return Jobs()

    window = Watched([PageSpec("jobs", "&Jobs", build)], settings=settings)
    assert window.current is None
    shown(window)
    qtbot.waitUntil(lambda: window.current is not None)
    assert len(pictures) == 1
    assert pictures[0] >= 1


def test_pages_are_reached_by_number_mnemonic_and_click(window: MainWindow, qtbot: QtBot) -> None:
    qtbot.keyClick(window, Qt.Key.Key_2, CTRL)
    assert isinstance(window.current, Shelf)
    qtbot.keyClick(window, Qt.Key.Key_J, Qt.KeyboardModifier.AltModifier)
    qtbot.waitUntil(lambda: window.current is not None and window.current.name == "jobs")
    button = next(b for b in window.bar.findChildren(QPushButton) if b.text() == "&Shelf")
    qtbot.mouseClick(button, Qt.MouseButton.LeftButton)
    assert isinstance(window.current, Shelf)
    assert button.isChecked()
    qtbot.keyClick(window, Qt.Key.Key_Comma, CTRL)
    assert window.current.name == "settings"
    assert not button.isChecked()


def test_a_page_is_ready_for_the_keyboard_and_tells_its_keys(window: MainWindow) -> None:
    jobs = page(window, "jobs")
    assert jobs.field.hasFocus()
    assert window.status.foot.keys == (("Enter", "open"), ("F1", "all keys"))


def test_only_pages_that_show_what_changed_reload_and_hidden_ones_when_shown(window: MainWindow) -> None:
    jobs, shelf = page(window, "jobs"), page(window, "shelf")
    before = (jobs.loads, shelf.loads)
    window.bridge.publish(job(3))
    assert (jobs.loads, shelf.loads) == before
    window.open_page("jobs")
    assert jobs.loads == before[0] + 1
    window.bridge.publish(job(3))
    assert jobs.loads == before[0] + 2
    window.bridge.publish(Changes(2, "", frozenset({(Kind.TYPE, 3)})))
    assert jobs.loads == before[0] + 2


def test_the_page_that_began_an_act_does_not_reload(window: MainWindow) -> None:
    jobs = page(window, "jobs")
    before = jobs.loads
    window.bridge.publish(job(3, origin="jobs"))
    assert jobs.loads == before


def test_what_was_saved_is_said_with_the_time(window: MainWindow) -> None:
    window.use(Hooks(clock=lambda: datetime(2026, 11, 24, 22, 51, 7)))
    window.bridge.publish(job(3, words="Saved 6,900 at V3"))
    assert said(window) == "Saved 6,900 at V3, 22:51:07"


def test_take_back_publishes_what_it_changed_or_says_why_not(window: MainWindow, qtbot: QtBot) -> None:
    jobs = page(window, "jobs")
    qtbot.keyClick(window, Qt.Key.Key_Tab)
    window.take_back()
    assert said(window) == "There is nothing to take back."
    window.use(Hooks(take_back=lambda: job(3, words="Took back the reading")))
    before = jobs.loads
    window.take_back()
    assert jobs.loads == before + 1

    def refuse() -> Changes | None:
        raise UserError("The tube was installed since: pull it first.")

    window.use(Hooks(take_back=refuse))
    window.take_back()
    assert jobs.notice.text == "The tube was installed since: pull it first."


def test_undo_in_a_field_is_the_fields_own(window: MainWindow, qtbot: QtBot) -> None:
    jobs = page(window, "jobs")
    taken: list[int] = []
    window.use(Hooks(take_back=lambda: taken.append(1)))
    qtbot.keyClicks(jobs.field, "6900")
    qtbot.keyClick(jobs.field, Qt.Key.Key_Z, CTRL)
    assert (jobs.field.text(), taken) == ("", [])


def test_print_goes_to_the_page(window: MainWindow, qtbot: QtBot) -> None:
    jobs = page(window, "jobs")
    qtbot.keyClick(window, Qt.Key.Key_P, CTRL)
    assert jobs.printed == 1


def test_a_page_that_cannot_be_built_says_why_in_its_place_and_can_be_tried_again(
    window: MainWindow, qtbot: QtBot
) -> None:
    tries: list[int] = []

    def second_time() -> Page:
        tries.append(1)
        return refused() if len(tries) == 1 else Jobs()

    window._specs["broken"] = PageSpec("broken", "&Broken", second_time)
    assert window.open_page("broken") is None
    assert window.current is None
    in_place = [
        label.text() for label in window.stack.currentWidget().findChildren(QLabel) if label.isVisible()
    ]
    assert "The record is gone: put the disk back and open this page again." in in_place
    again = QApplication.focusWidget()
    assert isinstance(again, QPushButton)
    assert again.text() == "Try again"
    qtbot.keyClick(again, Qt.Key.Key_Space)
    assert isinstance(window.current, Jobs)
    assert window.stack.currentWidget() is window.current


def test_what_holds_for_the_whole_time_stands_above_every_page(window: MainWindow) -> None:
    window.keep_telling("Another program writes to it: close that one to write.")
    for name in ("jobs", "shelf"):
        page(window, name)
        told = [label for label in window.findChildren(QLabel) if label.text().startswith("Another program")]
        assert [label.isVisible() for label in told] == [True]
        below = page(window, name).mapTo(window, QPoint(0, 0)).y()
        assert told[0].mapTo(window, QPoint(0, 0)).y() < below


def test_a_refused_act_is_said_on_the_page(window: MainWindow) -> None:
    jobs = page(window, "jobs")

    def act() -> None:
        raise UserError("“abc” is no number: type a reading.")

    assert not jobs.attempt(act)
    assert jobs.notice.text == "“abc” is no number: type a reading."
    assert jobs.attempt(lambda: None)
    assert jobs.notice.isHidden()


def test_finding_walks_the_hits_and_goes_there(window: MainWindow, qtbot: QtBot) -> None:
    hits = (
        Hit("12AX7", "type", Place("jobs")),
        Hit("Job 14", "Larkmere A12", Place("shelf", Kind.JOB, 14)),
    )
    window.use(Hooks(find=lambda text: hits if text == "12a" else ()))
    qtbot.keyClick(window, Qt.Key.Key_F, CTRL)
    finder = window.bar.finder
    assert finder.hasFocus()
    qtbot.keyClicks(finder, "12a")
    qtbot.waitUntil(lambda: finder.hits == hits)
    qtbot.keyClick(finder, Qt.Key.Key_Down)
    qtbot.keyClick(finder, Qt.Key.Key_Return)
    assert isinstance(window.current, Shelf)
    assert window.current.taken == [(Kind.JOB, 14)]
    assert finder.text() == ""


def test_finding_nothing_says_what_may_be_looked_for(window: MainWindow, qtbot: QtBot) -> None:
    finder = window.bar.finder
    finder.take_focus()
    qtbot.keyClicks(finder, "<b>zz")
    qtbot.waitUntil(lambda: any("Nothing found" in text.text() for text in window.findChildren(QLabel)))
    qtbot.keyClick(finder, Qt.Key.Key_Escape)
    assert finder.text() == ""
    assert not finder.hasFocus()


def test_f1_shows_the_keys_of_this_page_until_the_next_key(window: MainWindow, qtbot: QtBot) -> None:
    page(window, "jobs")
    qtbot.keyClick(window, Qt.Key.Key_F1)
    sheet = window.findChild(KeySheet)
    texts = [text.text() for text in sheet.findChildren(QLabel)]
    assert "open" in texts
    assert "take back the last act" in texts
    sheet.grab()
    qtbot.keyClick(sheet, Qt.Key.Key_A)
    assert not sheet.isVisible()


def test_where_the_window_stood_is_remembered(shown: Show, settings: QSettings, qtbot: QtBot) -> None:
    first = MainWindow(PAGES, settings=settings)
    shown(first)
    qtbot.waitUntil(lambda: first.current is not None)
    first.open_page("shelf")
    first.resize(1024, 701)
    first.close()
    second = MainWindow(PAGES, settings=settings)
    shown(second)
    qtbot.waitUntil(lambda: second.current is not None)
    assert second.current.name == "shelf"
    assert (second.width(), second.height()) == (1024, 701)


def test_a_page_that_is_no_more_is_not_looked_for(shown: Show, settings: QSettings, qtbot: QtBot) -> None:
    settings.setValue("page", "plan")
    settings.setValue("geometry", "nonsense")
    window = MainWindow(PAGES, settings=settings)
    shown(window)
    qtbot.waitUntil(lambda: window.current is not None)
    assert window.current.name == "jobs"


def test_the_least_size_is_kept_whatever_a_page_holds(window: MainWindow) -> None:
    jobs = page(window, "jobs")
    jobs.head.show_title("a very long title of a job that goes on " * 5, "and facts " * 20)
    jobs.notice.fail("A long sentence that says what went wrong and what to do about it. " * 3)
    window.say("Saved something with a rather long name at a place far away " * 4)
    window.resize(1024, 640)
    assert window.minimumSizeHint().width() <= 1024
    assert window.width() == 1024


def test_work_shows_in_the_status_line_and_can_be_cancelled(window: MainWindow, qtbot: QtBot) -> None:
    def work(ticket: Ticket) -> int:
        for n in range(100_000):
            ticket.progress(n, 100_000)
        return 1

    stopped: list[int] = []
    window.runner.run("Counting", work, lambda n: None, window.fail, lambda: stopped.append(1))
    qtbot.mouseClick(window.status.findChild(QPushButton), Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: stopped == [1])
    assert not window.status.findChild(QPushButton).isVisible()


def test_about_is_plain_text_and_does_not_block(window: MainWindow) -> None:
    window.show_about()
    box = window.findChild(QMessageBox)
    assert (box.text(), box.textFormat()) == ("tubeshelf 0", Qt.TextFormat.PlainText)
    box.close()


def test_a_sentence_without_a_page_goes_to_the_status_line(
    qtbot: QtBot, settings: QSettings, qapp: QApplication
) -> None:
    window = MainWindow(PAGES, settings=settings)
    qtbot.addWidget(window)
    window.fail("The record is read-only: readings cannot be saved.")
    assert said(window) == "The record is read-only: readings cannot be saved."


def test_the_status_line_never_hides_f1(window: MainWindow) -> None:
    page(window, "jobs")
    window.resize(1024, 640)
    window.say("Saved " + "something " * 40)
    window.grab()
    last = next(text for text in window.status.foot.findChildren(QLabel) if text.text() == "all keys")
    corner = last.mapTo(window, last.rect().topRight())
    assert last.isVisible()
    assert corner.x() < window.width()


def test_layouts_of_a_bare_page_do_not_leak(qtbot: QtBot) -> None:
    bare = Page()
    qtbot.addWidget(bare)
    assert isinstance(bare.layout(), QVBoxLayout)
    bare.print_out()
    assert bare.notice.text == "There is nothing to print on this page."
