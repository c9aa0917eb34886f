"""The pictures of heater circuits: what they say in words, and where they draw it."""

from collections.abc import Callable

import pytest
from PySide6.QtGui import QColor
from PySide6.QtWidgets import QWidget

from tubeshelf.domain.palette import Palette
from tubeshelf.ui.parts.heaters import Ladder, LadderView, LoadBar, LoadView, Rung

Show = Callable[..., QWidget]


def column(picture: QWidget, x: int) -> set[str]:
    image = picture.grab().toImage()
    return {image.pixelColor(x, y).name().upper() for y in range(image.height())}


def test_a_load_says_its_sum_its_parts_and_its_limit() -> None:
    view = LoadView((("V1", 0.3), ("V2", 1.5)), 2.0, "rated 2 A")
    assert view.spoken() == "Load 1.8 A, rated 2 A: V1 0.3 A, V2 1.5 A"
    assert LoadView((("V1", 0.3),)).spoken() == "Load 0.3 A: V1 0.3 A"


def test_the_limit_stands_where_its_amperes_are(shown: Show, palette: Palette) -> None:
    picture = LoadBar(LoadView((("V1", 1.0), ("V2", 2.0)), 2.0, "rated 2 A", over=True))
    shown(picture, 448)
    limit = round(2.0 / (1.12 * 3.0) * 448)
    assert QColor(palette.reject).name().upper() in column(picture, limit)
    assert palette.zone_good in column(picture, 60)  # the first part fills the left third


def test_a_load_of_nothing_is_drawn_as_nothing(shown: Show) -> None:
    shown(LoadBar(LoadView(())), 300)


@pytest.mark.parametrize(
    ("rung", "words"),
    [
        (Rung("V1", "12BE6", "12.0 V", 95.3), "12.0 V, 95 %"),
        (Rung("V1", "12BE6", "14.6 V", 116.0), "14.6 V, 116 %: high"),
        (Rung("V1", "12BE6", "10.6 V", 84.0), "10.6 V, 84 %: low"),
        (Rung("Dropper", "160 Ω", "48.1 V, 14.4 W"), "48.1 V, 14.4 W"),
    ],
)
def test_a_rung_says_in_words_that_it_is_out_of_bounds(rung: Rung, words: str) -> None:
    assert rung.words() == words
    assert words in LadderView("117 V", (rung,)).spoken()


def test_every_rung_is_drawn_even_far_out_of_bounds(shown: Show, palette: Palette) -> None:
    rungs = (
        Rung("V1", "6K7", "0 V", 0.0),
        Rung("V2", "6K7", "20 V", 320.0),
        Rung("Dropper", "160 Ω", "48 V"),
    )
    picture = Ladder(LadderView("117 V, 0.3 A", rungs))
    shown(picture, 420)
    seen = {colour for x in range(0, 420, 3) for colour in column(picture, x)}
    assert {palette.zone_weak, palette.zone_good, palette.zone_reject} <= seen
