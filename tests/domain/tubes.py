"""Tubes for tests, written the way a data sheet is read out."""

from dataclasses import fields
from typing import Any

from tubeshelf.domain.catalog import Catalog
from tubeshelf.domain.designations import fold
from tubeshelf.domain.fit import judge_fit
from tubeshelf.domain.fitting import Circuit, FitJudgement, SocketFacts
from tubeshelf.domain.types import (
    Basing,
    HeaterArrangement,
    Heating,
    Ratings,
    Section,
    Substitute,
    TubeType,
)

TWIN = "1:2.plate 2:2.grid1 3:2.cathode 4:heater 5:heater 6:1.plate 7:1.grid1 8:1.cathode"
TAPPED = "6.3/0.3 4+5-9 | 12.6/0.15 4-5"
OUTPUT = "1:nc 2:heater 3:1.plate 4:1.grid2 5:1.grid1 6:nc 7:heater 8:1.cathode+1.beam"
RECTIFIER = "1:nc 2:filament 3:nc 4:2.plate 5:nc 6:1.plate 7:nc 8:filament"


def tube(
    name: str,
    pins: str,
    heaters: str,
    sections: str,
    *,
    base: str = "noval",
    figures: Any = None,
    **more: Any,
) -> TubeType:
    """``sections`` is ``"1 2 triode"`` or ``"t triode, d1 diode"``; ``figures`` hold for every section."""
    ratings = {field.name: more.pop(field.name) for field in fields(Ratings) if field.name in more}
    more.setdefault("heating", Heating.HEATER if heaters else Heating.COLD)
    made: list[Section] = []
    for part in sections.split(","):
        names, _, function = part.strip().partition(" ")
        for section in names.split("+"):
            made.append(Section(section, function, **(figures or {})))
    return TubeType(
        key=fold(name),
        designation=name,
        function=more.pop("function", sections.partition(" ")[2]),
        basing=Basing("", base, tuple(_pin(pin) for pin in pins.split())),
        heaters=tuple(_heater(part) for part in heaters.split("|") if part.strip()),
        sections=tuple(made),
        ratings=Ratings(**ratings),
        **more,
    )


def _pin(text: str) -> tuple[str, tuple[str, ...]]:
    pin, _, elements = text.partition(":")
    return pin, tuple(elements.split("+"))


def _heater(text: str) -> HeaterArrangement:
    rating, _, pins = text.strip().partition(" ")
    volts, _, amperes = rating.partition("/")
    return HeaterArrangement(float(volts), float(amperes), pins)


def twin(name: str, heaters: str = TAPPED, *, nine: str = "heater.tap", **more: Any) -> TubeType:
    """A noval twin triode, µ 100 and 1,600 µmho unless told otherwise."""
    more.setdefault("figures", {"mu": 100.0, "gm_umho": 1600.0})
    return tube(name, f"{TWIN} 9:{nine}", heaters, "1+2 triode", function="dual triode", **more)


def output(name: str, heaters: str = "6.3/0.45 2-7", pins: str = OUTPUT, **more: Any) -> TubeType:
    """An octal beam power tube of 4,100 µmho, of one family with the others unless told otherwise."""
    more.setdefault("family", "outputs")
    more.setdefault("figures", {"gm_umho": 4100.0, "grid_v": -12.5})
    return tube(name, pins, heaters, more.pop("sections", "1 beam power"), base="octal", **more)


def rectifier(name: str, heaters: str = "5/2 2-8", pins: str = RECTIFIER, **more: Any) -> TubeType:
    """An octal full-wave rectifier for 125 mA that drops 60 V."""
    more = {"dc_ma": 125.0, "drop_v": 60.0, "drop_ma": 125.0, "heating": Heating.FILAMENT, **more}
    return tube(name, pins, heaters, "1+2 rectifier", base="octal", **more)


def serves(intended: TubeType, found: TubeType, *conditions: str, grade: int = 2) -> Substitute:
    """An entry of the substitutes."""
    return Substitute(intended.key, found.key, grade, conditions, "a test")


def judged(intended: TubeType, found: TubeType, *entries: Substitute, **facts: Any) -> FitJudgement:
    """The fit of one in the place of the other; ``series=True`` for a string."""
    if facts.pop("series", False):
        facts["circuit"] = Circuit.SERIES
    catalog = Catalog([intended, found], entries)
    return judge_fit(catalog, intended.designation, found.designation, SocketFacts(**facts))


def rules(judgement: FitJudgement) -> list[str]:
    """The codes of its reasons."""
    return [reason.rule for reason in judgement.reasons]


def fact(judgement: FitJudgement, rule: str, name: str) -> Any:
    """One fact of the reason with this code."""
    return next(dict(r.facts)[name] for r in judgement.reasons if r.rule == rule)
