"""The main job by keyboard alone, in the real window: from a new job to the retube list on paper."""

from collections.abc import Callable
from pathlib import Path

import pypdf
import pytest
from PySide6.QtCore import QSettings, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from tests.services.benchwork import add_tester
from tests.ui.drivers.jobs import answer_file_dialogue
from tests.ui.drivers.keyboard import Keyboard
from tubeshelf.domain.judging import Zone
from tubeshelf.services import jobs, shelf_moves, shelf_reading
from tubeshelf.services.shop import Shop, ShopSettings, open_shop, save_settings
from tubeshelf.store.record import Record
from tubeshelf.ui.parts.preview import Preview
from tubeshelf.ui.start import Program

COMPLEMENT = """V1 input 12AX7
V2 phase inverter 12AX7
V3 output 6BQ5
V4 rectifier 5Y3GT"""


@pytest.fixture
def shop(file_record: Record) -> Shop:
    """A shop with a tester, one tested triode in bin C2 and no rectifier."""
    shop = open_shop(file_record)
    save_settings(shop, settings=ShopSettings(name="Quillfen Valve Workshop"))
    tester = add_tester(shop)
    ids, _ = shelf_moves.receive(
        shop, type_name="12AX7", quantity=1, lot=False, condition="used, tested", bin="C2", price=2400
    )
    for section, reading in (("1", "1480"), ("2", "1390")):
        shelf_reading.read_spare(
            shop, item_id=ids[0], line_id=None, section=section, tester_id=tester, text=reading
        )
    return shop


class Technician(Keyboard):
    """Has a keyboard and nothing else."""

    def __init__(self, qtbot: QtBot, program: Program) -> None:
        self.qtbot = qtbot
        self.program = program

    def press(self, keys: str, times: int = 1) -> None:
        super().press(keys, times)
        # A button that has a shortcut answers only after it was seen to go down.
        QTest.qWait(130)

    def enter(self, text: str) -> None:
        self.write(text)
        QTest.keyClick(self.focus, Qt.Key.Key_Return)
        QApplication.processEvents()


@pytest.fixture
def at_the_keyboard(
    shop: Shop, qapp: QApplication, settings: QSettings, shown: Callable[..., QWidget], qtbot: QtBot
) -> Technician:
    program = Program(qapp, lambda: shop, settings)
    shown(program.window, 1366, 768)
    qtbot.waitUntil(lambda: program.window.current is not None)
    return Technician(qtbot, program)


def test_from_a_new_job_to_the_printed_retube_list(
    at_the_keyboard: Technician, shop: Shop, tmp_path: Path
) -> None:
    hands = at_the_keyboard
    take_in(hands)
    assert hands.program.window.current is not None
    assert hands.program.window.current.name == "bench"
    read_the_set(hands)
    job = jobs.open_job(shop, number=1)
    by_position = {socket.position: socket for socket in job.sockets}
    assert by_position["V1"].verdict.word == Zone.GOOD
    assert by_position["V2"].found.marked == "12AU7"
    assert by_position["V3"].verdict.word == Zone.REJECT
    assert [position for position, _ in job.harm] == ["V4"]
    paper = print_it(hands, tmp_path / "retube.pdf")
    assert_on_paper(paper)


def take_in(hands: Technician) -> None:
    """Jobs, Ctrl N, the sheet from field to field, Ctrl Enter."""
    hands.press("Ctrl+2")
    hands.press("Ctrl+N")
    hands.write("Ines Halloway")
    labels = {
        "Model": "A12",
        "Maker": "Larkmere",
        "Serial": "30417",
        "Complaint": "weak",
        "Sockets": COMPLEMENT,
    }
    sheet = hands.program.window.current
    assert sheet is not None
    for _ in range(20):
        field = next((name for name in labels if hands.on_field.startswith(name)), None)
        if field is not None:
            hands.write(labels.pop(field))
        if not labels:
            break
        hands.press("Tab")
    assert not labels, f"not reached by Tab: {labels}"
    hands.press("Ctrl+Return")


def read_the_set(hands: Technician) -> None:
    """A good triode, a wrong one, a spent output tube, a rectifier that does harm."""
    hands.write("+")
    hands.enter("1540")
    hands.enter("1510")
    hands.enter("12AU7")
    hands.enter("2050")
    hands.enter("2010")
    hands.write("+")
    hands.enter("3000")
    hands.enter("5U4GB")


def print_it(hands: Technician, path: Path) -> str:
    hands.press("Ctrl+P")
    (paper,) = [x for x in hands.program.window.findChildren(Preview) if x.isVisible()]
    paper.activateWindow()
    hands.qtbot.waitUntil(paper.isActiveWindow)
    QTest.keyClick(paper, Qt.Key.Key_S, Qt.KeyboardModifier.ControlModifier)
    answer_file_dialogue(hands.qtbot, paper, path)
    hands.qtbot.waitUntil(lambda: bool(paper.notice.text))
    text = "\n".join(page.extract_text() for page in pypdf.PdfReader(path).pages)
    paper.close()
    return text


def assert_on_paper(text: str) -> None:
    flat = " ".join(text.split())
    for said in (
        "Retube list",
        "Job 1",
        "Larkmere A12",
        "30417",
        "Quillfen Valve Workshop",
        "Do not power.",
        "3 A",
        "12AU7",
        "1,480 · 1,390",
        "C2",
        "0001",
        "1 × 5Y3GT",
        "page 1 of 1",
        "Follow your local codes",
    ):
        assert said in flat, said
