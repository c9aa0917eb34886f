"""Papers and pictures of a job, from the record to their own windows; pages get them as ``Papers``."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QWidget

if TYPE_CHECKING:
    from tubeshelf.charts.values import ChartLine
    from tubeshelf.paper.pager import Document
    from tubeshelf.services.shop import Shop
    from tubeshelf.services.views.bench import JobView, LineView, SocketView


@dataclass(frozen=True, slots=True)
class Papers:
    """What a page can put on paper or show as a picture. Each raises UserError where it cannot."""

    retube: Callable[[int], QWidget]
    estimate: Callable[[int], QWidget]
    statement: Callable[[int], QWidget]
    orders: Callable[[], QWidget]
    picture: Callable[[int], QWidget]
    tag: Callable[[int], QWidget]


def papers_for(window: QWidget, shop: Shop) -> Papers:
    """The papers of a shop, shown beside a window. Paper and matplotlib are imported with the first."""
    return Papers(
        retube=lambda job_id: show_retube(window, shop, job_id),
        estimate=lambda job_id: show_estimate(window, shop, job_id),
        statement=lambda job_id: show_statement(window, shop, job_id),
        orders=lambda: show_orders(window, shop),
        picture=lambda job_id: show_job_picture(window, shop, job_id),
        tag=lambda job_id: show_tag(window, shop, job_id),
    )


def show_retube(window: QWidget, shop: Shop, job_id: int) -> QWidget:
    """Show the bench's paper of a job; the side from which its chassis is seen can be chosen there."""
    from tubeshelf.paper.retube import retube_document
    from tubeshelf.paper.socketmap import Side
    from tubeshelf.services.papers import retube_list

    retube = retube_list(shop, job_id=job_id)
    words = {Side.ABOVE: "map from above", Side.BELOW: "map from below", Side.BOTH: "both maps"}
    documents = [(words[side], retube_document(retube, side)) for side in Side] if retube.places else []
    return _preview(window, retube_document(retube), f"retube-{retube.number}", documents)


def show_estimate(window: QWidget, shop: Shop, job_id: int) -> QWidget:
    """Show what the customer is asked to agree to."""
    from tubeshelf.paper.estimate import estimate_document
    from tubeshelf.services.estimates import estimate_paper

    paper = estimate_paper(shop, job_id=job_id)
    return _preview(window, estimate_document(paper), f"estimate-{paper.number}")


def show_statement(window: QWidget, shop: Shop, job_id: int) -> QWidget:
    """Show the customer's paper of a job."""
    from tubeshelf.paper.statement import statement_document
    from tubeshelf.services.papers import statement

    paper = statement(shop, job_id=job_id)
    return _preview(window, statement_document(paper), f"statement-{paper.number}")


def show_tag(window: QWidget, shop: Shop, job_id: int) -> QWidget:
    """Show what hangs on a set that is put aside with sockets empty."""
    from tubeshelf.paper.chassistag import chassis_tag_document
    from tubeshelf.services.aside import chassis_tag

    tag = chassis_tag(shop, job_id=job_id)
    return _preview(window, chassis_tag_document(tag), f"tag-{tag.number}")


def show_orders(window: QWidget, shop: Shop) -> QWidget:
    """Show what all open jobs together still need."""
    from tubeshelf.paper.orders import order_document
    from tubeshelf.services.papers import order_paper

    return _preview(window, order_document(order_paper(shop)), f"orders-{shop.today.isoformat()}")


def show_job_picture(window: QWidget, shop: Shop, job_id: int) -> QWidget:
    """Show the readings of a job against their limits, as found and as left."""
    from tubeshelf.charts.figures import job_figure
    from tubeshelf.services.jobs import open_job
    from tubeshelf.ui.parts.picture import PictureWindow

    job = open_job(shop, job_id=job_id)
    lines = chart_lines(job)
    shown = PictureWindow(
        f"Readings of job {job.number}",
        f"readings-{job.number}",
        lambda palette: job_figure(lines, palette),
        window,
    )
    shown.show()
    shown.activateWindow()
    return shown


def chart_lines(job: JobView) -> tuple[ChartLine, ...]:
    """One row for each line that was read, found and left together; a socket not read has one row."""
    return tuple(row for socket in job.sockets for row in _rows(socket))


def _rows(socket: SocketView) -> list[ChartLine]:
    found = {_key(line): line for line in (*socket.lines, *socket.other_lines)}
    left = {_key(line): line for line in socket.as_left}
    keys = dict.fromkeys((*found, *left))
    rows = [_row(socket, found.get(key), left.get(key)) for key in keys]
    read = [row for row in rows if row.value_as_found is not None or row.value_as_left is not None]
    return read or [_row(socket, None, None)]


def _row(socket: SocketView, found: LineView | None, left: LineView | None) -> ChartLine:
    from tubeshelf.charts.values import ChartLine

    sides = [line for line in (left, found) if line is not None]
    line = sides[-1] if sides else None
    limits = [side.verdict.limit for side in sides if side.verdict is not None]
    return ChartLine(
        label=f"{socket.position} {socket.found.designation or socket.intended}",
        sub=", ".join(part for part in (socket.role, "" if line is None else line.label) if part),
        value_as_found=_value(found),
        value_as_left=_value(left),
        limit=limits[0] if limits else None,
        unit="" if line is None else line.tester.scale.unit,
        words=() if line is None else line.tester.scale.words,
    )


def _key(line: LineView) -> tuple[int, int | None, str]:
    return line.tester.id, line.line_id, line.section


def _value(line: LineView | None) -> float | None:
    return None if line is None or line.verdict is None else line.verdict.mean


def _preview(
    window: QWidget, document: Document, name: str, variants: Sequence[tuple[str, Document]] = ()
) -> QWidget:
    from tubeshelf.ui.parts.preview import Preview

    shown = Preview(document, name, window, variants=variants)
    shown.show()
    shown.activateWindow()
    return shown
