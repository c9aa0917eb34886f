"""From a name to a paper, by keys in the real window: fields of a model, values of a job, the statement."""

from collections.abc import Callable
from pathlib import Path

import pypdf
import pytest
from PySide6.QtCore import QSettings, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from tests.ui.drivers.bench import Bench
from tests.ui.drivers.jobs import answer_file_dialogue
from tests.ui.drivers.keyboard import Keyboard
from tubeshelf.services.set_values import measured_in
from tubeshelf.services.shop import Shop
from tubeshelf.ui.parts.preview import Preview
from tubeshelf.ui.start import Program


class Technician(Keyboard):
    """Has a keyboard and the whole program before him."""

    def __init__(self, qtbot: QtBot, program: Program) -> None:
        self.qtbot, self.program = qtbot, program

    def press(self, keys: str, times: int = 1) -> None:
        super().press(keys, times)
        # A button that has a shortcut answers only after it was seen to go down.
        QTest.qWait(130)

    def enter(self, text: str) -> None:
        """Type and press Enter."""
        self.write(text)
        QTest.keyClick(self.focus, Qt.Key.Key_Enter)
        QApplication.processEvents()

    def statement(self, path: Path) -> str:
        """Make the statement of the job in hand; the text of its pages."""
        self.press("Ctrl+T")
        (paper,) = [x for x in self.program.window.findChildren(Preview) if x.isVisible()]
        paper.activateWindow()
        self.qtbot.waitUntil(paper.isActiveWindow)
        QTest.keyClick(paper, Qt.Key.Key_S, Qt.KeyboardModifier.ControlModifier)
        answer_file_dialogue(self.qtbot, paper, path)
        self.qtbot.waitUntil(lambda: bool(paper.notice.text))
        text = " ".join(" ".join(page.extract_text().split()) for page in pypdf.PdfReader(path).pages)
        paper.close()
        return text


@pytest.fixture
def hands(
    bench: Bench, qapp: QApplication, settings: QSettings, shown: Callable[..., QWidget], qtbot: QtBot
) -> Technician:
    program = Program(qapp, lambda: bench.shop, settings)
    shown(program.window, 1366, 768)
    qtbot.waitUntil(lambda: program.window.current is not None)
    return Technician(qtbot, program)


def measured(shop: Shop, job_id: int) -> dict[str, str]:
    view = measured_in(shop, job_id=job_id)
    return {one.name: one.text for one in view.values if one.value is not None}


def test_from_the_fields_of_a_model_to_the_customers_paper(
    hands: Technician, bench: Bench, tmp_path: Path
) -> None:
    hands.press("Ctrl+2")
    hands.press("F12")
    assert hands.on_field == "Name"
    hands.press("Ctrl+Return")
    hands.press("Return")
    hands.press("Ctrl+E")
    assert hands.on_field == "Line, V"
    for text in ("118.5", "320", "-11", "36", "40", "24"):
        hands.enter(text)
    assert measured(bench.shop, bench.job_id) == {
        "Line": "118.5 V",
        "B+": "320 V",
        "Bias": "−11 V",
        "Cathode current V3": "36 mA",
        "Cathode current V4": "40 mA",
        "Burn-in": "24 h",
    }
    hands.press("Escape")
    hands.press("Ctrl+Z")
    assert "Burn-in" not in measured(bench.shop, bench.job_id)
    hands.press("Ctrl+2")
    text = hands.statement(tmp_path / "statement.pdf")
    for said in (
        "Line 118.5 V",
        "B+ 320 V",
        "Cathode current V3 36 mA · V4 40 mA",
        "V3 and V4 are 4 mA apart, 10.5 %",
    ):
        assert said in text, said
    assert "Burn-in" not in text
