"""The estimate of a job for its customer, gathered from the record."""

from __future__ import annotations

from collections.abc import Callable
from datetime import timedelta
from typing import TYPE_CHECKING

from tubeshelf.domain.cautions import cautions
from tubeshelf.domain.jobs import Action
from tubeshelf.domain.money import format_money
from tubeshelf.services.decision import (
    DecisionLine,
    answer_text,
    decided_apart,
    decision_lines,
    proposal_text,
)
from tubeshelf.services.intake import contact_of
from tubeshelf.services.jobs import open_job
from tubeshelf.services.papers import (
    approval_text,
    empty_notes,
    paper_head,
    read_lines,
    reads_text,
    testers_of,
    unpriced_note,
    warnings_of,
)
from tubeshelf.services.views.bench import JobView, SocketView
from tubeshelf.services.views.estimate import EstimateLine, EstimatePaper

if TYPE_CHECKING:
    from tubeshelf.services.shop import Shop


def estimate_paper(shop: Shop, *, job_id: int) -> EstimatePaper:
    """What the customer is asked to agree to: socket by socket, the total, up to how much and until when."""
    job = open_job(shop, job_id=job_id)
    settings, sums = shop.settings, job.estimate
    lines = decision_lines(job)
    days = settings.estimate_days
    ceiling = None if sums.approval is None else sums.approval.ceiling

    def money(minor: int) -> str:
        return format_money(minor, settings.currency)

    return EstimatePaper(
        head=paper_head(shop),
        number=job.number,
        title=job.title,
        customer=job.customer,
        contact=contact_of(shop, customer_id=job.customer_id),
        serial=job.serial,
        complaint=job.complaint,
        scope=job.scope,
        received_on=job.received_on,
        tester=testers_of(job),
        warnings=warnings_of(job),
        lines=tuple(_line(socket, line, money) for socket, line in zip(job.sockets, lines, strict=True)),
        tubes=money(sums.tubes),
        labour=money(sums.labour),
        total=money(sums.total),
        ceiling="" if ceiling is None else money(ceiling),
        over=money(sums.over) if sums.over else "",
        valid_until=None if days is None else shop.today + timedelta(days=days),
        approval=approval_text(sums.approval, settings.currency),
        notes=(*unpriced_note(sums.unpriced), *decided_apart(lines), *job.swaps, *empty_notes(job)),
        cautions=tuple(_cautions(shop, job)),
    )


def _line(socket: SocketView, line: DecisionLine, money: Callable[[int], str]) -> EstimateLine:
    tube = line.tube if line.charged else None
    price = "not priced yet" if line.price is None else money(line.price)
    if_replaced = line.action is Action.UNDECIDED and line.tube is not None and not line.charged
    return EstimateLine(
        position=line.position,
        role=line.role,
        found=line.found,
        reading=reads_text(read_lines(socket)),
        verdict=line.verdict,
        proposed=f"{proposal_text(line)}, {price}" if if_replaced else proposal_text(line),
        claimed="" if tube is None else tube.condition,
        reads="" if tube is None else tube.reads,
        why="" if line.action is Action.KEEP else line.why,
        price=price if line.charged else "",
        asked=line.asked and not line.fitted,
        answer=line.answer,
        answered=answer_text(line),
    )


def _cautions(shop: Shop, job: JobView) -> list[str]:
    """What to mind with the types that are in the set, or go in."""
    ids = [type_id for s in job.sockets for type_id in (s.intended_type_id, s.found.type_id)]
    return cautions(*(shop.book.type(type_id) for type_id in dict.fromkeys(ids) if type_id is not None))
