import pytest
from hypothesis import given
from hypothesis import strategies as st

from tubeshelf.domain.errors import UserError
from tubeshelf.domain.money import format_money, parse_money


@pytest.mark.parametrize(
    ("typed", "minor"),
    [
        ("12", 1200),
        ("12.5", 1250),
        ("12,50", 1250),
        ("12.", 1200),
        ("0", 0),
        ("0.07", 7),
        ("-3.20", -320),
        ("\N{MINUS SIGN}3.20", -320),
        (" 12.50 EUR ", 1250),
        ("EUR 12.50", 1250),
        ("€12.50", 1250),
        ("12.50 $", 1250),
    ],
)
def test_amounts_are_read_into_cents(typed: str, minor: int) -> None:
    assert parse_money(typed) == minor


@pytest.mark.parametrize("typed", ["", "twelve", "1,234.50", "12.50.1", ".50", "1 234", "12 EUR 50", "٣"])
def test_what_is_no_amount_is_refused_with_an_example(typed: str) -> None:
    with pytest.raises(UserError, match=r"not an amount: type it without .* such as 1234\.50"):
        parse_money(typed)


def test_thousands_are_never_taken_for_decimals() -> None:
    with pytest.raises(UserError, match="more decimals than the currency"):
        parse_money("1,234")


def test_currencies_with_other_decimals() -> None:
    assert parse_money("1500", currency_digits=0) == 1500
    assert parse_money("1.234", currency_digits=3) == 1234
    assert format_money(1500, "JPY", 0) == "JPY 1,500"
    with pytest.raises(UserError, match=r"such as 1234,"):
        parse_money("15.5", currency_digits=0)


def test_amounts_on_paper() -> None:
    assert format_money(123450, "EUR") == "EUR 1,234.50"
    assert format_money(7, "EUR") == "EUR 0.07"
    assert format_money(-320, "EUR") == "EUR −3.20"
    assert format_money(0) == "0.00"


@given(st.integers(-99_999, 99_999), st.sampled_from(["", "EUR"]))
def test_an_amount_below_a_thousand_is_read_back(minor: int, currency: str) -> None:
    assert parse_money(format_money(minor, currency)) == minor


def test_more_than_a_column_holds_is_refused() -> None:
    assert parse_money("21474836.47") == 2**31 - 1
    for typed in ("21474836.48", "999999999999", "-21474836.48"):
        with pytest.raises(UserError, match=r"is more than can be kept: at most 21,474,836\.47\."):
            parse_money(typed)
