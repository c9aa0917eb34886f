"""A small set on the bench, and short ways to do there what a technician does."""

from dataclasses import dataclass

from tubeshelf.domain.judging import Mark, Stage
from tubeshelf.services import bench, finding, intake, jobs
from tubeshelf.services.changes import Changes
from tubeshelf.services.recording import ReadingTaken
from tubeshelf.services.shop import Shop
from tubeshelf.services.views.bench import JobView, LineView, SocketView
from tubeshelf.store.tables import Tester

AMPLIFIER = """V1 input 12AX7
V2 phase inverter 12AX7
V3 output 6BQ5 =A
V4 output 6BQ5 =A
V5 rectifier 5Y3GT"""


def add_tester(shop: Shop, name: str = "Tester B", **facts: object) -> int:
    """A tester that reads transconductance to 3 % and calls 66 % of the bogey good, 50 % reject."""
    values: dict[str, object] = {
        "name": name,
        "method": "transconductance",
        "unit": "µmho",
        "full_scale": 15000.0,
        "words": (),
        "relative": 0.03,
        "absolute": None,
        "default_good_from": None,
        "default_reject_below": None,
        "default_good_share": 0.66,
        "default_reject_share": 0.5,
        "field_names": ("heater", "range"),
        "checked_on": None,
        "note": "",
        "retired": False,
    }
    with shop.record.act("setup") as journal:
        return journal.insert(Tester, **(values | facts))


@dataclass
class Bench:
    """A job on the bench, by positions."""

    shop: Shop
    number: int
    tester: int

    def job(self, stage: Stage = Stage.AS_FOUND) -> JobView:
        return jobs.open_job(self.shop, number=self.number, tester_id=self.tester, stage=stage)

    def at(self, position: str, stage: Stage = Stage.AS_FOUND) -> SocketView:
        return next(s for s in self.job(stage).sockets if s.position == position)

    def id(self, position: str) -> int:
        return self.at(position).id

    def found(self, position: str, text: str = "", **more: str) -> None:
        if text:
            finding.set_found(self.shop, socket_id=self.id(position), text=text, **more)
        else:
            finding.found_as_intended(self.shop, socket_id=self.id(position))

    def line(self, position: str, nth: int = 0, stage: Stage = Stage.AS_FOUND) -> LineView:
        return self.at(position, stage).lines[nth]

    def enter(
        self,
        position: str,
        text: str,
        nth: int = 0,
        *,
        stage: Stage = Stage.AS_FOUND,
        confirmed: bool = False,
    ) -> tuple[ReadingTaken, Changes | None]:
        line = self.line(position, nth, stage)
        return bench.record_reading(
            self.shop,
            socket_id=self.id(position),
            line_id=line.line_id,
            section=line.section,
            tester_id=self.tester,
            stage=stage,
            text=text,
            confirmed=confirmed,
        )

    def mark(self, position: str, mark: Mark, *, fault: bool = True, pins: str = "") -> int:
        made, _ = bench.observe(
            self.shop,
            socket_id=self.id(position),
            stage=Stage.AS_FOUND,
            mark=mark,
            is_fault=fault,
            pins=pins,
        )
        return made


def amplifier(shop: Shop, **more: str) -> Bench:
    """A five-tube amplifier, just taken in."""
    tester = add_tester(shop)
    number, _ = intake.new_job(
        shop,
        customer="Ada Brindle",
        maker="Larkmere",
        model="A12",
        **({"complement": AMPLIFIER, "serial": "30417", "complaint": "weak and crackling"} | more),
    )
    return Bench(shop, number, tester)
