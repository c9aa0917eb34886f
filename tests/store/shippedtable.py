"""The shipped tables as the files have them, read without the program, for tests of the facts in them."""

import csv
from pathlib import Path

DATA = Path(__file__).resolve().parents[2] / "data"
Row = dict[str, str]

PIN_COUNT = {
    "octal": 8,
    "lock-in": 8,
    "rimlock": 8,
    "noval": 9,
    "7-pin miniature": 7,
    "4-pin": 4,
    "5-pin": 5,
    "6-pin": 6,
    "small 7-pin": 7,
    "medium 7-pin": 7,
    "novar": 9,
    "magnoval": 9,
    "compactron": 12,
    "side-contact": 8,
    "steel 8-pin": 8,
    "european 4-pin": 4,
    "european 5-pin": 5,
    "british 4-pin": 4,
    "british 5-pin": 5,
    "british 7-pin": 7,
}
HEATER = {"heater", "heater.tap", "filament", "filament.tap"}
ALONE = HEATER | {"shield", "shell", "nc", "ic"}
ELECTRODES = {
    *("plate", "grid1", "grid2", "grid3", "grid4", "grid5"),
    *("cathode", "beam", "target", "ray", "starter"),
}
FUNCTIONS = {
    *("triode", "power triode", "dual triode", "dual power triode", "pentode", "power pentode", "beam power"),
    *("tetrode", "triode-pentode", "triode power pentode", "converter", "mixer", "triode-hexode"),
    *("triode-heptode", "duodiode-triode", "duodiode-pentode", "diode-pentode", "diode-triode", "dual diode"),
    *("half-wave rectifier", "full-wave rectifier", "voltage regulator", "indicator", "triple diode-triode"),
    *("triple triode", "dual pentode", "dual beam power", "diode", "thyratron", "current regulator"),
}
AMPLIFYING = {
    *("triode", "power triode", "pentode", "power pentode", "beam power", "tetrode"),
    *("pentagrid", "hexode", "heptode"),
}
SECTION_FUNCTIONS = AMPLIFYING | {"diode", "rectifier", "indicator", "regulator", "thyratron"}
CAUTIONS = {"mercury", "radioactive", "top_cap", "xray", "beryllium"}


def table(name: str) -> list[Row]:
    with (DATA / f"{name}.csv").open(newline="", encoding="utf-8") as file:
        return list(csv.DictReader(file))


TYPES = {row["designation"]: row for row in table("types")}
SECTIONS = table("sections")
BASINGS = {row["basing"]: row for row in table("basings")}
EQUIVALENTS = table("equivalents")
SUBSTITUTES = table("substitutes")


def pins(basing: str) -> dict[str, list[str]]:
    pairs = (part.split(":") for part in BASINGS[basing]["pins"].split())
    return {pin: elements.split("+") for pin, elements in pairs}


def heaters(designation: str) -> list[tuple[float, float, str]]:
    """Volts, amperes and pins of each arrangement."""
    found = []
    for part in filter(None, TYPES[designation]["heaters"].split(" | ")):
        rating, where = part.split()
        volts, amperes = rating.split("/")
        found.append((float(volts), float(amperes), where))
    return found


def sections(designation: str) -> list[Row]:
    return [row for row in SECTIONS if row["type"] == designation]


def figure(row: Row, column: str) -> float | None:
    """A cell as a number, ``None`` where it is empty."""
    return float(row[column]) if row[column] else None
