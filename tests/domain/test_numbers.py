import pytest

from tubeshelf.domain.errors import UserError
from tubeshelf.domain.numbers import format_number, parse_number, plain_number, same_unit


@pytest.mark.parametrize(
    ("typed", "value"),
    [
        ("62", 62.0),
        ("0", 0.0),
        ("-0", 0.0),
        ("1.234", 1.234),
        ("1,234", 1.234),
        ("6,900", 6.9),
        (".5", 0.5),
        (",5", 0.5),
        ("5.", 5.0),
        ("+3", 3.0),
        ("-3,5", -3.5),
        ("\N{MINUS SIGN}3.5", -3.5),
        ("- 3.5", -3.5),
        ("  62\t", 62.0),
        ("\N{NO-BREAK SPACE}62\N{THIN SPACE}%", 62.0),
        ("62 %", 62.0),
        ("62%", 62.0),
        ("6900 µmho", 6900.0),
        ("6900 \N{GREEK SMALL LETTER MU}mho", 6900.0),
        ("2.5MΩ", 2.5),
        ("2.5 M\N{OHM SIGN}", 2.5),
        ("0.3 µA", 0.3),
        ("6.9 mA/V", 6.9),
        ("500 kohm", 500.0),
    ],
)
def test_a_number_is_read_the_same_in_every_locale(typed: str, value: float) -> None:
    assert parse_number(typed) == value


def test_minus_zero_is_zero() -> None:
    assert str(parse_number("-0")) == "0.0"


@pytest.mark.parametrize(
    "typed",
    [
        "abc",
        "12AX7",
        "nan",
        "inf",
        "-inf",
        "1e3",
        "--3",
        "3-",
        "62 or so",
        "x62",
        "%",
        "-",
        ".",
        "1:2",
        "0x10",
    ],
)
def test_what_is_no_number_is_refused_with_an_example(typed: str) -> None:
    with pytest.raises(UserError, match="is not a number: type figures"):
        parse_number(typed)


@pytest.mark.parametrize("typed", ["1,234.5", "1.234,5", "1,234,567", "1..2", "1,234.5 µmho"])
def test_several_separators_are_refused_with_what_to_do(typed: str) -> None:
    with pytest.raises(UserError, match="several separators: type it without one for thousands"):
        parse_number(typed)


def test_a_gap_between_figures_is_refused_for_it_may_be_two_readings() -> None:
    with pytest.raises(UserError, match="has a gap in it"):
        parse_number("62 58")


@pytest.mark.parametrize("typed", ["٦٢", "６２", "5²"])
def test_only_the_figures_0_to_9_are_taken(typed: str) -> None:
    with pytest.raises(UserError, match="figures 0 to 9"):
        parse_number(typed)


@pytest.mark.parametrize("typed", ["", "   ", "\N{NO-BREAK SPACE}"])
def test_nothing_is_not_zero(typed: str) -> None:
    with pytest.raises(UserError, match=r"Type a number\."):
        parse_number(typed)


def test_a_pasted_text_is_refused_without_echoing_all_of_it() -> None:
    with pytest.raises(UserError) as refused:
        parse_number("7" * 100_000)
    assert len(refused.value.sentence) < 100


def test_a_unit_other_than_that_of_the_field_is_not_dropped_silently() -> None:
    assert parse_number("6900 µS", unit="µmho") == 6900.0
    assert parse_number("62 points", unit="points") == 62.0
    with pytest.raises(UserError, match="this field takes µmho"):
        parse_number("6.9 mS", unit="µmho")


def test_names_of_one_unit_are_the_same_and_thousandfold_units_are_not() -> None:
    assert same_unit("µmho", "µS")
    assert same_unit("mS", "mA/V")
    assert not same_unit("µmho", "mS")
    assert not same_unit("kΩ", "MΩ")
    assert not same_unit("", "")


@pytest.mark.parametrize(
    ("x", "shown"),
    [
        (6900.0, "6,900"),
        (0.35, "0.35"),
        (62.0, "62"),
        (0.0, "0"),
        (-0.0, "0"),
        (-3.5, "\N{MINUS SIGN}3.5"),
        (0.1 + 0.2, "0.3"),
        (1234567.0, "1,234,567"),
        (1e-7, "0.0000001"),
        (1e15, "1,000,000,000,000,000"),
    ],
)
def test_numbers_on_screen_and_paper(x: float, shown: str) -> None:
    assert format_number(x) == shown


def test_rounding_to_significant_figures() -> None:
    assert format_number(6896.67, 4) == "6,897"
    assert format_number(346.2, 2) == "350"
    assert format_number(0.0304, 2) == "0.03"


def test_a_field_to_be_edited_shows_no_grouping() -> None:
    assert plain_number(6900.0) == "6900"
    assert plain_number(1e22) == "1" + "0" * 22
    with pytest.raises(ValueError, match="finite"):
        plain_number(float("nan"))
