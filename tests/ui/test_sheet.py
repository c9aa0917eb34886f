"""The paper that everything stands on."""

from collections.abc import Callable

from PySide6.QtWidgets import QScrollArea, QWidget

from tubeshelf.ui.parts.sheet import Sheet
from tubeshelf.ui.parts.text import label

SENTENCE = "With that lamp open the tap carries the plate current alone and overheats: check the lamp."


def test_a_sheet_that_scrolls_ends_where_its_words_end(shown: Callable[..., QWidget]) -> None:
    sheet = Sheet("Heaters", scrolls=True)
    lines = [label(SENTENCE, wrap=True) for _ in range(30)]
    for line in lines:
        sheet.body.addWidget(line)
    sheet.body.addStretch(1)
    shown(sheet, 500, 300)
    area = sheet.findChild(QScrollArea)
    assert area is not None
    inside = area.widget()
    last = lines[-1].mapTo(inside, lines[-1].rect().bottomLeft()).y()
    assert last < inside.height() < last + 40
    assert area.verticalScrollBar().maximum() > 0
