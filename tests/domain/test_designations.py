import pytest
from hypothesis import given
from hypothesis import strategies as st

from tubeshelf.domain.designations import candidates, fold, only_endings_differ, plain, stem


@pytest.mark.parametrize(
    ("written", "key"),
    [
        ("5Y3 gt", "5Y3GT"),
        ("6SN7-GTB", "6SN7GTB"),
        ("ECC 83", "ECC83"),
        ("e.l.84", "EL84"),
        ("OA2", "0A2"),
        ("od3", "0D3"),
        ("OZ4", "0Z4"),
        ("O1A", "01A"),
        ("5O9", "509"),
        ("JAN 12AX7WA", "12AX7WA"),
        ("JAN-CRC-6L6G", "6L6G"),
        ("JAN OA2", "0A2"),
        ("JAN/5670", "5670"),
        ("CV4004", "CV4004"),
        ("6П14П", "6П14П"),
        ("１２ＡＸ７", "12AX7"),
    ],
)
def test_spellings_of_one_name_give_one_key(written: str, key: str) -> None:
    assert fold(written) == key


def test_an_o_that_is_a_letter_stays_one() -> None:
    assert fold("E8OCC") == "E8OCC"
    assert fold("12AO7") == "12AO7"


@given(st.text(max_size=30))
def test_folding_twice_changes_nothing(text: str) -> None:
    assert fold(fold(text)) == fold(text)


@given(
    st.text("0123456789ABCEFGHKLMNPSTUVWXYZ", min_size=2, max_size=8),
    st.lists(st.tuples(st.integers(0, 7), st.sampled_from(" -._"))),
)
def test_blanks_hyphens_dots_and_case_never_matter(name: str, marks: list[tuple[int, str]]) -> None:
    written = name
    for place, mark in marks:
        written = written[:place] + mark + written[place:]
    assert fold(written.lower()) == fold(name)


def test_a_marking_with_two_names_gives_both_in_order() -> None:
    assert candidates("12AX7/ECC83") == ("12AX7", "ECC83")
    assert candidates("7025 / 12ax7-a") == ("7025", "12AX7A")
    assert candidates("5AR4 (GZ34)") == ("5AR4", "GZ34")
    assert candidates("12AX7/12AX7") == ("12AX7",)


def test_a_second_ending_belongs_to_the_first_name() -> None:
    assert candidates("6V6GT/G") == ("6V6GT", "6V6G")
    assert only_endings_differ("6V6GT/G")
    assert not only_endings_differ("12AX7/ECC83")
    assert not only_endings_differ("6V6GT")


def test_a_ruggedised_name_is_not_read_as_the_plain_one() -> None:
    assert candidates("12AX7WA") == ("12AX7WA",)
    assert [plain(name) for name in ("12AX7W", "12AX7-WA", "6SN7GTWB")] == ["12AX7", "12AX7", "6SN7GT"]
    assert plain("12AX7A") is None
    assert plain("35W4") is None


def test_the_stem_ends_with_the_last_digit() -> None:
    assert [stem(name) for name in ("6SN7GTB", "EL84", "80", "GZ")] == ["6SN7", "EL84", "80", "GZ"]
