"""What holds for every name in the shipped table, however it is written."""

from collections import Counter
from dataclasses import replace
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tubeshelf.domain.catalog import Catalog
from tubeshelf.domain.designations import fold, zeroed
from tubeshelf.domain.types import TubeType
from tubeshelf.store.shipped import load_catalog

SEPARATORS = st.sampled_from(["", "", "", " ", "-", " - ", ".", "_", "\t"])


@cache
def catalog() -> Catalog:
    return load_catalog()


@cache
def names() -> tuple[tuple[str, TubeType], ...]:
    """Every name with its type; a designation first, an equivalent only where nobody else claims it."""
    types = catalog().types()
    claims = Counter(fold(name) for tube in types for name in (tube.designation, *tube.equivalents))
    own = [(tube.designation, tube) for tube in types]
    return (*own, *((n, tube) for tube in types for n in tube.equivalents if claims[fold(n)] == 1))


@st.composite
def written(draw: st.DrawFn) -> tuple[str, TubeType]:
    """A name of the table as somebody may write it, and the type that it means."""
    name, tube = draw(st.sampled_from(names()))
    text = "".join(character + draw(SEPARATORS) for character in name)
    if draw(st.booleans()):
        text = text.lower()
    if draw(st.booleans()):
        text = text.replace("0", "O")
    if name[0].isdigit() and draw(st.booleans()):
        text = draw(st.sampled_from(["JAN ", "jan-", "JAN/", "JAN CRC "])) + text
    return f"{draw(SEPARATORS)}{text}", tube


def test_every_name_as_it_stands_finds_its_row() -> None:
    for name, tube in names():
        assert catalog().find(name) is tube, name
        assert fold(fold(name)) == fold(name)


@settings(max_examples=500, deadline=None)
@given(written())
def test_blanks_hyphens_case_jan_and_the_letter_o_change_nothing(case: tuple[str, TubeType]) -> None:
    text, tube = case
    assert catalog().find(text) is tube


@settings(max_examples=300)
@given(st.text(max_size=20))
def test_folding_whatever_is_typed_twice_changes_nothing(text: str) -> None:
    assert fold(fold(text)) == fold(text)
    assert fold(text.lower()) == fold(text.lower().upper())


def test_reading_the_letter_o_as_a_zero_makes_no_two_names_one() -> None:
    """Or a name with an O of its own could be taken for another tube."""
    folded = {fold(name) for name, _ in names()}
    assert len({zeroed(name) for name in folded}) == len(folded)


def test_a_ruggedised_name_is_never_read_as_the_plain_one() -> None:
    for tube in catalog().types():
        for suffix in ("W", "WA", "WB"):
            marked = f"{tube.designation}{suffix}"
            found = catalog().find(marked)
            assert found is None or marked in map(fold, (found.designation, *found.equivalents)), marked


@settings(max_examples=60, deadline=None)
@given(st.data())
def test_what_is_retired_is_found_and_never_offered(data: st.DataObject) -> None:
    some = data.draw(st.lists(st.sampled_from(catalog().types()), min_size=2, max_size=12, unique=True))
    retired = set(data.draw(st.lists(st.sampled_from(some), min_size=1, max_size=6)))
    smaller = Catalog(replace(tube, retired=tube in retired) for tube in some)
    for tube in retired:
        misread = tube.designation[:-1] + data.draw(st.sampled_from("0178BEX"))
        gone = {tube.designation for tube in retired}
        for offered in smaller.near(misread):
            found = smaller.find(offered)
            assert found is not None
            assert found.designation not in gone, (misread, offered)
        assert smaller.find(tube.designation) is not None


@pytest.mark.parametrize(
    ("typed", "designation"),
    [
        *(("12ax7a", "12AX7A"), ("ECC 83", "12AX7"), ("6SN7-GTB", "6SN7GTB"), ("5Y3 gt", "5Y3GT")),
        *(("JAN 5814A", "5814A"), ("OA2", "0A2"), ("oa2", "0A2"), ("JAN OA2", "0A2"), ("OZ4", "0Z4")),
    ],
)
def test_names_as_people_write_them(typed: str, designation: str) -> None:
    found = catalog().find(typed)
    assert found is not None
    assert found.designation == designation


def test_an_unknown_name_gets_near_misses_and_is_not_taken_for_any() -> None:
    for typed, first in (("12AX77", "12AX7"), ("l2AX7", "12AX7"), ("6SN7GTC", "6SN7GT"), ("EL48", "6BQ5")):
        assert catalog().find(typed) is None
        near = [catalog().find(name) for name in catalog().near(typed)]
        assert first in [tube.designation for tube in near if tube is not None], (typed, near)
