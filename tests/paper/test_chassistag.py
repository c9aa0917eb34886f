"""The chassis tag: everything of a set with empty sockets on a card of A6 size, on either sheet."""

from dataclasses import replace
from datetime import date

import pytest
from PySide6.QtGui import QImage

from tests.paper.conftest import Pages
from tests.paper.samples import HEAD
from tubeshelf.paper.chassistag import HEIGHT, WIDTH, chassis_tag_document
from tubeshelf.paper.output import PAGE_SIZES, preview_images
from tubeshelf.paper.pager import MARGIN
from tubeshelf.services.views.aside import ChassisTag, TagLine

BAG = "its tube is in the job's bag"
TAG = ChassisTag(
    head=HEAD,
    number=214,
    title="Larkmere A12 practice amplifier",
    customer="Ødegård & Žižek",
    serial="30417",
    promised_on=date(2026, 12, 2),
    lines=(
        TagLine("V3", "output", "6BQ5", BAG, "reject, transconductance; 6BQ5 to order"),
        TagLine("V4", "output", "6BQ5", "found empty", "6BQ5 to order"),
    ),
    why="no pair on hand",
    warnings=("V5: a 5U4GB takes 3 A from a winding made for 2 A.",),
)
DPI = 110


def words(text: str) -> str:
    return " ".join(text.split())


def ink_outside(image: QImage) -> int:
    """How many dark points there are at the right of the card and in the strip below its line."""
    scale = DPI / 25.4
    right = round((MARGIN + WIDTH) * scale) + 3
    bottom = round((MARGIN + HEIGHT) * scale) + 3
    beside = ((x, y) for x in range(right, image.width()) for y in range(bottom))
    below = ((x, y) for x in range(image.width()) for y in range(bottom, bottom + 5))
    return sum(image.pixelColor(x, y).lightness() < 128 for at in (beside, below) for x, y in at)


def many(count: int) -> ChassisTag:
    line = TagLine(
        "V1", "intermediate frequency", "6SK7GT", BAG, "reject, 1,100 µmho of good from 1,400; to order"
    )
    lines = tuple(replace(line, position=f"V{n}") for n in range(1, count + 1))
    return replace(TAG, lines=lines, title="Larkmere " * 20, why="because " * 40)


@pytest.mark.parametrize("size", PAGE_SIZES)
def test_the_tag_says_what_hangs_on_the_chassis(pages: Pages, size: str) -> None:
    (page,) = pages(chassis_tag_document(TAG), size)
    text = words(page)
    for expected in (
        "DO NOT POWER",
        "Job 214",
        "Larkmere A12 practice amplifier, serial 30417",
        "Ødegård & Žižek · promised for 2 Dec 2026",
        "V3 empty: output, 6BQ5 belongs here; its tube is in the job's bag; reject, transconductance;",
        "V4 empty: output, 6BQ5 belongs here; found empty; 6BQ5 to order.",
        "Put aside: no pair on hand.",
        "Also: V5: a 5U4GB takes 3 A from a winding made for 2 A.",
        "Follow your local codes",
        "Quillfen Valve Workshop · bench 1 · 24 Nov 2026",
    ):
        assert expected in text


@pytest.mark.parametrize("count", [1, 4, 9, 40])
def test_all_positions_are_on_the_card_however_many(pages: Pages, count: int) -> None:
    (page,) = pages(chassis_tag_document(many(count)))
    said = words(page).replace(":", " ").replace(",", " ").split()
    assert [f"V{n}" for n in range(1, count + 1) if f"V{n}" not in said] == []


@pytest.mark.parametrize("size", PAGE_SIZES)
@pytest.mark.parametrize("tag", [TAG, many(9), many(40)], ids=["usual", "nine", "forty"])
def test_nothing_is_drawn_over_the_cut_line(tag: ChassisTag, size: str) -> None:
    (image,) = preview_images(chassis_tag_document(tag), size, DPI)
    assert ink_outside(image) == 0


def test_a_tag_without_a_reason_or_harm_has_no_empty_words(pages: Pages) -> None:
    (page,) = pages(chassis_tag_document(replace(TAG, why="", warnings=(), serial="", promised_on=None)))
    assert "Put aside" not in page
    assert "Also" not in page
    assert "serial" not in page
