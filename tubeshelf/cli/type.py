"""``tubeshelf type``: what the table says of a type."""

import argparse
import json
from typing import TYPE_CHECKING

from tubeshelf.domain import words
from tubeshelf.domain.cautions import cautions
from tubeshelf.domain.errors import shortened
from tubeshelf.domain.types import Section, TubeType
from tubeshelf.services.types_lookup import TypeAnswer, describe_type, shipped_catalog

if TYPE_CHECKING:
    from tubeshelf.cli.verbs import Verbs

Facts = dict[str, object]


def add_parser(verbs: "Verbs") -> None:
    """Adds the verb to the command line."""
    parser = verbs.add_parser(
        "type",
        help="what the table says of a type",
        description="Shows base, pins, heater, sections and ratings of types, by any of their names.",
        epilog="examples:\n  tubeshelf type 12AX7\n  tubeshelf type EL84 5Y3GT --json",
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("names", nargs="+", metavar="NAME", help="a designation, equivalent or marking")
    parser.add_argument("--json", action="store_true", help="one JSON object a line")


def run(args: argparse.Namespace) -> int:
    """Prints what is known of each name; 0, also where a name is not in the table, which it then says."""
    catalog = shipped_catalog()
    answers = [describe_type(catalog=catalog, asked=name) for name in args.names]
    if args.json:
        print("\n".join(json.dumps(_facts(answer)) for answer in answers))
    else:
        print("\n\n".join(as_text(answer) for answer in answers))
    return 0


def _facts(answer: TypeAnswer) -> Facts:
    tube = answer.tube
    if tube is None:
        return {"asked": answer.asked, "designation": None, "near": list(answer.near)}
    return {
        "asked": answer.asked,
        "designation": tube.designation,
        "equivalents": list(tube.equivalents),
        "function": tube.function,
        "base": tube.base,
        "basing": tube.basing.code,
        "heaters": [{"volts": heater.volts, "amperes": heater.amperes} for heater in tube.heaters],
        "sections": [_section_facts(section) for section in tube.sections],
        "plate_v_max": tube.ratings.plate_v_max,
        "pins": {pin: list(elements) for pin, elements in tube.basing.pins},
        "sources": _sources(tube),
    }


def _section_facts(section: Section) -> Facts:
    return {
        "name": section.name,
        "function": section.function,
        "gm_umho": section.gm_umho,
        "mu": section.mu,
        "plate_ma": section.plate_ma,
        "plate_w_max": section.plate_w_max,
    }


def _sources(tube: TubeType) -> list[str]:
    return [source for source in map(str.strip, tube.source.split(";")) if source]


def as_text(answer: TypeAnswer) -> str:
    """The type for a reader, one fact a line, unknown ones left out."""
    tube = answer.tube
    if tube is None:
        near = f"; near it: {', '.join(answer.near)}" if answer.near else ""
        asked = shortened(answer.asked.strip()) or "An empty name"
        return f"{asked} is not in the type table{near}"
    heaters = ", or ".join(
        f"{words.number(h.volts)} V {words.number(h.amperes)} A{f' (pins {h.pins})' if h.pins else ''}"
        for h in tube.heaters
    )
    facts = {
        "also called": ", ".join(tube.equivalents),
        "base": f"{tube.base}, basing {tube.basing.code}",
        "heater": heaters or ("none, cold cathode" if tube.heating == "cold" else ""),
        "plate at most": _with_unit(tube.ratings.plate_v_max, "V"),
        "regulates at": _with_unit(tube.ratings.operating_v, "V"),
        "direct current": _with_unit(tube.ratings.dc_ma, "mA"),
        "cautions": " ".join(cautions(tube)),
        "note": tube.note,
    }
    lines = [f"{tube.designation}, {tube.function}"]
    lines += [f"  {name:15} {fact}" for name, fact in facts.items() if fact]
    lines += [f"  {f'section {s.name}':15} {_section_text(s)}" for s in tube.sections]
    lines += [f"  {f'pin {pin}':15} {_pin_text(tube, elements)}" for pin, elements in tube.basing.pins]
    lines += [f"  {'source':15} {source}" for source in _sources(tube)]
    return "\n".join(lines)


def _with_unit(value: float | None, unit: str) -> str:
    return "" if value is None else f"{words.number(value)} {unit}"


def _section_text(section: Section) -> str:
    figures = (
        ("gm", section.gm_umho, "µmho"),
        ("µ", section.mu, ""),
        ("plate current", section.plate_ma, "mA"),
        ("dissipation at most", section.plate_w_max, "W"),
    )
    known = [
        f"{name} {_with_unit(value, unit)}".strip() for name, value, unit in figures if value is not None
    ]
    return ", ".join((section.function, *known))


def _pin_text(tube: TubeType, elements: tuple[str, ...]) -> str:
    """The elements of a pin; without the section where the tube has but one."""
    only = f"{tube.sections[0].name}." if len(tube.sections) == 1 else ""
    return ", ".join(words.element(element.removeprefix(only)) for element in elements)
