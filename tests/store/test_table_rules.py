"""The facts in the shipped tables agree with each other, with the rules of numbering, and with physics."""

import re
from collections.abc import Iterator, Mapping

import pytest

from tests.store.shippedtable import (
    EQUIVALENTS,
    SECTIONS,
    SUBSTITUTES,
    TYPES,
    Row,
    figure,
    heaters,
    pins,
    sections,
)

VOLTS_OF_CLASS = {1: (1.0, 2.1), 2: (2.1, 2.9), 3: (2.6, 3.5), 5: (4.5, 5.6), 6: (5.6, 6.6), 7: (6.6, 7.7)}
"""What the first number of a RETMA name says of the heater; from 12 up it is the volts themselves."""

PRO_ELECTRON = re.compile(r"([ABCDEFGHKPUV])([ABCDEFHKLMNPQWXYZ]{1,3})(\d{1,3})[A-Z]?")
VOLTS_OF_LETTER = {
    "A": (4.0, 4.0),
    "D": (0.6, 1.4),
    "E": (6.0, 6.5),
    "F": (12.6, 13.0),
    "G": (5.0, 5.0),
    "K": (2.0, 2.0),
}
AMPERES_OF_LETTER = {"B": 0.18, "C": 0.2, "H": 0.15, "P": 0.3, "U": 0.1, "V": 0.05}
"""What the first letter of a European name says of the heater (Pro Electron and its forerunner of 1934)."""

BASES_OF_NUMBER = (
    (range(1, 10), {"side-contact", "european 5-pin"}),
    (range(11, 20), {"steel 8-pin"}),
    (range(21, 30), {"lock-in"}),
    (range(30, 40), {"octal"}),
    (range(40, 50), {"rimlock"}),
    (range(80, 90), {"noval"}),
    (range(90, 100), {"7-pin miniature"}),
    (range(180, 190), {"noval"}),
    (range(200, 210), {"noval"}),
    (range(500, 520), {"magnoval"}),
    (range(800, 810), {"noval"}),
)
"""Which base the number of a European receiving type says."""

EXCEPTIONS = {
    "2C51": "an industrial number: 2 is a class of heater power",
    "2D21": "an industrial number, as 2C51",
    "3B28": "an industrial number, as 2C51",
    "ECC99": "a later name outside the registered numbers",
    "75C1": "a Mullard regulator: the number is its volts",
    "90C1": "as 75C1",
    "PX4": "a British name of an older kind",
    "PX25": "as PX4",
    "PL21": "a gas triode: P stands for gas filling in the older European numbers",
}
"""Names that break a rule of numbering, each with why the type is listed all the same."""


def names_of(designation: str) -> Iterator[str]:
    yield designation
    yield from (row["name"] for row in EQUIVALENTS if row["type"] == designation)


def test_the_first_number_of_a_name_is_the_class_of_its_heater_volts() -> None:
    assert list(against_retma()) == []


def against_retma() -> Iterator[str]:
    """RETMA names of the designation and of its equivalents."""
    systems = {row["name"]: row["system"] for row in EQUIVALENTS}
    for designation in TYPES:
        for name in names_of(designation):
            if name in EXCEPTIONS or systems.get(name, "RETMA") != "RETMA":
                continue
            if not re.fullmatch(r"[1-9]\d{0,2}[A-Z]{1,2}\d{1,2}[A-Z]*", name):
                continue
            if not heaters(designation):
                yield f"{name} ({designation}) has no heater"
                continue
            number = int(re.findall(r"\d+", name)[0])
            volts = max(arrangement[0] for arrangement in heaters(designation))
            if TYPES[designation]["base"] == "lock-in" and number in {7, 14}:
                # Nominally 7 and 14 V, but rated as the 6 and 12 V types are.
                low = high = {7: 6.3, 14: 12.6}[number]
            else:
                low, high = VOLTS_OF_CLASS.get(number, (number - 0.9, number + 0.9))
            if not low <= volts <= high:
                yield f"{name} ({designation}): {volts} V"


def european() -> Iterator[tuple[str, str, re.Match[str]]]:
    systems = {row["name"]: row["system"] for row in EQUIVALENTS}
    for designation in TYPES:
        for name in names_of(designation):
            match = PRO_ELECTRON.fullmatch(name)
            own = name == designation and not re.match(r"KT|C[0-9]", name)
            if match and name not in EXCEPTIONS and (own or systems.get(name) == "Pro Electron"):
                yield designation, name, match


def test_the_first_letter_of_a_european_name_is_its_heater() -> None:
    wrong = []
    for designation, name, match in european():
        letter = match[1]
        rated = heaters(designation)
        if letter in VOLTS_OF_LETTER:
            low, high = VOLTS_OF_LETTER[letter]
            good = any(low <= volts <= high for volts, _, _ in rated)
        else:
            good = any(amperes == AMPERES_OF_LETTER[letter] for _, amperes, _ in rated)
        if not good:
            wrong.append(f"{name} ({designation}): {rated}")
    assert wrong == []


def test_the_number_of_a_european_name_is_its_base() -> None:
    wrong = []
    for designation, name, match in european():
        number, base = int(match[3]), TYPES[designation]["base"]
        if any(number in numbers and base not in bases for numbers, bases in BASES_OF_NUMBER):
            wrong.append(f"{name} ({designation}): {base}")
    assert wrong == []


RANGES = {
    "gm_umho": (100, 60_000),
    "mu": (1.5, 7000),
    "rp_ohm": (150, 5_000_000),
    "plate_v": (6, 1250),
    "screen_v": (6, 450),
    "grid_v": (-210, 6),
    "plate_ma": (0.02, 550),
    "screen_ma": (0.01, 40),
    "plate_w_max": (0.1, 75),
    "screen_w_max": (0.02, 12),
}
RATING_RANGES = {
    "plate_v_max": (12, 2_000),
    "screen_v_max": (12, 800),
    "cathode_ma_max": (0.2, 700),
    "heater_cathode_v_max": (10, 1000),
    "piv_v": (100, 30_000),
    "dc_ma": (0.1, 600),
    "drop_v": (5, 200),
    "drop_ma": (0.2, 500),
    "operating_v": (50, 160),
}


def outside(row: Row, ranges: Mapping[str, tuple[float, float]]) -> Iterator[str]:
    for column, (low, high) in ranges.items():
        value = figure(row, column)
        if value is not None and not low <= value <= high:
            yield f"{row.get('type') or row['designation']}: {column} {value}"


def test_figures_are_in_plausible_ranges() -> None:
    assert [problem for row in SECTIONS for problem in outside(row, RANGES)] == []
    assert [problem for row in TYPES.values() for problem in outside(row, RATING_RANGES)] == []


def test_mu_is_gm_times_rp_as_far_as_the_sheets_round() -> None:
    wrong = []
    for row in SECTIONS:
        gm, mu, rp = (figure(row, column) for column in ("gm_umho", "mu", "rp_ohm"))
        if gm and mu and rp and mu != pytest.approx(gm * 1e-6 * rp, rel=0.1):
            wrong.append(f"{row['type']} {row['section']}: µ {mu}, gm·rp {gm * 1e-6 * rp:.3g}")
    assert wrong == []


SHORT_TIME = frozenset(
    ("6BQ6GT", "6BQ6GTB", "12BQ6GTB", "17BQ6GTB", "25BQ6GTB", "6AV5GA", "12AV5GA", "25AV5GA"),
)
"""Deflection tubes, whose sheets give a point that they stand only while it is measured."""


def test_no_bogey_point_is_beyond_its_ratings() -> None:
    assert [problem for problem in beyond_ratings() if problem.split()[0] not in SHORT_TIME] == []


def beyond_ratings() -> Iterator[str]:
    """Volts times current within the dissipation, and volts within the ratings, of plate and screen."""
    for row in SECTIONS:
        for electrode in ("plate", "screen"):
            volts, amperes = figure(row, f"{electrode}_v"), figure(row, f"{electrode}_ma")
            watts, most = figure(row, f"{electrode}_w_max"), figure(TYPES[row["type"]], f"{electrode}_v_max")
            if volts and amperes and watts and volts * amperes / 1000 > 1.005 * watts:
                yield f"{row['type']} {row['section']}: {electrode} {volts * amperes / 1000:.3g} W of {watts}"
            if volts and most and volts > most:
                yield f"{row['type']} {row['section']}: {electrode} {volts} V of {most}"
        most_ma, plate = figure(TYPES[row["type"]], "cathode_ma_max"), figure(row, "plate_ma")
        if most_ma and plate and plate + (figure(row, "screen_ma") or 0) > most_ma:
            yield f"{row['type']} {row['section']}: cathode {plate} mA of {most_ma}"


def test_a_rectifier_states_its_output_current_and_a_drop_its_current() -> None:
    rectifiers = {name: row for name, row in TYPES.items() if "rectifier" in row["function"]}
    assert [name for name, row in rectifiers.items() if not row["dc_ma"]] == []
    assert [name for name, row in TYPES.items() if bool(row["drop_v"]) != bool(row["drop_ma"])] == []


def test_a_listed_substitute_does_no_harm() -> None:
    assert [f"{r['found']} for {r['intended']}: {why}" for r in SUBSTITUTES for why in harms(r)] == []


def harms(row: Row) -> Iterator[str]:
    intended, found = TYPES[row["intended"]], TYPES[row["found"]]
    if intended["base"] != found["base"]:
        yield "another base"
        return
    by_pins = {where: (volts, amperes) for volts, amperes, where in heaters(row["found"])}
    for volts, amperes, where in heaters(row["intended"]):
        if where not in by_pins:
            yield f"no heater on {where}"
            continue
        rated, takes = by_pins[where]
        if volts > 1.10 * rated or takes - amperes > 0.5:
            yield f"heater {rated} V {takes} A"
    designed_ma, rated_ma = figure(intended, "dc_ma"), figure(found, "dc_ma")
    if designed_ma and rated_ma and rated_ma < 0.8 * designed_ma:
        yield "less direct current"
    ours, theirs = pins(intended["basing"]), pins(found["basing"])
    for pin, elements in theirs.items():
        moved = {e for e in elements if e.rpartition(".")[2] in {"plate", "grid1", "grid2", "cathode"}}
        used = {e for e in ours.get(pin, ()) if e not in {"nc", "ic", "shell", "shield"}}
        heated_cathode = "heater" in elements and "filament" in used
        if used and not heated_cathode and not moved <= used:
            yield f"pin {pin}: {moved} for {used}"


def test_as_good_both_ways_is_said_only_where_it_is_true() -> None:
    """Two types that are as good for each other have the same heater, and figures within a tenth."""
    grades = {(row["intended"], row["found"]): row["grade"] for row in SUBSTITUTES}
    wrong = []
    for (intended, found), grade in grades.items():
        if grade == "1" and grades.get((found, intended)) == "1" and intended < found:
            wrong += list(apart(intended, found))
    assert wrong == []


def apart(one: str, other: str) -> Iterator[str]:
    if heaters(one) != heaters(other):
        yield f"{one} and {other}: heaters {heaters(one)}, {heaters(other)}"
    for column in ("plate_v_max", "screen_v_max", "dc_ma", "piv_v"):
        yield from differs(one, other, column, TYPES[one], TYPES[other])
    for ours, theirs in zip(sections(one), sections(other), strict=False):
        for column in ("gm_umho", "mu", "plate_w_max"):
            yield from differs(one, other, column, ours, theirs)


def differs(one: str, other: str, column: str, ours: Row, theirs: Row) -> Iterator[str]:
    x, y = figure(ours, column), figure(theirs, column)
    if x and y and max(x, y) > 1.1 * min(x, y):
        yield f"{one} and {other}: {column} {x}, {y}"
