from collections.abc import Callable
from itertools import pairwise
from math import hypot

import pytest
from PySide6.QtCore import QPoint, QPointF
from PySide6.QtWidgets import QWidget

from tests.ui.drivers.bench import Bench
from tubeshelf.domain.palette import Palette
from tubeshelf.domain.types import Basing
from tubeshelf.ui.pages.bench_fit import BasePart
from tubeshelf.ui.parts.base import BasePicture, _clockwise_from_bottom
from tubeshelf.ui.parts.pins import base_view, differing_pins, shape_of

Show = Callable[..., QWidget]

PENTODE = Basing(
    "9CV",
    "noval",
    (
        ("1", ("ic",)),
        ("2", ("1.grid1",)),
        ("3", ("1.cathode", "1.grid3")),
        ("4", ("heater",)),
        ("5", ("heater",)),
        ("6", ("ic",)),
        ("7", ("1.plate",)),
        ("8", ("ic",)),
        ("9", ("1.grid2",)),
    ),
)
TRIODES = Basing(
    "9A",
    "noval",
    (
        ("1", ("2.plate",)),
        ("2", ("2.grid1",)),
        ("3", ("2.cathode",)),
        ("4", ("heater",)),
        ("5", ("heater",)),
        ("6", ("1.plate",)),
        ("7", ("1.grid1",)),
        ("8", ("1.cathode",)),
        ("9", ("heater.tap",)),
    ),
)
CAPPED = Basing("7AC", "octal", (("1", ("nc",)), ("2", ("heater",)), ("cap", ("1.plate",))))


def test_pins_are_said_in_words() -> None:
    assert dict(base_view(PENTODE).pins)["3"] == "cathode, grid 3"
    assert dict(base_view(PENTODE).pins)["1"] == "int. conn."


def test_the_section_is_told_where_there_are_several() -> None:
    words = dict(base_view(TRIODES).pins)
    assert (words["1"], words["6"], words["9"]) == ("plate (2)", "plate (1)", "heater tap")


def test_pins_that_carry_something_else_are_marked() -> None:
    assert base_view(TRIODES, PENTODE).marked == {"1", "2", "3", "6", "7", "8", "9"}
    assert differing_pins(PENTODE, PENTODE) == frozenset()


def test_a_pin_without_connection_equals_no_pin() -> None:
    without = Basing("7AC", "octal", (("2", ("heater",)), ("cap", ("1.plate",))))
    assert differing_pins(CAPPED, without) == frozenset()


def test_a_connection_inside_the_tube_only_is_no_difference_but_a_used_pin_is() -> None:
    inside = Basing("7AC", "octal", (("1", ("ic",)), ("2", ("heater",)), ("cap", ("1.plate",))))
    used = Basing("7AC", "octal", (("1", ("1.grid1",)), ("2", ("heater",)), ("cap", ("1.plate",))))
    assert differing_pins(CAPPED, inside) == frozenset()
    assert differing_pins(inside, used) == {"1"}


@pytest.mark.parametrize("width", [349, 439, 520, 900])
def test_two_bases_stand_beside_each_other_where_no_word_is_cut(
    bench: Bench, shown: Show, width: int
) -> None:
    book, part = bench.shop.book, BasePart()
    wired, other = book.type(book.id_of("12AX7")), book.type(book.id_of("6BQ5"))
    part.show_bases(bench.socket("V1"), wired, other)
    shown(part, width)
    one, two = sorted(part.findChildren(BasePicture), key=lambda picture: picture.view.spoken())
    corners = [picture.mapTo(part, QPoint(0, 0)) for picture in (one, two)]
    assert (corners[0].x() != corners[1].x()) is (width >= 520)
    assert all(picture.width() >= picture.whole_width for picture in (one, two))
    assert one.view.marked == two.view.marked == {"1", "2", "3", "6", "7", "8", "9"}
    part.show_bases(bench.socket("V1"), wired, wired)
    assert [picture.isVisible() for picture in (one, two)].count(True) == 1
    assert not any(picture.view.marked for picture in (one, two) if picture.isVisible())


@pytest.mark.parametrize(
    ("base", "pins"),
    [
        ("octal", 8),
        ("lock-in", 8),
        ("rimlock", 8),
        ("noval", 9),
        ("novar", 9),
        ("magnoval", 9),
        ("7-pin miniature", 7),
        ("compactron", 12),
        ("4-pin", 4),
        ("5-pin", 5),
        ("6-pin", 6),
        ("small 7-pin", 7),
        ("medium 7-pin", 7),
        ("side-contact", 8),
    ],
)
def test_pins_count_clockwise_from_the_key_or_gap_at_the_bottom(base: str, pins: int) -> None:
    angles = shape_of(base, pins).angles
    assert len(angles) == pins
    assert all(0 < a < b < 360 for a, b in pairwise(angles))
    assert angles[0] == pytest.approx(360 - angles[-1]), "pin 1 and the last stand alike about the mark"


def test_seen_from_below_pin_1_of_a_noval_is_at_the_lower_left_and_5_on_top() -> None:
    centre = QPointF(0, 0)
    angles = shape_of("noval", 9).angles
    one, five, nine = (_clockwise_from_bottom(centre, 10, angles[n - 1]) for n in (1, 5, 9))
    assert one.x() < 0 < one.y()
    assert five.y() == pytest.approx(-10)
    assert nine.x() > 0 < nine.y()
    assert hypot(one.x(), one.y()) == pytest.approx(10)


@pytest.mark.parametrize(
    "base", ["octal", "noval", "lock-in", "rimlock", "4-pin", "compactron", "never heard of"]
)
def test_every_base_can_be_drawn(shown: Show, palette: Palette, base: str) -> None:
    count = 12 if base == "compactron" else 8
    pins = (*((str(n), ("1.plate",)) for n in range(1, count + 1)), ("cap", ("1.grid1",)))
    picture = BasePicture(base_view(Basing("x", base, pins), PENTODE))
    shown(picture, 380)
    image = picture.grab().toImage()
    inside = ((x, y) for x in range(0, 128, 2) for y in range(0, image.height(), 2))
    colours = {image.pixelColor(x, y).name().upper() for x, y in inside}
    assert palette.reject in colours
    assert picture.accessibleName().startswith(f"{base} base from below: 1 plate;")


def test_a_wide_sheet_lists_pins_in_two_columns_and_is_lower(shown: Show) -> None:
    narrow, wide = BasePicture(base_view(PENTODE)), BasePicture(base_view(PENTODE))
    shown(narrow, 230)
    shown(wide, 420)
    assert wide.sizeHint().height() < narrow.sizeHint().height()


@pytest.mark.parametrize("base", ["british 4-pin", "british 5-pin", "european 4-pin", "european 5-pin"])
def test_the_british_and_continental_cross_sets_the_plate_pin_apart(base: str) -> None:
    """Plate and grid face each other, the filament lies across, the cathode of five stands in the middle."""
    shape = shape_of(base, int(base[-5]))
    plate, grid, left, right, *cathode = shape.places(5)
    assert abs(plate[0] - grid[0]) == abs(left[0] - right[0]) == 180
    assert plate[1] > max(grid[1], left[1], right[1]) > 0
    assert [reach for _, reach in cathode] == [0.0] * (base[-5] == "5")


@pytest.mark.parametrize(
    ("base", "schematic"),
    [("noval", False), ("4-pin", False), ("european 4-pin", True), ("british 7-pin", True), ("other", True)],
)
def test_a_drawing_without_true_distances_says_so(shown: Show, base: str, schematic: bool) -> None:
    pins = tuple((str(n), ("1.plate",)) for n in range(1, 5))
    view = base_view(Basing("x", base, pins))
    assert view.shape.schematic is schematic
    assert view.spoken().endswith("; schematic") is schematic
    picture = BasePicture(view)
    shown(picture, 300)
    assert (picture.sizeHint().height() == 128 + 20) is schematic
    under = picture.grab().toImage().copy(20, 130, 88, 16) if schematic else None
    assert under is None or len({under.pixelColor(x, y).name() for x in range(88) for y in range(16)}) > 2
