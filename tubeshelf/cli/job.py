"""``tubeshelf job``: one job, socket by socket."""

import argparse
import json
from typing import TYPE_CHECKING, Any

from tubeshelf.cli.records import opened

if TYPE_CHECKING:
    from tubeshelf.cli.verbs import Verbs
    from tubeshelf.domain.judging import Limit
    from tubeshelf.services.views.aside import Whereabouts
    from tubeshelf.services.views.bench import JobView, LineView, SocketView, SpareView
    from tubeshelf.services.views.measured import SetView


def add_parser(verbs: "Verbs") -> None:
    """Adds the verb to the command line."""
    parser = verbs.add_parser(
        "job",
        help="one job, socket by socket",
        description="Shows a job: what stands in each socket, its readings, verdict, fit and spare.",
        epilog="examples:\n  tubeshelf job 214\n  tubeshelf job 214 --json",
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("number", type=int, metavar="NUMBER", help="the job's number")
    parser.add_argument("--json", action="store_true", help="one JSON object")


def run(args: argparse.Namespace) -> int:
    """Prints the job; 0 when answered."""
    from tubeshelf.services.aside import where_tubes_are
    from tubeshelf.services.jobs import open_job
    from tubeshelf.services.set_values import measured_in

    with opened(args) as shop:
        job = open_job(shop, number=args.number)
        told = as_object(job) if args.json else {}
        if args.json:
            told |= _in_set(measured_in(shop, job_id=job.id), where_tubes_are(shop, job_id=job.id))
    print(json.dumps(told) if args.json else as_text(job))
    return 0


def as_object(job: "JobView") -> dict[str, Any]:
    """The job as JSON values: of each line the mean ``value`` of its ``values``, and ``u`` of that mean."""
    return {
        "number": job.number,
        "equipment": job.equipment or job.title,
        "serial": job.serial,
        "customer": job.customer,
        "status": str(job.status),
        "waits_for": job.waits_for,
        "do_not_power": [{"position": position, "why": why} for position, why in job.harm],
        "swaps": list(job.swaps),
        "sockets": [_socket(socket) for socket in job.sockets],
    }


def _in_set(measured: "SetView", tubes: "Whereabouts") -> dict[str, Any]:
    """What was measured in the set, and which sockets stand empty, with why where it was put aside so."""
    return {
        "set_values": [
            {
                "name": one.field.name,
                "quantity": str(one.field.quantity) or None,
                "position": one.position or None,
                "value": one.value,
                "unit": one.field.unit,
            }
            for one in measured.values
            if one.value is not None
        ],
        "dissipation": [
            {"position": one.position, "type": one.designation, "text": one.text, "over": one.over or None}
            for one in measured.outputs
            if one.text
        ],
        "standing_empty": list(tubes.empty),
        "put_aside_why": tubes.why or None,
    }


def _socket(socket: "SocketView") -> dict[str, Any]:
    from tubeshelf.services.papers import found_text

    lines = (*socket.lines, *socket.other_lines, *socket.as_left)
    return {
        "position": socket.position,
        "role": socket.role,
        "intended": socket.intended,
        "designed": socket.designed,
        "found": found_text(socket),
        "found_type": socket.found.designation or None,
        "readings": [_reading(line) for line in lines if line.verdict is not None],
        "observations": [
            {
                "stage": str(stage),
                "mark": str(seen.mark),
                "value": seen.value,
                "unit": seen.unit,
                "pins": seen.pins,
                "fault": seen.is_fault,
            }
            for _, stage, seen in socket.observations
        ],
        "verdict": socket.verdict.word,
        "sure": socket.verdict.sure,
        "verdict_text": socket.verdict_text,
        "fit": None if socket.fit is None else str(socket.fit.outcome),
        "fit_reasons": [] if socket.fit is None else [reason.text for reason in socket.fit.reasons],
        "fit_conditions": [] if socket.fit is None else list(socket.fit.conditions),
        "action": str(socket.action),
        "answer": None if socket.answer is None else str(socket.answer),
        "answer_how": socket.answer_how or None,
        "answer_on": None if socket.answer_on is None else socket.answer_on.isoformat(),
        "unused_sections": list(socket.unused),
        "disposition": None if socket.disposition is None else str(socket.disposition),
        "spare": _spare(socket.spare),
        "fitted": _spare(socket.fitted),
    }


def _reading(line: "LineView") -> dict[str, Any]:
    verdict = line.verdict
    if verdict is None:
        raise ValueError("only judged lines are printed")
    return {
        "line": line.label or line.quantity or line.tester.method,
        "section": line.section,
        "value": verdict.mean,
        "values": [reading.value for reading in line.readings],
        "text": line.text,
        "unit": line.tester.scale.unit,
        "tester": line.tester.name,
        "method": line.tester.method,
        "stage": str(line.readings[0].stage) if line.readings else "",
        "u": verdict.u,
        "limits": _limits(verdict.limit),
        "zone": str(verdict.zone),
        "sure": verdict.sure,
    }


def _limits(limit: "Limit") -> dict[str, Any]:
    return {
        "good_from": limit.good_from,
        "reject_below": limit.reject_below,
        "bogey": limit.bogey,
        "above": limit.above,
        "source": limit.source,
        "derived": limit.derived,
    }


def _spare(spare: "SpareView | None") -> dict[str, Any] | None:
    if spare is None:
        return None
    return {
        "tag": spare.tag or None,
        "type": spare.designation,
        "bin": spare.bin,
        "reads": spare.reads,
        "verdict": spare.verdict,
        "condition": spare.condition,
        "matched_set": spare.matched_set,
        "promised_here": spare.here,
    }


def as_text(job: "JobView") -> str:
    """The job for a reader, a line a socket."""
    lines = [f"Job {job.number}: {job.title}{f', serial {job.serial}' if job.serial else ''}, {job.customer}"]
    if job.complaint:
        lines.append(f"  {job.complaint}")
    if job.harm:
        lines.append("DO NOT POWER: " + "; ".join(f"{position}: {why}" for position, why in job.harm))
    lines += job.swaps
    lines.append("")
    lines += [_line(socket) for socket in job.sockets]
    lines += ["", f"waits for: {job.waits_for or 'nothing'}"]
    return "\n".join(lines)


def _line(socket: "SocketView") -> str:
    from tubeshelf.services.papers import found_text, reads_text

    fit = "" if socket.fit is None else socket.fit.word
    spare = socket.fitted or socket.spare
    put_in = "" if spare is None else f"{spare.designation} {spare.tag or 'lot'} {spare.bin}".strip()
    place = f"{socket.position} {socket.role}".strip()
    reads = reads_text((*socket.lines, *socket.other_lines))
    return (
        f"{place:22.22} {socket.intended:8} {found_text(socket):16.16} {reads:16.16} "
        f"{socket.verdict_text:24.24} {fit:20} {socket.action!s:10} {put_in}"
    ).rstrip()
