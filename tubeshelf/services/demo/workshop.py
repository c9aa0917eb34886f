"""What stands in the invented workshop: its name, its testers with their charts, the models it knows."""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING

from tubeshelf.domain.fitting import Circuit
from tubeshelf.domain.judging import Limit
from tubeshelf.services.demo.tables import days, table
from tubeshelf.services.intake_edit import CircuitPlan, edit_complement, set_circuits
from tubeshelf.services.setting_lines import save_line, setting_lines
from tubeshelf.services.shop import ShopSettings, save_settings
from tubeshelf.services.tester_form import tester_fields
from tubeshelf.services.testers import list_testers, save_tester

if TYPE_CHECKING:
    from tubeshelf.services.demo.clock import DemoClock
    from tubeshelf.services.shop import Shop
    from tubeshelf.store.tablefile import Row

SETTINGS = ShopSettings(
    name="Quillfen Valve Workshop",
    address="Sluice Yard 3, Quillfen",
    currency="EUR",
    labour=4000,
    old_tubes="Your old tubes are bagged and handed back; say so if you do not want them.",
    warranty="Tubes fitted here: ninety days, while our tag is on the base.",
    estimate_days=30,
    warranty_days=90,
)

_FIGURES = (
    *("volts", "rated_a", "drop_ohm", "lamp_v", "lamp_a"),
    *("ballast_a", "ballast_low_v", "ballast_high_v"),
)
"""What a circuit of the demo may have in figures."""


class Workshop:
    """The invented workshop: its shop and clock, and its testers and charts by name."""

    def __init__(self, shop: Shop, clock: DemoClock) -> None:
        self.shop = shop
        self.clock = clock
        self.testers = {tester.name: tester.id for tester in list_testers(shop)}
        self._lines: dict[tuple[int, int], list[int]] = defaultdict(list)
        for line in setting_lines(shop):
            self._lines[line.tester_id, line.type_id].append(line.id)

    def chart(self, tester_id: int, type_id: int) -> list[int]:
        """The setting lines of a type on a tester, in order."""
        return self._lines[tester_id, type_id]


def set_up(shop: Shop, clock: DemoClock) -> Workshop:
    """Give the shop its name, its testers and their charts."""
    save_settings(shop, settings=SETTINGS)
    names: dict[str, tuple[str, ...]] = {}
    testers: dict[str, int] = {}
    for row in table("testers"):
        name = row.need("name")
        testers[name], _ = save_tester(shop, fields={**row.cells, "checked_on": ""})
        names[name] = row.list("field_names")
    for row in table("lines"):
        tester = row.need("tester")
        save_line(
            shop,
            tester_id=testers[tester],
            type_id=shop.book.id_of(row.need("type")),
            label=row.text("label"),
            section=row.text("section"),
            quantity=row.text("quantity"),
            fields=dict(zip(names[tester], row.list("dial"), strict=True)),
            limit=_limit(shop, row),
        )
    return Workshop(shop, clock)


def _limit(shop: Shop, row: Row) -> Limit | None:
    if row.number("good_from") is None:
        return None
    return Limit(
        good_from=row.number("good_from"),
        reject_below=row.number("reject_below"),
        bogey=row.number("bogey"),
        above=row.number("above"),
        source=row.need("source"),
        dated=shop.today,
    )


def note_check(workshop: Workshop, row: Row) -> None:
    """Write down with a tester that it was checked today."""
    shop = workshop.shop
    tester = next(t for t in list_testers(shop) if t.name == row.need("name"))
    fields = {**tester_fields(tester), "checked_on": shop.today.isoformat()}
    save_tester(shop, tester_id=tester.id, expected_version=tester.version, fields=fields)


def checks() -> dict[int, list[Row]]:
    """The testers by how many days ago they were checked last."""
    found: dict[int, list[Row]] = defaultdict(list)
    for row in table("testers"):
        found[days(row, "checked") or 0].append(row)
    return found


def sockets_of(maker: str, model: str) -> list[Row]:
    """The sockets of a model, in test order."""
    return [row for row in table("sockets") if _of(row, maker, model)]


def complement(maker: str, model: str) -> str:
    """The complement of a model as it is typed at intake."""
    return "\n".join(map(_line, sockets_of(maker, model)))


def _line(row: Row) -> str:
    group = f"={row.text('group')}" if row.text("group") else ""
    series = "series" if row.text("circuit") == "string" else ""
    parts = (row.need("position"), row.text("role"), row.need("type"), row.text("facts"), group, series)
    return " ".join(filter(None, parts))


def write_circuits(shop: Shop, *, model_id: int, job_id: int, maker: str, model: str) -> None:
    """Write down how a model's heaters are fed, and take it over into the job that brought the model."""
    plans = [
        CircuitPlan(
            name=row.need("name"),
            circuit=Circuit(row.need("circuit")),
            positions=tuple(
                s.need("position") for s in sockets_of(maker, model) if s.text("circuit") == row.need("name")
            ),
            lamp_at=row.text("lamp_at"),
            **{column: row.number(column) for column in _FIGURES},
        )
        for row in table("circuits")
        if _of(row, maker, model)
    ]
    line_v = next(row.number("line_v") for row in table("circuits") if _of(row, maker, model))
    set_circuits(shop, model_id=model_id, line_v=line_v, circuits=tuple(plans))
    edit_complement(shop, job_id=job_id, text=complement(maker, model))


def _of(row: Row, maker: str, model: str) -> bool:
    return (row.text("maker"), row.text("model")) == (maker, model)
