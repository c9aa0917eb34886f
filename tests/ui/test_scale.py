from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PySide6.QtGui import QColor
from PySide6.QtWidgets import QVBoxLayout, QWidget

from tubeshelf.domain.palette import Palette
from tubeshelf.ui.parts.labels import Tag, place
from tubeshelf.ui.parts.scale import ScalePicture, ScaleView

Show = Callable[..., QWidget]
BQ5 = ScaleView(good_from=7000, reject_below=5600, bogey=11300, unit="µmho", value=6900, guard=576)


def colour_at(picture: ScalePicture, value: float, palette: Palette) -> str:
    image = picture.grab().toImage()
    x = round(value / picture.view.top() * picture.width())
    column = [image.pixelColor(x, y) for y in range(image.height())]
    zones = {palette.zone_reject, palette.zone_weak, palette.zone_good}
    return next((c.name().upper() for c in column if c.name().upper() in zones), "")


def test_the_zones_stand_where_the_limit_says(shown: Show, palette: Palette) -> None:
    picture = ScalePicture(BQ5)
    shown(picture, 400)
    assert colour_at(picture, 2000, palette) == palette.zone_reject
    assert colour_at(picture, 6000, palette) == palette.zone_weak
    assert colour_at(picture, 9000, palette) == palette.zone_good


def test_the_needle_stands_on_the_reading(shown: Show, palette: Palette) -> None:
    picture = ScalePicture(BQ5)
    shown(picture, 400)
    x = round(6900 / BQ5.top() * 400)
    image = picture.grab().toImage()
    found = {image.pixelColor(x, y).name() for y in range(image.height())}
    assert QColor(palette.ink).name() in found


def test_without_a_limit_there_are_no_zones(shown: Show, palette: Palette) -> None:
    picture = ScalePicture(ScaleView(value=55, full_scale=100))
    shown(picture, 400)
    assert {colour_at(picture, v, palette) for v in (5, 50, 95)} == {""}
    assert picture.accessibleName() == "Scale: reads 55, no limit entered"


def test_one_limit_only_still_makes_two_zones(shown: Show, palette: Palette) -> None:
    picture = ScalePicture(ScaleView(reject_below=60, full_scale=120))
    shown(picture, 400)
    assert colour_at(picture, 30, palette) == palette.zone_reject
    assert colour_at(picture, 100, palette) == palette.zone_good


def test_a_reading_off_the_scale_stays_in_the_picture(shown: Show) -> None:
    for value in (-5.0, 0.0, 500.0):
        picture = ScalePicture(ScaleView(60, 55, full_scale=120, value=value, guard=3))
        shown(picture, 300)
        assert all(0 <= p.left <= 300 for p in picture.above())


def test_zero_is_a_reading() -> None:
    assert "reads 0" in ScalePicture(ScaleView(60, 55, full_scale=120, value=0.0)).accessibleName()


@pytest.mark.parametrize(
    ("value", "said"), [(6900, "6,900"), (55, "55"), (55.5, "55.5"), (0.25, "0.25"), (0, "0")]
)
def test_says_a_value_as_a_meter_is_read(value: float, said: str) -> None:
    assert ScaleView().say(value) == said


def test_merit_words_are_said_instead_of_positions() -> None:
    view = ScaleView(3, 2, words=("bad", "doubtful", "good"), value=2)
    assert view.caption() == "reject below doubtful, good from good"
    assert view.say(2) == "doubtful"


def test_the_scale_ends_at_full_scale_unless_all_would_crowd_left() -> None:
    assert ScaleView(60, 55, bogey=80, full_scale=120).top() == 120
    assert ScaleView(60, 55, bogey=80, full_scale=3000).top() == pytest.approx(86.4)
    assert ScaleView().top() == 1


tags = st.lists(
    st.builds(Tag, st.just("x"), st.floats(-50, 450), st.floats(5, 150), st.integers(-3, 3)), max_size=9
)


@given(tags)
def test_labels_never_lie_on_each_other(wanted: list[Tag]) -> None:
    placed = place(wanted, 0, 400)
    assert len(placed) == len(wanted)
    for n, one in enumerate(placed):
        assert 0 <= one.left <= 400 - one.tag.width + 0.01
        for other in placed[n + 1 :]:
            apart = one.left + one.tag.width <= other.left or other.left + other.tag.width <= one.left
            assert apart or one.level != other.level


def test_real_labels_have_room_in_a_narrow_sheet(shown: Show) -> None:
    view = ScaleView(
        7000, 5600, 11300, 15000, "µmho", 6900, 576, (("2023", 9850), ("2021", 10400), ("2019", 7100))
    )
    sheet = QWidget()
    column = QVBoxLayout(sheet)
    picture = ScalePicture(view)
    column.addWidget(picture)
    shown(sheet, 290, 300)
    assert picture.height() == picture.sizeHint().height()
    assert max(p.level for p in picture.below()) <= 1
