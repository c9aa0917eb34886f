"""The estimate: all that a customer has to know to answer, and room for the answer."""

from dataclasses import replace
from itertools import pairwise

import pytest
from PySide6.QtGui import QImage, QPainter

from tests.paper.conftest import Pages
from tests.paper.samples import ESTIMATE
from tubeshelf.paper.app import ensure_gui, paper_family
from tubeshelf.paper.blocks import Block, Frame
from tubeshelf.paper.canvas import HAIRLINE, Canvas, painting
from tubeshelf.paper.estimate import Signature, estimate_document
from tubeshelf.paper.tables import Cell, Column, Row, Table


def words(text: str) -> str:
    return " ".join(text.split())


@pytest.mark.parametrize("size", ["A4", "Letter"])
def test_it_tells_the_customer_everything(pages: Pages, size: str) -> None:
    texts = pages(estimate_document(ESTIMATE), size)
    assert len(texts) <= 2
    text = words(" ".join(texts))
    for expected in (
        "Estimate",
        "Job 214 · Larkmere A12 practice amplifier, serial 30417",
        "Ødegård & Žižek",
        "14 Mill Lane",
        "Do not power. V5: a 5U4GB takes 3 A",
        "Complaint: Crackles when warm",
        "Wanted: whole set, up to a hundred",
        "Received: 20 Nov 2026, tested on Tester B",
        "6,100, reject, transconductance",
        "replace with 6BQ5",
        "matched with the rest of group A",
        "claimed: NOS",
        "reads 10,200",
        "not priced yet",
        "Your answer",
        "Answered: declined by telephone on 23 Nov 2026.",
        "Labour 60.00",
        "Total 78.50",
        "Not over this without asking: 70.00",
        "The total is 8.50 over what was agreed.",
        "This estimate holds until: 24 Dec 2026",
        "V3 and V4 are a matched group and decided apart.",
        "It cannot predict how long the tube will last.",
        "Possible mercury inside",
        "Follow your local codes",
        "I agree to what is ticked above.",
        "Signature",
        "Date",
    ):
        assert expected in text, expected


def test_only_what_is_asked_has_boxes_for_an_answer(pages: Pages) -> None:
    (page,) = pages(estimate_document(ESTIMATE))
    assert words(page).count("ask me again") == 2


def test_what_the_shop_has_no_term_or_ceiling_for_is_left_to_write_in(pages: Pages) -> None:
    bare = replace(ESTIMATE, valid_until=None, ceiling="", over="", cautions=(), notes=(), warnings=())
    (page,) = pages(estimate_document(bare))
    text = words(page)
    assert "holds until: ____" in text
    assert "without asking: ____" in text
    for title in ("Caution", "Notes", "Approval", "Do not power", "over what was agreed"):
        assert title not in text


def test_a_job_without_sockets_says_so(pages: Pages) -> None:
    (page,) = pages(estimate_document(replace(ESTIMATE, lines=())))
    assert "No tube was tested in this job yet." in page


def test_the_line_to_sign_stays_with_what_is_signed(pages: Pages) -> None:
    for rows in range(4, 40, 3):
        lines = tuple(replace(ESTIMATE.lines[1], position=f"V{i}") for i in range(rows))
        texts = pages(estimate_document(replace(ESTIMATE, lines=lines)))
        (signed,) = [text for text in texts if "I agree to" in text]
        assert "Signature" in signed


class Watched(Canvas):
    """A canvas that remembers its boxes and how far to the right its rules go."""

    def __init__(self, painter: QPainter) -> None:
        super().__init__(painter, 72.0)
        self.boxes: list[tuple[float, float, bool]] = []
        self.ends: list[float] = []

    def tick_box(self, x: float, y: float, size: float, *, ticked: bool) -> None:
        super().tick_box(x, y, size, ticked=ticked)
        self.boxes.append((x, y, ticked))

    def rule(self, x: float, y: float, width: float, line: float = HAIRLINE) -> None:
        super().rule(x, y, width, line)
        self.ends.append(x + width)


def drawn(block: Block) -> Watched:
    """A block, drawn from the left upper corner of a page."""
    paper_family(ensure_gui())
    with painting(QImage(600, 850, QImage.Format.Format_RGB32)) as painter:
        canvas = Watched(painter)
        for piece in block.pieces(Frame(180, 260)):
            piece.draw(canvas, 0.0, 0.0)
    return canvas


@pytest.mark.parametrize("ticked", [None, 1])
def test_a_column_of_boxes_leaves_them_room_and_ticks_the_answer(ticked: int | None) -> None:
    columns = (Column("Found", stretch=1.0), Column("Answer", boxes=True))
    rows = (Row((Cell("6BQ5"), Cell("yes\nno\nlater", ticked=ticked))), Row((Cell("5Y3GT"), Cell())))
    boxes = drawn(Table(columns, rows)).boxes
    assert [box for _, _, box in boxes] == [number == ticked for number in range(3)]
    assert len({x for x, _, _ in boxes}) == 1
    assert all(below - above > 3.0 for (_, above, _), (_, below, _) in pairwise(boxes))


def test_a_signature_is_as_wide_as_the_page() -> None:
    assert drawn(Signature(("Signature", "Date"))).ends[-1] == pytest.approx(180)
