"""Free fields of what is measured in a set."""

import pytest

from tests.domain.tubes import OUTPUT, TAPPED, TWIN, tube
from tubeshelf.domain.errors import UserError
from tubeshelf.domain.set_fields import (
    PROPOSED,
    UNITS,
    Quantity,
    SetField,
    check_fields,
    is_output_socket,
    parse_set_value,
    quantity_name,
    value_text,
)

BIAS = SetField("Bias", "V", Quantity.BIAS_V)
CATHODE = SetField("Cathode current", "mA", Quantity.CATHODE_MA, per_socket=True)


def test_what_is_proposed_first_can_be_saved_as_it_is() -> None:
    check_fields(PROPOSED)
    assert [field.label for field in PROPOSED] == [
        "Line, V",
        "B+, V",
        "Bias, V",
        "Cathode current, mA",
        "Burn-in, h",
    ]
    assert [field.name for field in PROPOSED if field.per_socket] == ["Cathode current"]


@pytest.mark.parametrize(
    ("fields", "said"),
    [
        ((SetField(" ", "V"),), "Give each field a name"),
        ((SetField("Hum", "mV"), SetField("hum", "V")), "hum stands there twice"),
        ((SetField("Cathode", "A", Quantity.CATHODE_MA),), "type mA as its unit"),
        ((SetField("Line", "", Quantity.LINE_V),), "type V as its unit"),
    ],
)
def test_what_cannot_be_is_said(fields: tuple[SetField, ...], said: str) -> None:
    with pytest.raises(UserError, match=said.replace("+", r"\+")):
        check_fields(fields)


def test_anything_else_may_be_measured_in_anything() -> None:
    check_fields((SetField("Hum at the speaker", "mV"), SetField("Tuning range", ""), SetField("RF", "dBm")))


def test_every_quantity_has_a_name_and_those_reckoned_with_a_unit() -> None:
    assert len({quantity_name(one) for one in Quantity}) == len(Quantity)
    assert set(UNITS) == set(Quantity) - {Quantity.ANY}


@pytest.mark.parametrize(("text", "value"), [("38,5", 38.5), ("38.5 mA", 38.5), ("0", 0.0)])
def test_point_and_comma_and_zero(text: str, value: float) -> None:
    assert parse_set_value(text, CATHODE) == value


def test_a_bias_may_be_below_zero_a_current_not() -> None:
    assert parse_set_value("-37", BIAS) == -37.0
    assert parse_set_value("−37 V", BIAS) == -37.0
    assert parse_set_value("-3", SetField("Level", "dB")) == -3.0
    with pytest.raises(UserError, match="Cathode current cannot be below zero"):
        parse_set_value("-38", CATHODE)


@pytest.mark.parametrize("text", ["38 A", "12AX7", "3 8", "²", "1e3"])
def test_what_is_no_number_of_milliamperes_is_refused(text: str) -> None:
    with pytest.raises(UserError):
        parse_set_value(text, CATHODE)


def test_values_are_shown_with_their_unit() -> None:
    assert value_text(-37.0, "V") == "−37 V"
    assert value_text(38.5, "mA") == "38.5 mA"
    assert value_text(2.0, "") == "2"


POWER = tube("6V6GT", OUTPUT, "6.3/0.45 2-7", "1 beam power", base="octal")
TRIODE = tube("12AU7", TWIN, TAPPED, "1+2 triode")


@pytest.mark.parametrize(
    ("role", "of", "expected"),
    [
        ("output", POWER, True),
        ("Output, pair", TRIODE, True),  # a headphone amplifier
        ("", POWER, True),
        ("final", POWER, True),
        ("reverb driver", POWER, False),
        ("screen regulator", POWER, False),
        ("input", TRIODE, False),
        ("audio", None, False),
    ],
)
def test_which_sockets_are_outputs(role: str, of: object, expected: bool) -> None:
    assert is_output_socket(role, of) is expected  # type: ignore[arg-type] # a type or nothing
