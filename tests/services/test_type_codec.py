"""A type survives being kept as text, and a mistake in a form is told beside its field."""

import json

import pytest

from tubeshelf.domain.types import Basing, HeaterArrangement, Heating, Ratings, Section, TubeType
from tubeshelf.services.field_errors import FieldErrors
from tubeshelf.services.type_codec import FIELDS, from_fields, to_fields
from tubeshelf.store.shipped import load_catalog

TRIODES = TubeType(
    key="12AX7",
    designation="12AX7",
    function="dual triode",
    basing=Basing(
        "9A", "noval", (("1", ("2.plate",)), ("3", ("2.cathode", "2.beam")), ("9", ("heater.tap",)))
    ),
    heating=Heating.HEATER,
    heaters=(HeaterArrangement(6.3, 0.3, "4+5-9"), HeaterArrangement(12.6, 0.15, "4-5")),
    sections=(
        Section("1", "triode", gm_umho=1600, mu=100, grid_v=-2, plate_ma=1.2),
        Section("2", "triode", readable=False, gm_umho=0.0),
    ),
    ratings=Ratings("design centre", plate_v_max=300, dc_ma=0.0),
    equivalents=("ECC83", "CV492"),
    cautions=("top_cap",),
    note="a “quoted” note; with a semicolon",
)


def test_a_type_comes_back_from_its_fields_as_it_was() -> None:
    assert from_fields("12AX7", to_fields(TRIODES)) == TRIODES


def test_every_field_is_named() -> None:
    assert set(to_fields(TRIODES)) == {*FIELDS, "origin"}


def test_zero_is_kept_and_empty_is_not_known() -> None:
    fields = to_fields(TRIODES)
    assert fields["dc_ma"] == "0"
    assert fields["piv_v"] == ""
    assert from_fields("12AX7", fields).ratings.dc_ma == 0.0


def test_a_type_of_which_little_is_known_is_a_type() -> None:
    facts = {"designation": "XY1", "function": "triode", "base": "octal", "origin": "shop"}
    tube = from_fields("XY1", facts)
    assert (tube.basing.pins, tube.heaters, tube.sections, tube.origin) == ((), (), (), "shop")


@pytest.mark.parametrize(
    ("field", "text", "says"),
    [
        ("designation", " ", "designation"),
        ("heaters", "6.3 V 0.3 A", "6.3/0.3 4+5-9"),
        ("heaters", "6.3/0", "above zero"),
        ("heaters", "6.3/0.3 4-5 |", "no heater"),
        ("heaters", "6..3/0.3", "separators"),
        ("pins", "1=plate", "1:2.plate"),
        ("pins", "1:1.plate 1:1.grid1", "twice"),
        ("pins", "1:", "no element"),
        ("heating", "gas flame", "filament"),
        ("plate_v_max", "lots", "not a number"),
        ("plate_v_max", "-3", "below zero"),
        ("sections", "{", "cannot be read"),
        (
            "sections",
            json.dumps([{"name": "1", "function": "triode", "gm_umho": "many"}]),
            "Section 1, gm µmho",
        ),
        (
            "sections",
            json.dumps([{"name": "1", "function": "triode", "plate_ma": -1}]),
            "Section 1, plate current mA: -1",
        ),
        (
            "sections",
            json.dumps([{"name": "1", "function": "a"}, {"name": "1", "function": "a"}]),
            "same name",
        ),
    ],
)
def test_a_mistake_is_told_beside_its_field(field: str, text: str, says: str) -> None:
    with pytest.raises(FieldErrors) as caught:
        from_fields("12AX7", {**to_fields(TRIODES), field: text})
    assert set(caught.value.fields) == {field}
    assert says in caught.value.fields[field]


def test_all_mistakes_are_told_at_once() -> None:
    with pytest.raises(FieldErrors) as caught:
        from_fields("12AX7", {**to_fields(TRIODES), "base": "", "heaters": "warm", "piv_v": "?"})
    assert set(caught.value.fields) == {"base", "heaters", "piv_v"}


def test_every_shipped_type_comes_back_from_its_facts_as_it_is() -> None:
    for tube in load_catalog().types():
        assert from_fields(tube.key, to_fields(tube)) == tube
