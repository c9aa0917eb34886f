"""Correcting later whose a job is: the customer's name and contact, the serial number of the unit."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from sqlalchemy import Row

from tubeshelf.domain.errors import UserError
from tubeshelf.services.folding import text_key
from tubeshelf.store.queries import intake
from tubeshelf.store.queries.jobs import job_rows_of
from tubeshelf.store.tables import Customer, Equipment, Job

if TYPE_CHECKING:
    from tubeshelf.store.journal import Journal


@dataclass(frozen=True, slots=True)
class Whose:
    """Whose a job is, as it is typed; ``serial`` is ``None`` for a box of loose tubes."""

    customer: str
    contact: str
    serial: str | None = None

    def tidy(self) -> Whose:
        """Without blanks that nobody meant; UserError without a name."""
        if not self.customer.strip():
            raise UserError("Type the customer's name: each job belongs to somebody.")
        serial = None if self.serial is None else " ".join(self.serial.split())
        return Whose(" ".join(self.customer.split()), self.contact.strip(), serial)


def job_key(*, number: int, customer: str, title: str, serial: str, complaint: str) -> str:
    """What a job is found by."""
    return text_key(f"{number} {customer} {title} {serial} {complaint}")


def correct(journal: Journal, job: Row[Any], whose: Whose) -> None:
    """Write down another name, contact or serial where it differs; every job that bears it is found by it."""
    now = whose.tidy()
    if now.serial is not None and now.serial != (job.serial or ""):
        _give_serial(journal, job, now.serial)
    changed: dict[str, Any] = {}
    if now.customer != job.customer:
        known = intake.customer_named(journal.connection, text_key(now.customer))
        if known is not None and known.id != job.customer_id:
            raise UserError(
                f"There is another customer called {known.name}: add something that tells the two apart."
            )
        changed = {"name": now.customer, "search_key": text_key(now.customer)}
    if now.contact != job.contact:
        changed["contact"] = now.contact
    if changed:
        journal.update(Customer, job.customer_id, **changed)
    for row in job_rows_of(journal.connection, job.customer_id):
        key = job_key(
            number=row.number,
            customer=now.customer,
            title=row.title,
            serial=row.serial or "",
            complaint=row.complaint,
        )
        if key != row.search_key:
            journal.update(Job, row.id, search_key=key)


def _give_serial(journal: Journal, job: Row[Any], serial: str) -> None:
    other = intake.unit(journal.connection, customer_id=job.customer_id, model_id=job.model_id, serial=serial)
    if other is not None and other.id != job.equipment_id:
        called = f"has serial {serial}" if serial else "has no serial"
        raise UserError(f"Another {job.title} of this customer {called} already: type the one on this unit.")
    journal.update(Equipment, job.equipment_id, serial=serial, search_key=text_key(f"{job.title} {serial}"))
