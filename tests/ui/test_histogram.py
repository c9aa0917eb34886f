from collections.abc import Callable

from PySide6.QtGui import QColor
from PySide6.QtWidgets import QWidget

from tubeshelf.domain.palette import Palette
from tubeshelf.ui.parts.histogram import Histogram, HistogramView
from tubeshelf.ui.parts.scale import ScaleView

Show = Callable[..., QWidget]
SCALE = ScaleView(good_from=1200, reject_below=960, bogey=1600, unit="µmho")


def test_every_value_is_in_one_bar() -> None:
    view = HistogramView(SCALE, (0.0, 960.0, 1500.0, 1501.0, 2100.0))
    assert sum(view.counts()) == 5
    assert view.counts()[0] == 1
    assert max(view.counts()) == 2
    assert view.top() > 2100


def test_a_scale_of_words_has_a_bar_a_word() -> None:
    view = HistogramView(ScaleView(words=("reject", "fair", "good")), (1.0, 3.0, 3.0))
    assert view.counts() == (1, 0, 2)


def test_is_told_in_words(shown: Show) -> None:
    picture = Histogram()
    picture.show_view(HistogramView(SCALE, (1205.0, 1640.0)))
    shown(picture, 360)
    told = "Histogram: 2 readings from 1,205 to 1,640, reject below 960, good from 1,200"
    assert picture.accessibleName() == told
    picture.show_view(HistogramView(SCALE))
    assert "none read yet" in picture.accessibleName()


def test_draws_zones_bars_and_the_tube_in_hand(shown: Show, palette: Palette) -> None:
    picture = Histogram()
    picture.show_view(HistogramView(SCALE, (1500.0,) * 3, in_hand=(600.0,)))
    shown(picture, 360)
    image = picture.grab().toImage()
    at = lambda value, y=20: image.pixelColor(round(value / picture.view.top() * image.width()), y)  # noqa: E731
    assert at(300) == QColor(palette.zone_reject)
    assert at(1100) == QColor(palette.zone_weak)
    assert at(1300) == QColor(palette.zone_good)
    assert at(1500, 60) == QColor(palette.accent)
    assert abs(at(600).lightness() - QColor(palette.ink).lightness()) < 60


def test_without_a_limit_the_ends_of_what_was_read_are_named(shown: Show, palette: Palette) -> None:
    picture = Histogram()
    picture.show_view(HistogramView(ScaleView(unit="%"), (55.0, 80.0)))
    shown(picture, 360)
    assert picture.accessibleName().endswith("no limit entered")
    assert picture.sizeHint().height() > 90
