"""What the record knows while a job is taken in: customers, their units, models, earlier jobs."""

from collections.abc import Sequence
from dataclasses import dataclass

from tubeshelf.domain.dates import format_date
from tubeshelf.services.folding import text_key
from tubeshelf.services.intake import CustomerView, ModelView, UnitView, find_customers, find_models, units_of
from tubeshelf.services.jobs import open_job, past_jobs
from tubeshelf.services.shop import Shop
from tubeshelf.services.views.bench import JobHead
from tubeshelf.ui.pages.jobs_sockets import complement_of
from tubeshelf.ui.parts.suggest import Offer


@dataclass(frozen=True, slots=True)
class Known:
    """The unit that is being taken in: its earlier jobs, newest first, and the sockets of the last."""

    unit: UnitView
    jobs: tuple[JobHead, ...]
    complement: str


def customer_offers(shop: Shop, typed: str) -> list[Offer]:
    """Customers to choose from."""
    return [
        Offer(f"{c.name} · {first_line(c.contact)}" if c.contact else c.name, c.name, c)
        for c in find_customers(shop, find=typed)
    ]


def model_offers(shop: Shop, typed: str, customer: CustomerView | None) -> list[Offer]:
    """Units of this customer first, then every model."""
    units = () if customer is None else units_of(shop, customer_id=customer.id)
    words = text_key(typed).split()
    own = [
        Offer(f"{name_of(u)}, serial {u.serial or 'unknown'} · was here before", u.model, u)
        for u in units
        if all(word in text_key(f"{name_of(u)} {u.serial}") for word in words)
    ]
    models = find_models(shop, find=typed)
    return [*own, *(Offer(f"{m.maker} {m.name}".strip(), m.name, m) for m in models)]


def customer_named(shop: Shop, name: str) -> CustomerView | None:
    """The customer of exactly this name."""
    key = text_key(name)
    return next((c for c in find_customers(shop, find=name) if text_key(c.name) == key), None)


def model_named(shop: Shop, maker: str, name: str) -> ModelView | None:
    """The model of exactly this maker and name."""
    key = text_key(f"{maker} {name}".strip())
    found = find_models(shop, find=f"{maker} {name}")
    return next((m for m in found if text_key(f"{m.maker} {m.name}".strip()) == key), None)


def known_unit(
    shop: Shop, customer: CustomerView | None, maker: str, model: str, serial: str
) -> Known | None:
    """The customer's unit of this model and serial number, if it was here before."""
    if customer is None or not model.strip():
        return None
    wanted = (text_key(f"{maker} {model}".strip()), " ".join(serial.split()))
    for unit in units_of(shop, customer_id=customer.id):
        if (text_key(name_of(unit)), unit.serial) == wanted:
            jobs = tuple(sorted(past_jobs(shop, equipment_id=unit.id), key=lambda j: j.number, reverse=True))
            text = complement_of(open_job(shop, job_id=jobs[0].id)) if jobs else ""
            return Known(unit, jobs, text)
    return None


def name_of(unit: UnitView) -> str:
    """Maker and model."""
    return f"{unit.maker} {unit.model}".strip()


def first_line(text: str) -> str:
    """The first line of a text that may have several."""
    return text.strip().splitlines()[0] if text.strip() else ""


def comeback_choices(jobs: Sequence[JobHead]) -> list[tuple[str, int | None]]:
    """Which of the unit's earlier jobs this one may be a comeback of."""
    earlier = [(f"Comeback of job {job.number}, {format_date(job.received_on)}", job.id) for job in jobs]
    return [("No comeback", None), *earlier]
