from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tubeshelf.domain.dates import format_date, parse_date
from tubeshelf.domain.errors import UserError


@pytest.mark.parametrize(
    "typed", ["2 Dec 2026", "2 December 2026", "2. dec 2026", "02 DEC. 2026", " 2026-12-02 ", "2026-12-2"]
)
def test_dates_as_people_type_them(typed: str) -> None:
    assert parse_date(typed) == date(2026, 12, 2)


@pytest.mark.parametrize(
    "typed", ["", "tomorrow", "2/12/2026", "02.12.2026", "2 Dec 26", "2 De 2026", "2 Dec", "20261202"]
)
def test_a_date_that_could_mean_two_days_is_refused(typed: str) -> None:
    with pytest.raises(UserError, match="is not a date: type it as 2 Dec 2026"):
        parse_date(typed)


@pytest.mark.parametrize("typed", ["31 Feb 2026", "2026-13-01", "2 Foo 2026", "2026-00-10"])
def test_a_day_that_does_not_exist_is_refused(typed: str) -> None:
    with pytest.raises(UserError, match="There is no day"):
        parse_date(typed)


def test_a_slip_in_the_year_is_refused() -> None:
    with pytest.raises(UserError, match="not between 1900 and 2199"):
        parse_date("2 Dec 0026")


def test_may_is_no_march() -> None:
    assert parse_date("1 mar 2026").month == 3
    assert parse_date("1 may 2026").month == 5
    assert parse_date("1 jun 2026").month == 6
    assert parse_date("1 jul 2026").month == 7


@given(st.dates(date(1900, 1, 1), date(2199, 12, 31)))
def test_a_date_is_read_back(day: date) -> None:
    assert parse_date(format_date(day)) == day
    assert parse_date(day.isoformat()) == day


def test_a_date_on_paper() -> None:
    assert format_date(date(2026, 12, 2)) == "2 Dec 2026"
