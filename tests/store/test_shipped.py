# ruff: noqa: E501 - the rows of the tables stay rows
from pathlib import Path
from time import perf_counter

import pytest

from tubeshelf.domain.errors import UserError
from tubeshelf.domain.types import HeaterArrangement, Heating
from tubeshelf.store.shipped import load_catalog, load_types, table_version

TYPES = """designation,family,function,base,basing,heating,heaters,cutoff,envelope,rating_system,plate_v_max,\
screen_v_max,cathode_ma_max,heater_cathode_v_max,piv_v,dc_ma,drop_v,drop_ma,operating_v,cautions,source,confidence,note
12AX7,12AX7,dual triode,noval,9A,heater,6.3/0.3 4+5-9 | 12.6/0.15 4-5,,glass,design-centre,300,,,180,,,,,,,book A,high,
7025,12AX7,dual triode,noval,9A,heater,6.3/0.3 4+5-9 | 12.6/0.15 4-5,,glass,,330,,,,,,,,,,book B,high,low noise
0A2,0A2,voltage regulator,7-pin miniature,5BO,cold,,,glass,,,,,,,30,,,150,radioactive; xray,book A,low,
"""
SECTIONS = """type,section,function,readable,gm_umho,mu,rp_ohm,plate_v,screen_v,grid_v,plate_ma,screen_ma,plate_w_max,screen_w_max,source
12AX7,1,triode,yes,1600,100,62500,250,,-2,1.2,,1,,book C
12AX7,2,triode,yes,1600,100,62500,250,,-2,1.2,,1,,book C
7025,1,triode,yes,1600,100,,250,,-2,0,,,,
7025,2,triode,yes,1600,100,,250,,-2,0,,,,
0A2,1,regulator,no,,,,,,,,,,,
"""
BASINGS = """basing,base,pins,source
9A,noval,1:2.plate 2:2.grid1 3:2.cathode 4:heater 5:heater 6:1.plate 7:1.grid1 8:1.cathode 9:heater.tap,list D
5BO,7-pin miniature,1:1.plate 2:1.cathode 3:ic 4:1.cathode 5:1.plate 6:ic 7:1.cathode,list D
"""
EQUIVALENTS = "type,name,system,source\n12AX7,ECC83,Pro Electron,book A\n12AX7,CV492,CV,book A\n"
SUBSTITUTES = (
    "intended,found,grade,conditions,source\n12AX7,7025,1,,book A\n7025,12AX7,2,more hum; more noise,book A\n"
)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    tables = {
        "types": TYPES,
        "sections": SECTIONS,
        "basings": BASINGS,
        "equivalents": EQUIVALENTS,
        "substitutes": SUBSTITUTES,
    }
    for name, text in tables.items():
        (tmp_path / f"{name}.csv").write_text(text, encoding="utf-8")
    return tmp_path


def edit(folder: Path, name: str, old: str, new: str) -> None:
    path = folder / f"{name}.csv"
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new), encoding="utf-8")


def test_a_row_becomes_a_type_with_its_pins_heaters_and_sections(folder: Path) -> None:
    tube = load_types(folder)[0]
    assert (tube.key, tube.designation, tube.base, tube.basing.code) == ("12AX7", "12AX7", "noval", "9A")
    assert tube.heaters == (HeaterArrangement(6.3, 0.3, "4+5-9"), HeaterArrangement(12.6, 0.15, "4-5"))
    assert tube.basing.at("9") == ("heater.tap",)
    assert [(s.name, s.mu, s.grid_v, s.plate_ma) for s in tube.sections] == [
        ("1", 100.0, -2.0, 1.2),
        ("2", 100.0, -2.0, 1.2),
    ]
    assert tube.equivalents == ("ECC83", "CV492")
    assert tube.source == "book A; book C; list D"
    assert (tube.ratings.plate_v_max, tube.ratings.system) == (300.0, "design-centre")


def test_an_empty_cell_is_unknown_and_a_zero_is_a_zero(folder: Path) -> None:
    low_noise = load_types(folder)[1]
    assert low_noise.sections[0].rp_ohm is None
    assert low_noise.sections[0].plate_ma == 0.0
    assert low_noise.ratings.heater_cathode_v_max is None


def test_a_cold_cathode_tube_has_no_heater_and_lists_its_cautions(folder: Path) -> None:
    regulator = load_types(folder)[2]
    assert (regulator.heating, regulator.heaters) == (Heating.COLD, ())
    assert regulator.cautions == ("radioactive", "xray")
    assert not regulator.sections[0].readable


def test_substitutes_keep_grade_and_conditions(folder: Path) -> None:
    entry = load_catalog(folder).substitute("7025", "12AX7")
    assert entry is not None
    assert (entry.grade, entry.conditions) == (2, ("more hum", "more noise"))


@pytest.mark.parametrize(
    ("table", "old", "new", "sentence"),
    [
        ("types", "300,,,180", "3oo,,,180", "types.csv, line 2: '3oo' in 'plate_v_max' is not a number"),
        ("types", "300,,,180", "nan,,,180", "'nan' in 'plate_v_max' is not a number"),
        ("types", "300,,,180", "inf,,,180", "'inf' in 'plate_v_max' is not a number"),
        ("types", "12.6/0.15 4-5", "12.6/inf 4-5", "needs volts and amperes above zero"),
        ("types", "300,,,180", "-300,,,180", "-300 in 'plate_v_max' is below zero"),
        ("types", "noval,9A,heater,6.3/0.3 4+5-9 | 12.6/0.15 4-5,,glass,d", "noval,9Z,heater,,,glass,d", "line 2: the basing 9Z is not in basings.csv"),
        ("types", "dual triode,noval", "dual triode,octal", "line 2: the base is octal, but the basing 9A is noval"),
        ("types", "12AX7,12AX7,dual triode", "7025,12AX7,dual triode", "line 3: the type 7025 is listed twice"),
        ("types", "12.6/0.15 4-5", "12.6V 4-5", "heater '12.6V 4-5' is not like '6.3/0.3 4-5'"),
        ("types", "12.6/0.15 4-5", "12.6/0.15 4-6", "pin 6 of basing 9A is no heater pin"),
        ("types", "12.6/0.15 4-5", "0/0.15 4-5", "needs volts and amperes above zero"),
        ("types", "5BO,cold", "5BO,warm", "line 4: heating is warm"),
        ("types", "book A,high,", "book A,high", "line 2: 22 cells where the header has 23"),
        ("types", "designation,family", "name,family", "types.csv: the column 'designation' is missing"),
        ("sections", "12AX7,2,triode", "12AX9,2,triode", "sections.csv, line 3: the type 12AX9 is not in types.csv"),
        ("sections", "12AX7,2,triode", "12AX7,1,triode", "section 1 of 12AX7 is listed twice"),
        ("sections", "12AX7,2,triode", "12AX7,t,triode", "the sections of 12AX7 do not agree"),
        ("sections", "12AX7,2,triode", "12AX7,2,", "sections.csv, line 3: 'function' is empty"),
        ("sections", "12AX7,2,triode", ",2,triode", "sections.csv, line 3: 'type' is empty"),
        ("sections", "12AX7,2,triode,yes,1600", "12AX7,2,triode,yes,-1600", "line 3: -1600 in 'gm_umho' is below zero"),
        ("sections", "rp_ohm,plate_v", "rp,plate_v", "sections.csv: the column 'rp_ohm' is missing"),
        ("substitutes", "7025,12AX7,2", ",12AX7,2", "substitutes.csv, line 3: 'intended' is empty"),
        ("basings", "6:1.plate 7:1.grid1", "6 7:1.grid1", "basings.csv, line 2: pin '6' is not like"),
        ("basings", "6:1.plate 7:1.grid1", "6:1.plate 6:1.grid1", "the basing 9A has a pin twice"),
        ("equivalents", "CV492", "ecc-83", "equivalents.csv, line 3: the name ecc-83 is listed twice"),
        ("equivalents", "CV492", "7025", "7025 is a type of its own"),
        ("substitutes", "7025,12AX7,2", "7025,12AX7,4", "substitutes.csv, line 3: grade has to be 1, 2 or 3"),
        ("substitutes", "7025,12AX7,2", "12AX7,7025,2", "this pair is listed twice"),
        ("substitutes", "7025,12AX7,2", "7025,ECC83,2", "the type ECC83 is not in types.csv"),
    ],
)  # fmt: skip
def test_a_row_that_cannot_be_used_says_where_and_what(
    folder: Path, table: str, old: str, new: str, sentence: str
) -> None:
    edit(folder, table, old, new)
    with pytest.raises(UserError) as caught:
        load_catalog(folder)
    assert sentence in caught.value.sentence


def test_a_missing_or_unreadable_table_is_told_plainly(folder: Path) -> None:
    (folder / "basings.csv").write_bytes(b"basing,base\n9A,\xff\xfe")
    with pytest.raises(UserError, match=r"basings\.csv cannot be read"):
        load_types(folder)
    (folder / "basings.csv").unlink()
    with pytest.raises(UserError, match=r"basings\.csv is missing"):
        load_types(folder)


def test_an_open_quote_does_not_swallow_the_rest_of_the_table(folder: Path) -> None:
    edit(folder, "substitutes", "12AX7,7025,1,,", '12AX7,7025,1,"half,')
    with pytest.raises(UserError, match=r"substitutes\.csv cannot be read"):
        load_catalog(folder)


def test_a_byte_order_mark_and_blank_lines_are_passed_over(folder: Path) -> None:
    path = folder / "equivalents.csv"
    path.write_text("\ufeff" + EQUIVALENTS.replace("\n12AX7,CV", "\n\n12AX7,CV"), encoding="utf-8")
    assert load_types(folder)[0].equivalents == ("ECC83", "CV492")


def test_the_shipped_tables_load_and_have_at_least_a_hundred_types_with_sources() -> None:
    catalog = load_catalog()
    assert len(catalog.types()) >= 100
    assert all(tube.source for tube in catalog.types())
    assert catalog.find("ECC83") is catalog.find("12AX7")


def test_loading_takes_well_under_a_blink() -> None:
    best = min(_seconds_to_load() for _ in range(5))
    assert best / len(load_types()) < 0.0004  # 40 ms for 100 types, ten times what it takes


def _seconds_to_load() -> float:
    began = perf_counter()
    load_catalog()
    return perf_counter() - began


def test_the_version_of_the_tables_is_stable() -> None:
    assert table_version() == table_version()
    assert len(table_version()) == 16
