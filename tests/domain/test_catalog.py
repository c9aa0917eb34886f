from dataclasses import replace

import pytest

from tests.domain.tubes import output, rectifier, serves, twin
from tubeshelf.domain.catalog import Catalog

AX = replace(twin("12AX7"), equivalents=("ECC83", "CV492"))
AU = replace(twin("12AU7"), equivalents=("ECC82",))
LOW_NOISE = twin("7025")
BEAM = replace(output("6V6GT"), equivalents=())
REGULATOR = twin("0A2")
RECTIFIER = replace(rectifier("80"), equivalents=())

CATALOG = Catalog(
    [AX, AU, LOW_NOISE, BEAM, REGULATOR, RECTIFIER],
    [serves(AX, LOW_NOISE, grade=1), serves(AX, AU, grade=3), serves(AX, REGULATOR)],
)


@pytest.mark.parametrize("name", ["12AX7", "12 ax7", "ECC83", "ecc-83", "12AX7/ECC83", "JAN 12AX7"])
def test_a_type_is_found_by_any_of_its_names_and_spellings(name: str) -> None:
    assert CATALOG.find(name) is AX


def test_a_name_with_the_letter_o_finds_the_cold_cathode_tube() -> None:
    assert CATALOG.find("OA2") is REGULATOR


def test_a_letter_o_within_a_name_is_a_zero_where_only_that_finds_a_tube() -> None:
    special, other = twin("E80CC"), twin("12AO7")
    catalog = Catalog([special, other])
    assert catalog.find("E8OCC") is special
    assert catalog.find("e8o cc / E80CC") is special
    assert catalog.find("12AO7") is other
    assert catalog.find("E8OCF") is None


def test_two_names_of_a_substitute_and_its_type_give_the_first() -> None:
    assert CATALOG.find("7025/12AX7") is LOW_NOISE
    assert CATALOG.find("12AX7/7025") is AX


def test_two_names_that_disagree_are_not_guessed_at() -> None:
    assert CATALOG.find("7025/12AU7") is None
    assert CATALOG.find("12AX7/NEVER1") is None
    assert CATALOG.find("NEVER1/12AX7") is None


def test_an_ending_that_the_table_does_not_list_is_no_second_tube() -> None:
    assert CATALOG.find("6V6GT/G") is BEAM


def test_a_ruggedised_name_is_unknown_and_its_plain_type_is_offered_first() -> None:
    assert CATALOG.find("12AX7WA") is None
    assert CATALOG.near("12AX7WA")[0] == "12AX7"


def test_near_misses_come_nearest_first_and_one_a_type() -> None:
    assert CATALOG.near("12AX8") == ("12AX7", "12AU7")
    assert CATALOG.near("ECC84") == ("ECC82", "ECC83")
    assert CATALOG.near("6V6") == ("6V6GT",)
    assert CATALOG.near("12XA7")[0] == "12AX7"
    assert CATALOG.near("12AX8", limit=1) == ("12AX7",)


@pytest.mark.parametrize(
    ("written", "meant"),
    [
        ("\u0415\u0421\u042183", "ECC83"),  # typed on a Cyrillic keyboard, by the look
        ("\u0431V6GT", "6V6GT"),
        ("Type 80", "80"),
        ("UX-280", "280"),
        ("tube 7025", "7025"),
    ],
)
def test_a_name_in_other_letters_or_behind_a_word_is_offered_and_not_taken(written: str, meant: str) -> None:
    catalog = Catalog([AX, BEAM, replace(RECTIFIER, equivalents=("280",)), LOW_NOISE])
    assert catalog.find(written) is None
    assert catalog.near(written)[0] == meant


def test_a_russian_name_is_offered_by_its_sound() -> None:
    assert Catalog([twin("6N2P"), output("6P14P")]).near("6\u041d2\u041f") == ("6N2P",)
    assert Catalog([output("6P14P")]).near("6\u041f14\u041f") == ("6P14P",)


def test_of_equal_endings_the_one_that_the_name_begins_with_is_offered_first() -> None:
    catalog = Catalog([output("6L6"), output("6L6G"), output("6L6GC"), output("6L6WGC")])
    assert catalog.near("6L6GC STR") == ("6L6GC", "6L6G", "6L6", "6L6WGC")


def test_what_looks_like_nothing_has_no_near_misses() -> None:
    assert CATALOG.near("PL509") == ()
    assert CATALOG.near("") == ()


def test_a_retired_type_is_still_known_but_not_offered() -> None:
    catalog = Catalog([replace(AX, retired=True), AU])
    assert catalog.find("12AX7") is not None
    assert catalog.near("12AX8") == ("12AU7",)


def test_same_is_about_types_not_spellings() -> None:
    assert CATALOG.same("ECC83", "12 AX7")
    assert not CATALOG.same("12AX7", "7025")
    assert not CATALOG.same("NEVER1", "NEVER1")


def test_substitutes_are_listed_both_ways_best_grade_first() -> None:
    assert [entry.found for entry in CATALOG.substitutes_for("12AX7")] == ["7025", "0A2", "12AU7"]
    assert [entry.intended for entry in CATALOG.serves_for("12AU7")] == ["12AX7"]
    assert CATALOG.substitutes_for("12AU7") == ()
    assert CATALOG.substitute("7025", "12AX7") is None


def test_the_later_entry_for_a_pair_stands() -> None:
    own = serves(AX, LOW_NOISE, "noisy in this shop", grade=3)
    catalog = Catalog([AX, LOW_NOISE], [serves(AX, LOW_NOISE, grade=1), own])
    assert catalog.substitutes_for("12AX7") == (own,)


def test_an_entry_may_name_its_types_by_equivalents_and_unknown_ones_are_left_out() -> None:
    by_name = replace(serves(AX, LOW_NOISE), intended="ECC83")
    nowhere = replace(serves(AX, LOW_NOISE), found="NEVER1")
    catalog = Catalog([AX, LOW_NOISE], [by_name, nowhere])
    assert catalog.substitute("12AX7", "7025") is by_name
    assert catalog.substitutes() == (by_name,)


def test_a_designation_beats_an_equivalent_and_a_disputed_equivalent_is_nobodys() -> None:
    claims = replace(AU, equivalents=("7025", "CV492"))
    catalog = Catalog([AX, claims, LOW_NOISE])
    assert catalog.find("7025") is LOW_NOISE
    assert catalog.find("CV492") is None


def test_two_types_of_one_designation_are_refused() -> None:
    with pytest.raises(ValueError, match="12AX7"):
        Catalog([AX, twin("12-AX7")])
