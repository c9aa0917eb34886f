"""What goes on paper, gathered from the record: the retube list, the order list, the statement."""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING

from tubeshelf.domain.dates import format_date
from tubeshelf.domain.jobs import Action, Answer, Disposition, FoundState
from tubeshelf.domain.judging import NOT_READ
from tubeshelf.domain.money import format_money
from tubeshelf.services.chassis import map_words, seats_of
from tubeshelf.services.cover import cover_of, cover_text, promised_with
from tubeshelf.services.decide import gets_tube, price_of
from tubeshelf.services.dissipated import paper_rows
from tubeshelf.services.heaters import lamp_checks
from tubeshelf.services.intake import contact_of
from tubeshelf.services.jobs import open_job
from tubeshelf.services.jobstate import looked_at, not_on_hand, takes_tubes
from tubeshelf.services.orders import order_list
from tubeshelf.services.set_values import measured_in
from tubeshelf.services.spare_verdict import mean_text
from tubeshelf.services.unused import unused_text
from tubeshelf.services.views.bench import ApprovalView, JobView, LineView, SocketView
from tubeshelf.services.views.papers import (
    KeepLine,
    MapPlace,
    OrderPaper,
    PaperHead,
    RetubeLine,
    RetubeList,
    Statement,
    StatementLine,
)

if TYPE_CHECKING:
    from tubeshelf.services.shop import Shop


def paper_head(shop: Shop) -> PaperHead:
    """Whose paper it is, from which day and bench."""
    settings = shop.settings
    return PaperHead(settings.name, settings.address, shop.today, shop.record.bench)


def retube_list(shop: Shop, *, job_id: int) -> RetubeList:
    """The bench's paper of a job: what comes out and why, which tag from which bin goes in, what stays.

    Into a box of loose tubes nothing goes: its tubes are told with their readings, and none is to order.
    """
    job = open_job(shop, job_id=job_id)
    closed, loose = not job.status.is_open, job.equipment_id is None
    missing = [] if closed or loose else [s for s in job.sockets if not_on_hand(s)]
    told = partial(_loose_line if loose else _retube_line, closed=closed)
    left = [s for s in job.sockets if s.fitted is None]
    due = "" if job.promised_on is None else f", by {format_date(job.promised_on)}"
    return RetubeList(
        head=paper_head(shop),
        number=job.number,
        title=job.title,
        customer=job.customer,
        serial=job.serial,
        stage=str(job.stage),
        tester=testers_of(job),
        promised_on=job.promised_on,
        warnings=warnings_of(job),
        replace=tuple(told(s) for s in job.sockets if s.action is Action.REPLACE or s.fitted is not None),
        undecided=tuple(told(s) for s in left if s.action is Action.UNDECIDED),
        keep=tuple(_keep_line(s) for s in left if s.action is Action.KEEP),
        to_order=tuple(
            f"{sum(s.intended == name for s in missing)} × {name} (for this job{due})"
            for name in dict.fromkeys(s.intended for s in missing)
        ),
        notes=(*job.swaps, *empty_notes(job), *unused_notes(job)),
        loose=loose,
        places=_map_places(shop, job),
        checks=lamp_checks(shop, job=job),
    )


def _map_places(shop: Shop, job: JobView) -> tuple[MapPlace, ...]:
    """Where the sockets are and how each stands, in test order; nothing for loose tubes."""
    seats = seats_of(shop, job)
    placed = [(socket, seats[socket.position]) for socket in job.sockets if socket.position in seats]
    return tuple(
        MapPlace(s.position, at.seat, *map_words(shop, s, job.stage), saved=at.saved) for s, at in placed
    )


def testers_of(job: JobView) -> str:
    """The testers that the job was read on, in order."""
    lines = [line for s in job.sockets for line in (*s.lines, *s.other_lines) if line.verdict is not None]
    return ", ".join(dict.fromkeys(line.tester.name for line in lines))


def warnings_of(job: JobView) -> tuple[str, ...]:
    """Why nobody must power the set, a sentence a danger."""
    return tuple(f"{position}: {why}." for position, why in job.harm)


def empty_notes(job: JobView) -> tuple[str, ...]:
    """Which sockets stay empty on purpose."""
    empty = [s.position for s in job.sockets if s.disposition is Disposition.EMPTY_ON_PURPOSE]
    return (f"Left empty on purpose: {', '.join(empty)}.",) if empty else ()


def unused_notes(job: JobView) -> tuple[str, ...]:
    """Which sections the set does not use, so that nobody waits for their readings."""
    return tuple(f"{s.position}: {unused_text(s.unused)}." for s in job.sockets if s.unused)


def found_text(socket: SocketView) -> str:
    """What was found, as it was marked, with what it is believed to be where that differs."""
    found = socket.found
    if found.state is FoundState.UNREADABLE and found.designation:
        return f"unreadable (believed {found.designation})"
    if found.state is not FoundState.TYPE:
        return str(found.state)
    if found.designation and found.reason and found.designation.casefold() != found.marked.casefold():
        return f"{found.marked} (believed {found.designation})"
    return found.marked


def why_text(socket: SocketView) -> str:
    """Why a tube goes or is in doubt: the decisive reason first."""
    return "; ".join(why_parts(socket)) or socket.verdict_text


def why_parts(socket: SocketView) -> list[str]:
    """The reasons one by one; none for a tube that is good and fits."""
    if socket.found.state is FoundState.EMPTY:
        return ["empty socket"]
    if socket.found.state is FoundState.NOT_LOOKED:
        return ["not looked yet"]
    parts = []
    if socket.fit is not None and socket.fit.outcome.severity > 1:
        parts.append(f"{socket.fit.word}: {socket.fit.reasons[0].text}")
    if socket.verdict.word not in ("good", NOT_READ):
        parts.append(socket.verdict_text)
    if socket.action_why:
        parts.append(socket.action_why)
    return parts


def reads_text(lines: tuple[LineView, ...]) -> str:
    """What a tube reads, a figure a line: of repeats their mean, which the verdict stands on."""
    return " · ".join(_reads(line) for line in lines if line.readings)


def _reads(line: LineView) -> str:
    verdict = line.verdict
    repeated = verdict is not None and verdict.n > 1
    return mean_text(verdict, line.tester.scale.words) if verdict and repeated else line.readings[-1].text


def read_lines(socket: SocketView) -> tuple[LineView, ...]:
    """The lines that were read on the tester of the job, else on any other."""
    read = tuple(line for line in socket.lines if line.readings)
    return read or socket.other_lines


def _retube_line(socket: SocketView, *, closed: bool) -> RetubeLine:
    tube = socket.fitted or socket.spare
    declined = socket.answer is Answer.DECLINED and socket.fitted is None
    ordered = tube is None and not declined and not closed
    return RetubeLine(
        position=socket.position,
        role=socket.role,
        take_out=found_text(socket),
        why=why_text(socket),
        put_in="" if declined else socket.intended if tube is None else tube.designation,
        tag="" if tube is None else tube.tag,
        bin="order" if ordered else "" if tube is None else tube.bin,
        reads=""
        if tube is None
        else tube.reads or ("not read" if tube.verdict == NOT_READ else tube.verdict),
        done=socket.fitted is not None,
        note="" if tube is None else " ".join(tube.conditions),
        declined=declined,
    )


def _loose_line(socket: SocketView, *, closed: bool) -> RetubeLine:
    """A tube of a box: what it reads stands where a spare's reading would."""
    line = _retube_line(replace(socket, spare=None), closed=closed)
    return replace(line, put_in="", bin="", reads=reads_text(read_lines(socket)))


def _keep_line(socket: SocketView) -> KeepLine:
    return KeepLine(
        position=socket.position,
        role=socket.role,
        designation=found_text(socket),
        reads=reads_text(read_lines(socket)),
        verdict=socket.verdict_text,
    )


def order_paper(shop: Shop) -> OrderPaper:
    """The supplier's paper, merged over all open jobs."""
    return OrderPaper(paper_head(shop), order_list(shop))


def statement(shop: Shop, *, job_id: int) -> Statement:
    """The customer's paper of a job: socket by socket what was found and done, and what it costs."""
    job = open_job(shop, job_id=job_id)
    settings, estimate = shop.settings, job.estimate

    def money(minor: int) -> str:
        return format_money(minor, settings.currency)

    return Statement(
        head=paper_head(shop),
        number=job.number,
        title=job.title,
        customer=job.customer,
        contact=contact_of(shop, customer_id=job.customer_id),
        serial=job.serial,
        complaint=job.complaint,
        received_on=job.received_on,
        closed_on=job.closed_on,
        tester=testers_of(job),
        warnings=warnings_of(job),
        lines=tuple(_statement_line(shop, job, s) for s in job.sockets),
        tubes_total=money(estimate.tubes),
        labour=money(estimate.labour),
        total=money(estimate.total),
        approval=approval_text(estimate.approval, settings.currency),
        declined=estimate.declined,
        old_tubes=settings.old_tubes,
        warranty=promised_with(shop, job_id=job.id),
        notes=(
            *unpriced_note(estimate.unpriced),
            *job.swaps,
            *empty_notes(job),
            *filter(None, [job.comeback_note, cover_text(cover_of(shop, job_id=job_id))]),
        ),
        measured=paper_rows(measured_in(shop, job_id=job_id)),
    )


def approval_text(approval: ApprovalView | None, currency: str) -> str:
    """Who approved the estimate, how, when and up to how much; empty while nobody has."""
    if approval is None:
        return ""
    limit = "" if approval.ceiling is None else f", up to {format_money(approval.ceiling, currency)}"
    how = f" {approval.how}" if approval.how else ""
    return f"Approved by {approval.who}{how} on {format_date(approval.on)}{limit}."


def unpriced_note(tubes: int) -> tuple[str, ...]:
    """That the total is not the whole yet."""
    if not tubes:
        return ()
    return (
        f"The total is without {tubes} {'tube that has' if tubes == 1 else 'tubes that have'} no price yet.",
    )


def _statement_line(shop: Shop, job: JobView, socket: SocketView) -> StatementLine:
    tube, price = socket.fitted or socket.spare, price_of(socket)
    replaces = gets_tube(socket, closed=not takes_tubes(job.status, job.equipment_id))
    left = reads_text(socket.as_left)
    return StatementLine(
        position=socket.position,
        role=socket.role,
        found=found_text(socket),
        reading=reads_text(read_lines(socket)),
        verdict=socket.verdict_text,
        done=_tested(socket) if job.equipment_id is None else _done(socket, closed=not job.status.is_open),
        fitted="" if tube is None or not replaces else tube.designation,
        fitted_condition="" if tube is None or not replaces else tube.condition,
        fitted_reading=left or ("" if tube is None or not replaces else tube.reads),
        why=why_text(socket) if socket.action is not Action.KEEP else "",
        price=_price(shop, price) if replaces else "",
    )


def _price(shop: Shop, price: int | None) -> str:
    return "not priced yet" if price is None else format_money(price, shop.settings.currency)


def _tested(socket: SocketView) -> str:
    """All that is done with a loose tube."""
    return "tested" if looked_at(socket) else "not tested"


def _done(socket: SocketView, *, closed: bool) -> str:
    if socket.fitted is not None:
        return "replaced"
    if socket.answer is Answer.DECLINED:
        return "declined"
    if socket.disposition is not None:
        return str(socket.disposition)
    if socket.action is Action.REPLACE:
        return "not replaced" if closed else "to be replaced"
    return "kept" if socket.action is Action.KEEP or closed else "undecided"
