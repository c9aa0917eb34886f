"""The map of the retube list as text and as a picture: where the sockets are, from above and from below."""

from dataclasses import replace

import pytest
from PySide6.QtGui import QColor, QImage

from tests.paper.conftest import Pages
from tests.paper.samples import RETUBE
from tubeshelf.domain.chassis import Seat
from tubeshelf.paper.app import ensure_gui, paper_family
from tubeshelf.paper.blocks import Frame
from tubeshelf.paper.canvas import Canvas, painting
from tubeshelf.paper.retube import retube_document
from tubeshelf.paper.socketmap import Fill, Place, Side, SocketMap, maps
from tubeshelf.services.views.papers import MapPlace

FRAME = Frame(90.0, 200.0)
DOTS = 10
"""Dots a millimetre in the pictures."""

CORNER = Place("V1", ("good", "keep"), Fill.FILLED, Seat(0.2, 0.2))
OTHER = Place("V2", ("weak",), Fill.OUTLINE, Seat(0.6, 0.2))


@pytest.fixture(autouse=True)
def _font(_app: None) -> None:
    paper_family(ensure_gui())


def words(text: str) -> str:
    return " ".join(text.split())


def drawn(chassis: SocketMap) -> QImage:
    """The map on paper, ten dots a millimetre."""
    (piece,) = chassis.pieces(FRAME)
    image = QImage(round(FRAME.width * DOTS), round(piece.height * DOTS), QImage.Format.Format_Grayscale8)
    image.fill(QColor("white"))
    with painting(image) as painter:
        piece.draw(Canvas(painter, 25.4 * DOTS), 0.0, 0.0)
    return image


def ink(image: QImage, x: float, y: float, side: float = 6.0) -> float:
    """How much of a square around a point is black; x, y and side in mm."""
    left, top, dots = round((x - side / 2) * DOTS), round((y - side / 2) * DOTS), round(side * DOTS)
    black = sum(
        QColor(image.pixel(a, b)).lightness() < 128
        for a in range(left, left + dots)
        for b in range(top, top + dots)
    )
    return black / dots**2


def across(image: QImage) -> float:
    """Where most ink is from left to right within the rows of the sockets, as a share of the width."""
    shares = [ink(image, x, 20.0, side=8.0) for x in range(8, 83)]
    return (8 + shares.index(max(shares))) / FRAME.width


def test_a_socket_is_where_it_was_placed_and_mirrored_from_below() -> None:
    places = (replace(CORNER, seat=Seat(0.2, 0.5)), replace(OTHER, seat=Seat(0.6, 0.5)))
    assert across(drawn(SocketMap(places))) == pytest.approx(0.2, abs=0.03)
    assert across(drawn(SocketMap(places, below=True))) == pytest.approx(0.8, abs=0.03)


def test_what_is_replaced_is_filled_and_what_stays_is_an_outline() -> None:
    filled = drawn(SocketMap((replace(CORNER, position="", words=()),)))
    outline = drawn(SocketMap((replace(CORNER, position="", words=(), fill=Fill.OUTLINE),)))
    x, y = 0.2 * 90, 10.0 + 0.2 * 20 - 8
    assert max(ink(filled, x, y + dy) for dy in range(12)) > 0.9
    assert max(ink(outline, x, y + dy) for dy in range(12)) < 0.3


def test_dashes_differ_from_an_outline_in_black_and_white() -> None:
    bare = replace(CORNER, position="", words=())
    whole = drawn(SocketMap((replace(bare, fill=Fill.OUTLINE),)))
    dashed = drawn(SocketMap((replace(bare, fill=Fill.DASHED),)))
    counted = [
        sum(QColor(image.pixel(x, y)).lightness() < 128 for x in range(100, 260) for y in range(10, 380))
        for image in (whole, dashed)
    ]
    assert counted[1] < 0.8 * counted[0]


@pytest.mark.parametrize("seat", [Seat(0, 0), Seat(1, 1), Seat(0, 1), Seat(1, 0)])
def test_nothing_is_cut_at_the_edge(seat: Seat) -> None:
    (piece,) = SocketMap((replace(CORNER, seat=seat),)).pieces(FRAME)
    pad = 20
    image = QImage(
        round(FRAME.width * DOTS) + 2 * pad, round(piece.height * DOTS) + 2 * pad, QImage.Format.Format_RGB32
    )
    image.fill(QColor("white"))
    with painting(image) as painter:
        piece.draw(Canvas(painter, 25.4 * DOTS), pad / DOTS, pad / DOTS)
    rim = [(x, y) for x in range(image.width()) for y in range(pad - 4)]
    rim += [(x, y) for x in range(pad - 4) for y in range(image.height())]
    rim += [(image.width() - 1 - x, y) for x in range(pad - 4) for y in range(image.height())]
    assert all(QColor(image.pixel(x, y)).lightness() > 200 for x, y in rim)


def test_both_sides_are_two_maps() -> None:
    assert [m.below for m in maps((CORNER,), Side.BOTH)] == [False, True]
    assert [m.below for m in maps((CORNER,), Side.BELOW)] == [True]


def test_verdict_fit_and_action_stand_in_words(pages: Pages) -> None:
    (page,) = pages(retube_document(RETUBE))
    text = words(page)
    assert "good wrong type replace" in text  # V2
    assert "short replace" in text  # V4
    assert "weak declined" in text  # V6
    assert "read again undecided" in text  # V7
    assert "front · from above" in text
    assert "from below" not in text
    assert "proposed" not in text
    assert "Check 6.3 V: check the lamps, 0.3 A in all" in text


def test_both_sides_are_asked_for(pages: Pages) -> None:
    text = words(" ".join(pages(retube_document(RETUBE, Side.BOTH))))
    assert "front · from above" in text
    assert "front · from below, left and right exchanged" in text
    assert text.count("wrong type replace") == 2


def test_proposed_places_are_marked(pages: Pages) -> None:
    proposed = tuple(replace(place, saved=False) for place in RETUBE.places)
    (page,) = pages(retube_document(replace(RETUBE, places=proposed)))
    assert "places proposed, not saved yet" in words(page)
    (page,) = pages(retube_document(replace(RETUBE, places=(*RETUBE.places[1:], proposed[0]))))
    assert "places proposed for V1, not saved yet" in words(page)


def test_a_big_set_has_the_width_of_the_page_for_its_map(pages: Pages) -> None:
    many = tuple(MapPlace(f"V{n}", Seat(n % 7 / 7 + 0.05, n / 25), "good") for n in range(1, 23))
    texts = pages(retube_document(replace(RETUBE, places=many)))
    text = words(" ".join(texts))
    assert all(place.position in text for place in many)


def test_loose_tubes_have_no_map_and_nothing_is_put_in(pages: Pages) -> None:
    loose = replace(RETUBE, loose=True, places=(), to_order=(), checks=())
    (page,) = pages(retube_document(loose))
    text = words(page)
    assert "Set apart" in text
    assert "front" not in text
    assert "Put in" not in text
    assert "If replaced" not in text
    assert "As left" not in text
