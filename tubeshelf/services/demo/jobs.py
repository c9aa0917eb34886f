"""The demo's jobs: when each was taken in, read, decided, retubed and handed back."""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING

from tubeshelf.domain.jobs import JobStatus
from tubeshelf.services.changes import Kind
from tubeshelf.services.decide import approve, set_labour, set_status
from tubeshelf.services.demo.deciding import decide
from tubeshelf.services.demo.in_set import leave_open, measure, write_map
from tubeshelf.services.demo.reading import read_sockets
from tubeshelf.services.demo.retubing import hand_back, retube
from tubeshelf.services.demo.tables import Entry, days, money, table
from tubeshelf.services.demo.workshop import complement, sockets_of, write_circuits
from tubeshelf.services.intake import find_models, new_job
from tubeshelf.services.intake_edit import edit_job, set_modified
from tubeshelf.services.jobs import open_job
from tubeshelf.store.queries.intake import job_sockets_of

if TYPE_CHECKING:
    from tubeshelf.services.demo.workshop import Workshop
    from tubeshelf.store.tablefile import Row

_THEN = {"read": JobStatus.READING, "decided": JobStatus.RETUBING, "done": JobStatus.FINISHED}
"""Where a job stands after a stage, if there is a later one."""


def job_entries(workshop: Workshop) -> list[Entry]:
    """Everything that was done for customers over the years."""
    findings: dict[str, list[Row]] = defaultdict(list)
    for row in table("findings"):
        findings[row.need("job")].append(row)
    contacts = {row.need("name"): row.text("contact") for row in table("customers")}
    entries = []
    for row in table("jobs"):
        story = _Story(workshop, row, findings[row.need("job")], contacts[row.need("customer")])
        entries += story.entries()
    return entries


class _Story:
    """One job from its intake on. What it does, it does on the day its row names."""

    def __init__(self, workshop: Workshop, row: Row, findings: list[Row], contact: str) -> None:
        self._workshop = workshop
        self._shop = workshop.shop
        self._row = row
        self._findings = findings
        self._contact = contact
        self._job_id = 0
        self._sockets: dict[str, int] = {}

    def entries(self) -> list[Entry]:
        stages = {
            "received": self._take_in,
            "read": self._read,
            "decided": self._decide,
            "done": self._retube,
            "closed": self._hand_back,
        }
        dated = [(days(self._row, name), write) for name, write in stages.items()]
        return [Entry(days_ago, write) for days_ago, write in dated if days_ago is not None]

    def _take_in(self) -> None:
        row, maker, model = self._row, self._row.text("maker"), self._row.text("model")
        known = not model or any(m.name == model for m in find_models(self._shop, find=model))
        promised = days(row, "promised")
        number, changes = new_job(
            self._shop,
            customer=row.need("customer"),
            contact=self._contact,
            maker=maker,
            model=model,
            serial=row.text("serial"),
            title=row.text("title"),
            complement=self._loose() if not model else "" if known else complement(maker, model),
            complaint=row.text("complaint"),
            scope=row.text("scope"),
            intake_notes=row.text("intake"),
            promised_on=None if promised is None else self._workshop.clock.day(promised),
        )
        if number != int(row.need("job")):
            raise row.error(f"the job became number {number}; put the jobs in order")
        self._job_id = next(thing_id for kind, thing_id in changes.things if kind is Kind.JOB)
        if not known:
            self._write_circuits(maker, model)
        set_labour(self._shop, job_id=self._job_id, minor=money(row, "labour") or 0)
        with self._shop.record.reading() as connection:
            self._sockets = {s.position: s.id for s in job_sockets_of(connection, self._job_id)}
        for finding in self._findings:
            if finding.text("modified"):
                socket_id = self._sockets[finding.need("position")]
                set_modified(self._shop, socket_id=socket_id, type_name=finding.text("modified"))

    def _loose(self) -> str:
        return "\n".join(f"{row.need('position')} loose {row.need('intended')}" for row in self._findings)

    def _write_circuits(self, maker: str, model: str) -> None:
        made = next(m for m in find_models(self._shop, find=model) if m.name == model)
        write_circuits(self._shop, model_id=made.id, job_id=self._job_id, maker=maker, model=model)
        write_map(self._shop, model_id=made.id, sockets=sockets_of(maker, model))

    def _read(self) -> None:
        testers = [self._workshop.testers[name] for name in self._row.list("testers")]
        read_sockets(self._workshop, self._sockets, self._findings, testers)
        if self._row.text("aside"):
            leave_open(self._shop, self._job_id, self._row.text("aside"))
        self._go_on("read")

    def _decide(self) -> None:
        decide(self._shop, self._job_id, self._sockets, self._findings, self._row.text("how"))
        if self._row.text("who"):
            self._approve()
        if self._row.text("comeback_of"):
            self._note_comeback(int(self._row.text("comeback_of")), self._row.text("comeback_note"))
        self._go_on("decided")

    def _approve(self) -> None:
        approve(
            self._shop,
            job_id=self._job_id,
            who=self._row.text("who"),
            on=self._shop.today,
            how=self._row.text("how"),
            ceiling=money(self._row, "ceiling"),
        )

    def _note_comeback(self, of: int, note: str) -> None:
        job = open_job(self._shop, job_id=self._job_id)
        edit_job(
            self._shop,
            job_id=job.id,
            expected_version=job.version,
            complaint=job.complaint,
            scope=job.scope,
            intake_notes=job.intake,
            promised_on=job.promised_on,
            comeback_of=open_job(self._shop, number=of).id,
            comeback_note=note,
        )

    def _retube(self) -> None:
        retube(self._workshop, self._job_id, self._sockets, self._findings)
        values = [row for row in table("measured") if row.need("job") == self._row.need("job")]
        measure(self._shop, self._job_id, self._sockets, values)
        self._go_on("done")

    def _hand_back(self) -> None:
        hand_back(self._shop, self._sockets, self._findings)
        self._go_on("closed")

    def _go_on(self, stage: str) -> None:
        """Say where the job stands after a stage: as its row says, if it is the last so far."""
        order = ("read", "decided", "done", "closed")
        later = any(self._row.text(name) for name in order[order.index(stage) + 1 :])
        status = _THEN[stage] if later else JobStatus(self._row.need("status"))
        set_status(self._shop, job_id=self._job_id, status=status)
