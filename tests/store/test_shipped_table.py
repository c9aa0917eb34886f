"""The shipped tables agree with themselves, with the numbering rules and with figures from the trade."""

import csv
import re
from pathlib import Path

import pytest

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
}
AMPLIFYING = {
    *("triode", "power triode", "pentode", "power pentode", "beam power", "tetrode"),
    *("pentagrid", "hexode", "heptode"),
}
SECTION_FUNCTIONS = AMPLIFYING | {"diode", "rectifier", "indicator", "regulator"}
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


def test_the_table_is_large_enough_and_lists_no_type_twice() -> None:
    assert len(TYPES) == len(table("types")) >= 130
    assert len(BASINGS) == len(table("basings"))


def test_every_row_names_its_source() -> None:
    rows = [*TYPES.values(), *SECTIONS, *BASINGS.values(), *EQUIVALENTS, *SUBSTITUTES]
    assert [row for row in rows if not row["source"].strip()] == []
    assert {row["confidence"] for row in TYPES.values()} <= {"high", "medium", "low"}


@pytest.mark.parametrize("code", BASINGS)
def test_a_basing_lists_every_pin_of_its_base_once(code: str) -> None:
    listed = [part.split(":")[0] for part in BASINGS[code]["pins"].split()]
    expected = [str(pin) for pin in range(1, PIN_COUNT[BASINGS[code]["base"]] + 1)]
    assert [pin for pin in listed if pin != "cap"] == expected
    assert listed.count("cap") <= 1
    for elements in pins(code).values():
        for element in elements:
            assert element in ALONE or element.partition(".")[2] in ELECTRODES


@pytest.mark.parametrize("name", TYPES)
def test_a_type_is_complete_and_its_words_are_known(name: str) -> None:
    row = TYPES[name]
    assert re.fullmatch(r"[0-9A-Z]+", name)
    assert not re.match(r"O[A-Z]\d", name), "a cold-cathode type begins with the digit zero"
    assert row["base"] == BASINGS[row["basing"]]["base"]
    assert row["function"] in FUNCTIONS
    assert row["cutoff"] in {"", "sharp", "remote", "semi"}
    assert row["envelope"] in {"metal", "glass"}
    assert bool(row["heaters"]) == (row["heating"] != "cold")
    cautions = set(filter(None, row["cautions"].split(";")))
    assert cautions <= CAUTIONS
    assert ("cap" in pins(row["basing"])) == ("top_cap" in cautions)


@pytest.mark.parametrize("name", TYPES)
def test_the_sections_on_the_pins_are_the_sections_of_the_type(name: str) -> None:
    elements = {e for pin in pins(TYPES[name]["basing"]).values() for e in pin}
    on_pins = {element.partition(".")[0] for element in elements if element not in ALONE}
    rows = sections(name)
    assert {row["section"] for row in rows} == on_pins
    assert len(rows) == len(on_pins)
    for row in rows:
        assert row["function"] in SECTION_FUNCTIONS
        assert row["readable"] in {"yes", "no"}
        if row["function"] not in {"indicator"}:
            assert f"{row['section']}.plate" in elements


@pytest.mark.parametrize("name", TYPES)
def test_heaters_lie_on_heater_pins_and_each_arrangement_takes_the_same_watts(name: str) -> None:
    on_pins = pins(TYPES[name]["basing"])
    kind = "filament" if TYPES[name]["heating"] == "filament" else "heater"
    watts = []
    for volts, amperes, where in heaters(name):
        for pin in re.split(r"[+-]", where):
            assert {kind, f"{kind}.tap"} & set(on_pins[pin])
        watts.append(volts * amperes)
        assert 1 <= volts <= 120
        assert 0.04 <= amperes <= 3
    assert not watts or max(watts) == pytest.approx(min(watts), rel=0.01)
    assert TYPES[name]["heating"] != "cold" or not HEATER & {e for pin in on_pins.values() for e in pin}


VOLTS_OF_CLASS = {1: (1.0, 2.1), 2: (2.1, 2.9), 3: (2.6, 3.5), 5: (4.5, 5.6), 6: (5.6, 6.6), 7: (6.6, 7.7)}
"""What the first number of a RETMA name says of the heater; from 12 up it is the volts themselves."""


@pytest.mark.parametrize("name", [n for n in TYPES if re.fullmatch(r"[1-9]\d*[A-Z]+\d+[A-Z]*", n)])
def test_the_first_number_of_a_name_is_the_class_of_its_heater_volts(name: str) -> None:
    number = int(re.findall(r"\d+", name)[0])
    volts = max(arrangement[0] for arrangement in heaters(name))
    if TYPES[name]["base"] == "lock-in" and number in {7, 14}:
        # Nominally 7 and 14 V, but rated as the 6 and 12 V types are.
        assert volts == {7: 6.3, 14: 12.6}[number]
    elif number in VOLTS_OF_CLASS:
        low, high = VOLTS_OF_CLASS[number]
        assert low <= volts <= high
    else:
        assert volts == pytest.approx(number, abs=0.6)


@pytest.mark.parametrize("name", [n for n in TYPES if re.fullmatch(r"U[A-Z]+8\d", n)])
def test_a_european_u_type_is_made_for_a_string_of_100_ma(name: str) -> None:
    assert [amperes for _, amperes, _ in heaters(name)] == [0.1]


def figure(row: Row, column: str) -> float | None:
    return float(row[column]) if row[column] else None


RANGES = {
    "gm_umho": (100, 15000),
    "mu": (1.5, 700),
    "rp_ohm": (250, 3_000_000),
    "plate_v": (45, 450),
    "screen_v": (45, 300),
    "grid_v": (-90, 0),
    "plate_ma": (0.1, 150),
    "screen_ma": (0.1, 20),
    "plate_w_max": (0.4, 45),
    "screen_w_max": (0.2, 10),
}


@pytest.mark.parametrize("row", SECTIONS, ids=lambda row: f"{row['type']}-{row['section']}")
def test_bogeys_are_plausible(row: Row) -> None:
    for column, (low, high) in RANGES.items():
        value = figure(row, column)
        assert value is None or low <= value <= high, column
    gm, mu, rp = (figure(row, column) for column in ("gm_umho", "mu", "rp_ohm"))
    if gm is not None and mu is not None and rp is not None:
        assert mu == pytest.approx(gm * 1e-6 * rp, rel=0.07)  # the sheets round each by itself
    volts, milliamperes, watts = (figure(row, column) for column in ("plate_v", "plate_ma", "plate_w_max"))
    if volts is not None and milliamperes is not None and watts is not None:
        assert volts * milliamperes / 1000 <= watts
    highest = figure(TYPES[row["type"]], "plate_v_max")
    if volts is not None and highest is not None:
        assert volts <= highest or row["section"] in {"t", "p", "h"}


def test_nine_of_ten_amplifying_types_have_a_transconductance_or_a_mu() -> None:
    readable = [row for row in SECTIONS if row["function"] in AMPLIFYING and row["readable"] == "yes"]
    amplifying = {row["type"] for row in readable}
    known = {row["type"] for row in readable if row["gm_umho"] or row["mu"]}
    assert len(known) >= 0.9 * len(amplifying)


@pytest.mark.parametrize("name", [n for n in TYPES if "rectifier" in TYPES[n]["function"]])
def test_a_rectifier_states_its_output_current(name: str) -> None:
    assert 50 <= float(TYPES[name]["dc_ma"]) <= 300
    assert bool(TYPES[name]["drop_v"]) == bool(TYPES[name]["drop_ma"])


def test_equivalents_are_other_names_of_one_type_each() -> None:
    names = [row["name"] for row in EQUIVALENTS]
    assert len(names) == len(set(names))
    assert not set(names) & set(TYPES)
    assert {row["type"] for row in EQUIVALENTS} <= set(TYPES)
    assert {row["system"] for row in EQUIVALENTS} <= {
        "RETMA",
        "Pro Electron",
        "CV",
        "military",
        "industrial",
        "other",
    }


def test_substitutes_are_directed_pairs_listed_once() -> None:
    pairs = [(row["intended"], row["found"]) for row in SUBSTITUTES]
    assert len(pairs) == len(set(pairs)) >= 120
    assert all(intended != found for intended, found in pairs)
    assert {row["grade"] for row in SUBSTITUTES} <= {"1", "2", "3"}
    assert all(row["conditions"] for row in SUBSTITUTES if row["grade"] != "1")


@pytest.mark.parametrize("row", SUBSTITUTES, ids=lambda row: f"{row['found']}-for-{row['intended']}")
def test_a_listed_substitute_does_no_harm(row: Row) -> None:
    intended, found = TYPES[row["intended"]], TYPES[row["found"]]
    assert intended["base"] == found["base"]
    assert {intended["function"], found["function"]} <= {"power pentode", "beam power"} or (
        intended["function"] == found["function"]
    )
    by_pins = {where: (volts, amperes) for volts, amperes, where in heaters(row["found"])}
    for volts, amperes, where in heaters(row["intended"]):
        rated, takes = by_pins[where]
        assert volts <= 1.10 * rated
        assert takes - amperes <= 0.5
    if intended["dc_ma"]:
        assert float(found["dc_ma"]) >= 0.8 * float(intended["dc_ma"])
    ours, theirs = pins(intended["basing"]), pins(found["basing"])
    for pin, elements in theirs.items():
        moved = {e for e in elements if e.rpartition(".")[2] in {"plate", "grid1", "grid2", "cathode"}}
        used = {e for e in ours[pin] if e not in {"nc", "ic", "shell", "shield"}}
        heated_cathode = "heater" in elements and "filament" in used
        assert heated_cathode or not used or moved <= used


@pytest.mark.parametrize(
    ("intended", "found"),
    [
        ("12AX7", "12AT7"),
        ("12AX7", "12AU7"),
        ("12AX7", "12AY7"),
        ("6L6GC", "6CA7"),
        ("5Y3GT", "5AR4"),
        ("5Y3GT", "5U4G"),
        ("80", "5Z3"),
        ("6AU6", "6BA6"),
        ("6BQ5", "6CW5"),
    ],
)
def test_what_only_looks_like_a_substitute_is_not_listed(intended: str, found: str) -> None:
    assert (intended, found) not in {(row["intended"], row["found"]) for row in SUBSTITUTES}
    assert found not in {row["name"] for row in EQUIVALENTS if row["type"] == intended}


@pytest.mark.parametrize(
    ("name", "expected"),
    [
        # Known traps of the trade: ruggedised relatives take a sixth more heater current (GE data sheets).
        ("5751", [(6.3, 0.35), (12.6, 0.175)]),
        ("5814A", [(6.3, 0.35), (12.6, 0.175)]),
        ("6072", [(6.3, 0.35), (12.6, 0.175)]),
        ("12AX7", [(6.3, 0.3), (12.6, 0.15)]),  # RCA RC-30
        ("5Z3", [(5, 3)]),  # RCA RC-14: a 3 A rectifier on the base of the 2 A type 80
        ("80", [(5, 2)]),
        ("5Y3GT", [(5, 2)]),  # RCA RC-30
        ("5U4G", [(5, 3)]),
        ("5AR4", [(5, 1.9)]),  # Philips data sheet GZ34
        ("42", [(6.3, 0.7)]),  # RCA RC-14: same pins as the 41, not the same heater
        ("41", [(6.3, 0.4)]),
        ("6DJ8", [(6.3, 0.365)]),  # Philips data sheet ECC88
        ("6922", [(6.3, 0.3)]),  # Amperex data sheet 6922
        ("6CA7", [(6.3, 1.5)]),  # Philips data sheet EL34
        ("6L6GC", [(6.3, 0.9)]),  # GE data sheet 6L6GC
        ("2A3", [(2.5, 2.5)]),  # RCA RC-14
        ("45", [(2.5, 1.5)]),  # RCA RC-14
    ],
)
def test_heaters_are_those_of_the_data_sheets(name: str, expected: list[tuple[float, float]]) -> None:
    assert [(volts, amperes) for volts, amperes, _ in heaters(name)] == expected


def test_regulators_hold_their_rated_volts() -> None:
    rated = {"0A2": 150, "0B2": 108, "0A3": 75, "0C3": 105, "0D3": 150}  # RCA Tube Handbook HB-3
    assert {name: float(TYPES[name]["operating_v"]) for name in rated} == rated


def test_the_classic_table_radio_string_adds_up() -> None:
    string = ["12BE6", "12BA6", "12AV6", "50C5", "35W4"]
    assert sum(heaters(name)[0][0] for name in string) == pytest.approx(122.8)  # 3 × 12.6 + 50 + 35
    assert {heaters(name)[0][1] for name in string} == {0.15}


@pytest.mark.parametrize(
    ("name", "section", "gm", "mu"),
    [
        ("12AX7", "1", 1600, 100),  # RCA RC-30, 250 V and -2 V
        ("12AU7", "1", 2200, 17),  # RCA RC-30, 250 V and -8.5 V
        ("12AT7", "1", 5500, 60),  # RCA RC-30, 250 V and -2 V
        ("6SN7GT", "2", 2600, 20),  # RCA RC-30, 250 V and -8 V
        ("6SL7GT", "2", 1600, 70),  # RCA RC-30, 250 V and -2 V
        ("6DJ8", "1", 12500, 33),  # Philips data sheet ECC88, 90 V and -1.3 V
        ("12AV6", "t", 1600, 100),  # RCA RC-30
        ("2A3", "1", 5250, 4.2),  # RCA RC-14
    ],
)
def test_triodes_have_the_bogeys_of_the_data_sheets(name: str, section: str, gm: float, mu: float) -> None:
    [row] = [row for row in sections(name) if row["section"] == section]
    assert (float(row["gm_umho"]), float(row["mu"])) == (gm, mu)


@pytest.mark.parametrize(
    ("name", "gm"),
    # RCA RC-30; of the converter 6BE6 the conversion transconductance
    [("6V6GT", 4100), ("6L6GC", 6000), ("6BA6", 4400), ("6AU6", 5200), ("6SK7", 2000), ("6BE6", 475)],
)
def test_pentodes_have_the_transconductance_of_the_data_sheets(name: str, gm: float) -> None:
    assert [float(row["gm_umho"]) for row in sections(name)] == [gm]


@pytest.mark.parametrize(
    ("name", "other"),
    [
        ("12AX7", "ECC83"),
        ("12AU7", "ECC82"),
        ("12AT7", "ECC81"),
        ("6BQ5", "EL84"),
        ("6CA7", "EL34"),
        ("5AR4", "GZ34"),
    ],
)
def test_european_names_lead_to_their_type(name: str, other: str) -> None:
    assert [row["type"] for row in EQUIVALENTS if row["name"] == other] == [name]


def test_a_selected_or_ruggedised_version_is_a_type_of_its_own() -> None:
    assert {"7025", "12AX7A", "5751", "5814A", "6922", "5881", "7189", "5654"} <= set(TYPES)
