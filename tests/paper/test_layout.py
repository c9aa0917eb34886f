import pytest

from tubeshelf.domain.chassis import propose
from tubeshelf.paper.app import ensure_gui, paper_family
from tubeshelf.paper.blocks import Beside, Box, Frame, Paragraph, heading, pieces_of
from tubeshelf.paper.pager import Document, Pager, Sheet
from tubeshelf.paper.socketmap import Fill, Place, SocketMap
from tubeshelf.paper.tables import Cell, Column, Row, Table, column_widths
from tubeshelf.paper.text import BODY, Flow, width_of

FRAME = Frame(180.0, 250.0)


@pytest.fixture(autouse=True)
def _font(_app: None) -> None:
    paper_family(ensure_gui())


def places(count: int) -> tuple[Place, ...]:
    seats = propose([""] * count)
    return tuple(Place(f"V{i + 1}", ("good", "keep"), Fill.OUTLINE, seat) for i, seat in enumerate(seats))


def test_nine_point_text_is_about_as_wide_as_a_ruler_says() -> None:
    # DejaVu Sans figures are 0.636 em wide (its advance width, 1303 of 2048 units); 9 pt is 3.175 mm.
    assert width_of("0" * 10, BODY) == pytest.approx(10 * 0.636 * 3.175, rel=0.01)


def test_lines_stay_within_their_width() -> None:
    text = "a plate current of 38 mA at 250 V"
    flow = Flow(text, 30.0)
    assert flow.lines >= width_of(text, BODY) / 30.0


def test_columns_fill_the_width_exactly_whatever_is_in_them() -> None:
    columns = (Column("Socket"), Column("Why", stretch=1.0), Column("As left", least=24.0))
    for why in ("", "weak", "a long reason " * 20, "X" * 500):
        rows = (Row((Cell("V1"), Cell(why), Cell())),)
        widths = column_widths(columns, rows, 180.0)
        assert sum(widths) + 2 * 3.2 == pytest.approx(180.0)
        assert widths[2] >= 24.0
        assert widths[0] >= width_of("V1", BODY)


def test_short_columns_stay_on_one_line_beside_a_long_reason() -> None:
    columns = (Column("Take out"), Column("Why", stretch=1.0), Column("Needed by"))
    rows = (Row((Cell("12AX7"), Cell("a long reason " * 40), Cell("24 Nov 2026"))),)
    widths = column_widths(columns, rows, 180.0)
    assert widths[2] >= width_of("24 Nov 2026", BODY)


def test_no_piece_is_higher_than_the_page() -> None:
    table = Table((Column("Why"),), (Row((Cell("word " * 9000),), note="note " * 9000),))
    blocks = (Box("Do not power.", "harm " * 9000), table, SocketMap(places(900)), Paragraph("text " * 900))
    for piece in pieces_of(blocks, FRAME):
        heading_height = piece.heading.height if piece.heading is not None else 0.0
        assert piece.height + heading_height <= FRAME.height


def test_columns_too_high_for_a_page_go_below_each_other() -> None:
    lists = tuple(Paragraph(f"line {i}") for i in range(120))
    assert len(Beside((SocketMap(places(5)),), lists).pieces(FRAME)) == 121
    assert len(Beside((SocketMap(places(5)),), lists[:20]).pieces(FRAME)) == 1


def test_a_heading_stays_with_its_text() -> None:
    for lines in range(30, 70):
        blocks = (*(Paragraph("x") for _ in range(lines)), heading("Warranty"), Paragraph("Six months"))
        pager = Pager(Document("t", "t", blocks), Sheet(210, 297))
        sizes = [len(page.placed) for page in pager._pages]
        assert sum(sizes) == lines + 2
        assert sizes[-1] >= 2


@pytest.mark.parametrize("count", [1, 5, 12, 60, 900])
def test_a_map_is_one_piece_and_no_higher_than_the_page(count: int) -> None:
    for width in (86.0, 180.0):
        (piece,) = SocketMap(places(count), proposed="places proposed").pieces(Frame(width, 250.0))
        assert piece.height <= 250.0


def test_a_long_reason_is_not_squeezed_into_what_roles_leave_over() -> None:
    columns = (Column("Socket"), Column("Why", stretch=1.0), Column("Reads"), Column("As left", least=21.0))
    role = Cell("vertical oscillator and output stage", lead="V4")
    rows = (Row((role, Cell("a long reason " * 12), Cell("1,480 · 1,390 · 1,210"), Cell())),)
    assert column_widths(columns, rows, 120.0)[1] >= 0.25 * 120.0
