"""The order list: how many of which type to buy, for all open jobs together."""

from tubeshelf.domain.dates import format_date
from tubeshelf.paper.blocks import Block, Head, Paragraph
from tubeshelf.paper.pager import Document
from tubeshelf.paper.phrases import shop
from tubeshelf.paper.tables import Cell, Column, Row, Table
from tubeshelf.services.views.papers import OrderPaper
from tubeshelf.services.views.shelf import OrderLine

_COLUMNS = (
    Column("Type"),
    Column("Quantity", right=True),
    Column("Would do as well", stretch=1.0),
    Column("Match"),
    Column("For jobs"),
    Column("Needed by"),
    Column("Why", stretch=1.0),
)


def order_document(order: OrderPaper) -> Document:
    """The supplier's paper, merged over all open jobs."""
    head = Head("Order list", ("For all open jobs together",), shop(order.head, address=True))
    return Document(
        title=f"Order list, {format_date(order.head.on)}",
        running=f"Order list · {format_date(order.head.on)}",
        blocks=(head, *_body(order)),
    )


def _body(order: OrderPaper) -> tuple[Block, ...]:
    if not order.lines:
        return (Paragraph("Nothing has to be ordered: the shelf serves every open job.", gap=6.0),)
    return (
        Table(_COLUMNS, tuple(map(_row, order.lines)), gap=6.0),
        Paragraph(_total(order.lines), gap=3.0),
    )


def _row(line: OrderLine) -> Row:
    return Row(
        (
            Cell(lead=line.designation),
            Cell(str(line.quantity)),
            Cell(", ".join(line.substitutes) or "–"),
            Cell(line.match or "–"),
            Cell(", ".join(map(str, line.jobs)) or "–"),
            Cell(format_date(line.needed_by) if line.needed_by is not None else "–"),
            Cell(line.reason),
        )
    )


def _total(lines: tuple[OrderLine, ...]) -> str:
    tubes = sum(line.quantity for line in lines)
    types = len({line.type_id for line in lines})
    return f"{tubes} {'tube' if tubes == 1 else 'tubes'} of {types} {'type' if types == 1 else 'types'}."
