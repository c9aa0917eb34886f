"""Figures of the shipped tables against those of published data sheets, each with its source beside it."""

import pytest

from tests.store.shippedtable import EQUIVALENTS, SUBSTITUTES, TYPES, heaters, sections


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
