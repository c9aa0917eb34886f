import pytest
from hypothesis import given
from hypothesis import strategies as st

from tubeshelf.domain.tags import format_tag, is_scanned_tag, parse_tag, printed_code


@pytest.mark.parametrize("typed", ["412", "0412", "T0412", "t412", " T0412\n"])
def test_a_tag_typed_or_scanned(typed: str) -> None:
    assert parse_tag(typed) == 412


@pytest.mark.parametrize("typed", ["", "T", "0", "T0000", "-3", "4.2", "12AX7", "TT12", "٤", "1234567890"])
def test_what_is_no_tag(typed: str) -> None:
    assert parse_tag(typed) is None


def test_only_a_printed_code_is_known_to_be_a_tag() -> None:
    assert is_scanned_tag("T0412")
    assert not is_scanned_tag("0412")
    assert not is_scanned_tag("Telefon")


@given(st.integers(1, 999_999_999))
def test_a_tag_is_read_back(tag: int) -> None:
    assert format_tag(tag).isdigit()
    assert parse_tag(format_tag(tag)) == tag
    assert parse_tag(printed_code(tag)) == tag


def test_a_tag_has_four_digits_and_a_code_its_letter() -> None:
    assert (format_tag(412), format_tag(12345), printed_code(412)) == ("0412", "12345", "T0412")
