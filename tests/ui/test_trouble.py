from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QMessageBox
from pytestqt.qtbot import QtBot

from tubeshelf.domain.errors import UserError
from tubeshelf.ui.trouble import Trouble


def boxes(app: QApplication) -> list[QMessageBox]:
    return [w for w in app.topLevelWidgets() if isinstance(w, QMessageBox) and w.isVisible()]


@pytest.mark.usefixtures("hook")
def test_a_bug_goes_to_the_log_and_one_dialogue_however_often(qapp: QApplication, tmp_path: Path) -> None:
    trouble = Trouble(qapp, tmp_path / "logs")
    for _ in range(3):
        trouble.caught(ZeroDivisionError, ZeroDivisionError("planted"), None)
    assert len(boxes(qapp)) == 1
    box = boxes(qapp)[0]
    assert "planted" not in box.text() + box.informativeText()
    assert box.textFormat() is Qt.TextFormat.PlainText
    assert trouble.file.read_text(encoding="utf-8").count("ZeroDivisionError: planted") == 3
    box.close()
    trouble.uninstall()


@pytest.mark.usefixtures("hook")
def test_what_the_user_can_act_on_is_said_without_a_dialogue(qapp: QApplication, tmp_path: Path) -> None:
    heard: list[str] = []
    trouble = Trouble(qapp, tmp_path, heard.append)
    trouble.caught(UserError, UserError("The record is locked: close the other program."), None)
    assert heard == ["The record is locked: close the other program."]
    assert boxes(qapp) == []
    trouble.uninstall()


@pytest.mark.usefixtures("hook")
def test_a_file_where_the_log_folder_belongs_is_no_reason_not_to_start(
    qapp: QApplication, tmp_path: Path, qtbot: QtBot
) -> None:
    (tmp_path / "logs").write_text("in the way")
    trouble = Trouble(qapp, tmp_path / "logs")
    trouble.caught(ZeroDivisionError, ZeroDivisionError("planted"), None)
    assert len(boxes(qapp)) == 1
    boxes(qapp)[0].close()
    trouble.uninstall()
