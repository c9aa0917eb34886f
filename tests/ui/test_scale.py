from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from PySide6.QtGui import QColor, QImage
from PySide6.QtWidgets import QApplication, QVBoxLayout, QWidget

from tubeshelf.domain.judging import Limit, Repeatability, Zone
from tubeshelf.domain.palette import Palette, contrast
from tubeshelf.domain.verdict import GUARD, judge_line
from tubeshelf.ui.parts.labels import Placed, Tag, place
from tubeshelf.ui.parts.scale import Earlier, ScalePicture, ScaleView

Show = Callable[..., QWidget]
BQ5 = ScaleView(good_from=7000, reject_below=5600, bogey=11300, unit="µmho", value=6900, guard=576)
WORDS = ScaleView(good_from=3, reject_below=2, words=("bad", "doubtful", "good"), value=2)
BEFORE = (
    Earlier("Nov 2023", 9850, same_tube=True),
    Earlier("Jun 2021", 10400, same_tube=True),
    Earlier("Nov 2023", 7100, same_tube=False),
    Earlier("Jan 2019", 9900, same_tube=False),
)


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


def captions(picture: ScalePicture) -> list[Placed]:
    return [*picture.reading(), *picture.before(), *picture.below(), *picture.legend()]


def grey(picture: ScalePicture) -> QImage:
    """The picture as a monochrome screen or a bad printer shows it."""
    return picture.grab().toImage().convertToFormat(QImage.Format.Format_Grayscale8)


def ink_at(image: QImage, x: float, y: float) -> str:
    return image.pixelColor(round(x), round(y)).name()


@pytest.mark.parametrize("value", [-5.0, 500.0])
def test_a_reading_off_the_scale_is_an_arrow_at_its_end(value: float, shown: Show, palette: Palette) -> None:
    view = ScaleView(60, 55, full_scale=120, value=value, guard=3)
    picture = ScalePicture(view)
    shown(picture, 300)
    assert view.top() == 120
    assert view.off(value) == (-1 if value < 0 else 1)
    (caption,) = picture.reading()
    assert caption.tag.text.endswith(", off the scale")
    assert 0 <= caption.left <= 300 - caption.tag.width
    assert "off the scale" in picture.accessibleName()
    image, middle = picture.grab().toImage(), picture.bar().center().y()
    inside, edge = (6, 0.6) if value < 0 else (293, 298.6)
    assert ink_at(image, inside, middle) == palette.ink.lower()
    assert ink_at(image, edge, middle - 6) != palette.ink.lower()  # it points outwards


def test_a_reading_on_the_scale_is_no_arrow() -> None:
    view = ScaleView(60, 55, full_scale=120)
    assert [view.off(value) for value in (0.0, 60.0, 120.0)] == [0, 0, 0]


def test_zones_differ_in_grey_and_a_line_parts_them(shown: Show, palette: Palette) -> None:
    picture = ScalePicture(replace(BQ5, guard=None, value=None))
    shown(picture, 400)
    image, y = grey(picture), picture.bar().top() + 5
    reject, weak, good = (ink_at(image, picture.place_of(value), y) for value in (2000, 6300, 9000))
    assert contrast(reject, weak) >= 1.15
    assert contrast(weak, good) >= 1.15
    for limit in (5600, 7000):
        line = min((ink_at(image, picture.place_of(limit) + d, y) for d in (-1, 0, 1)), key=_depth(palette))
        assert all(contrast(line, ground) >= 3 for ground in (reject, weak, good))


def _depth(palette: Palette) -> Callable[[str], float]:
    """How near a colour is to ink: dark on a light page, light on a dark one."""
    return lambda colour: contrast(colour, palette.ink)


def test_the_grounds_of_the_zones_differ_in_luminance(palette: Palette) -> None:
    zones = palette.zone_reject, palette.zone_weak, palette.zone_good
    assert all(contrast(worse, better) >= 1.15 for worse, better in pairwise(zones))


def test_the_guard_band_is_hatched_about_each_limit(shown: Show, palette: Palette) -> None:
    picture = ScalePicture(replace(BQ5, value=None, bogey=None, guard=300))
    shown(picture, 400)
    image, bar = picture.grab().toImage(), picture.bar()

    def hatched(value: float) -> bool:
        x = round(picture.place_of(value))
        column = {ink_at(image, x, y) for y in range(round(bar.top()) + 2, round(bar.bottom()) - 2)}
        return palette.again.lower() in column

    assert [hatched(v) for v in (5400, 5800, 6800, 7200)] == [True] * 4
    assert [hatched(v) for v in (4000, 6300, 7450)] == [False] * 3


def test_a_reading_has_a_whisker_as_long_as_its_uncertainty(shown: Show, palette: Palette) -> None:
    picture = ScalePicture(BQ5)
    shown(picture, 400)
    image = picture.grab().toImage()
    y = picture.bar().top() - 5
    reached = [ink_at(image, picture.place_of(6900 + by), y) for by in (-400, 400)]
    beyond = [ink_at(image, picture.place_of(6900 + by), y) for by in (-800, 800)]
    assert set(reached) == {palette.ink.lower()}
    assert palette.ink.lower() not in beyond
    assert "reads 6,900 ± 576" in picture.accessibleName()


def test_a_needle_in_the_hatched_band_is_not_sure(shown: Show) -> None:
    """The picture tells by its hatching what the rule tells by its word."""
    repeatability, limit = Repeatability(relative=0.03), Limit(7000, 5600)
    for x in range(4800, 8200, 37):
        verdict = judge_line([x], limit, repeatability)
        assert verdict.u is not None
        view = replace(BQ5, value=float(x), guard=GUARD * verdict.u)
        within = any(abs(x - edge) <= (view.guard or 0) for edge in view.limits())
        assert within is not verdict.sure


def test_this_tube_is_a_ring_and_another_in_this_place_a_diamond(shown: Show, palette: Palette) -> None:
    shapes = []
    for same_tube in (True, False):
        picture = ScalePicture(
            replace(BQ5, value=None, guard=None, earlier=(Earlier("2023", 9000, same_tube),))
        )
        shown(picture, 400)
        image, bar = grey(picture), picture.bar()
        x, y = round(picture.place_of(9000)), round(bar.center().y())
        box = [[ink_at(image, x + dx, y + dy) for dx in range(-6, 7)] for dy in range(-6, 7)]
        shapes.append(box)
        legend = [p.tag.text for p in picture.legend()]
        assert legend == ["this tube before" if same_tube else "this place, other tubes"]
    assert shapes[0] != shapes[1]


def test_a_remark_above_a_figure_is_on_the_scale(shown: Show) -> None:
    picture = ScalePicture(replace(BQ5, above=16000.0, full_scale=None))
    shown(picture, 400)
    assert picture.view.top() > 16000
    assert "remark above 16,000" in [p.tag.text for p in picture.below()]


def test_on_a_scale_of_words_the_zones_part_between_two_words(shown: Show, palette: Palette) -> None:
    assert WORDS.limits() == (1.5, 2.5)
    picture = ScalePicture(WORDS)
    shown(picture, 300)
    image, y = picture.grab().toImage(), picture.bar().top() + 4
    for at, zone in ((1.0, palette.zone_reject), (1.8, palette.zone_weak), (3.0, palette.zone_good)):
        assert ink_at(image, picture.place_of(at), y) == zone.lower()
    assert [p.tag.text for p in picture.below()] == ["bad", "doubtful", "good"]


def test_where_nothing_is_called_reject_there_is_no_such_zone() -> None:
    assert ScaleView(good_from=60).edges() == ((Zone.WEAK, None, 60), (Zone.GOOD, 60, None))
    assert ScaleView(reject_below=60).edges() == ((Zone.REJECT, None, 60), (Zone.GOOD, 60, None))
    assert ScaleView(60, 60).edges() == ((Zone.REJECT, None, 60), (Zone.GOOD, 60, None))
    assert ScaleView().edges() == ()


figures = st.one_of(st.none(), st.floats(1, 20000))
scales = st.builds(
    ScaleView,
    good_from=figures,
    reject_below=figures,
    bogey=figures,
    above=figures,
    full_scale=figures,
    value=st.one_of(st.none(), st.floats(-100, 40000)),
    guard=st.one_of(st.none(), st.floats(0, 3000)),
    earlier=st.lists(
        st.builds(Earlier, st.just("Nov 2023"), st.floats(0, 20000), st.booleans()), max_size=4
    ).map(tuple),
)


@given(scales, st.integers(160, 500))
@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_no_caption_lies_on_another_or_outside_whatever_is_drawn(
    qapp: QApplication, view: ScaleView, width: int
) -> None:
    picture = ScalePicture(view)
    picture.resize(width, 10)
    picture.resize(width, picture.sizeHint().height())
    for group in (picture.reading(), picture.before(), picture.below(), picture.legend()):
        for n, one in enumerate(group):
            assert one.left >= 0
            assert one.left + one.tag.width <= max(width, one.tag.width) + 0.01
            for other in group[n + 1 :]:
                apart = one.left + one.tag.width <= other.left or other.left + other.tag.width <= one.left
                assert apart or one.level != other.level
    assert not picture.grab().toImage().isNull()


def test_typing_does_not_move_the_bar(shown: Show) -> None:
    picture = ScalePicture(replace(BQ5, full_scale=15000.0, earlier=BEFORE))
    shown(picture, 340)
    before = picture.bar()
    for typed in (None, 6.0, 69.0, 690.0, 6900.0, 9900.0):
        picture.show_view(replace(picture.view, value=typed))
        assert picture.bar() == before


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
    view = replace(BQ5, full_scale=15000.0, earlier=BEFORE)
    sheet = QWidget()
    column = QVBoxLayout(sheet)
    picture = ScalePicture(view)
    column.addWidget(picture)
    shown(sheet, 290, 300)
    assert picture.height() == picture.sizeHint().height()
    assert max(p.level for p in picture.below()) <= 1
