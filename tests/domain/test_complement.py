from hypothesis import given
from hypothesis import strategies as st

from tubeshelf.domain.complement import (
    ComplementLine,
    format_complement,
    natural_key,
    parse_complement,
)
from tubeshelf.domain.fitting import Circuit


def test_a_complement_typed_in_a_minute() -> None:
    read = parse_complement(
        """
        V1 input 12AX7
        V3\toutput, pair with V4\t6V6GT  =a
        V4,output,6V6GT,=A
        V5  converter   12BE6 series

        V6 80
        """
    )
    assert read.errors == ()
    assert read.lines == (
        ComplementLine("V1", "input", "12AX7"),
        ComplementLine("V3", "output, pair with V4", "6V6GT", match_group="A"),
        ComplementLine("V4", "output", "6V6GT", match_group="A"),
        ComplementLine("V5", "converter", "12BE6", Circuit.SERIES),
        ComplementLine("V6", "", "80"),
    )


def test_group_and_circuit_stand_in_any_order() -> None:
    one, other = (parse_complement(f"V1 output 50L6GT {tail}").lines for tail in ("=B Series", "series =b"))
    assert one == other == (ComplementLine("V1", "output", "50L6GT", Circuit.SERIES, "B"),)


def test_mistakes_are_collected_by_line_and_the_rest_is_kept() -> None:
    read = parse_complement("V1 input 12AX7\nv1 driver 12AU7\nV2\nV3 output =A\nV4 output 6V6GT")
    assert [line.position for line in read.lines] == ["V1", "V4"]
    assert read.errors == (
        "Line 2: v1 is already in line 1; give each socket one line.",
        "Line 3: “V2” stands alone; type a line such as V1 input 12AX7.",
        "Line 4: the type is missing behind “output”; type a line such as V1 input 12AX7.",
    )


def test_a_pasted_text_is_no_socket() -> None:
    read = parse_complement("V1 " + "input " * 100 + "12AX7")
    assert read.lines == ()
    assert read.errors == ("Line 1: too long for a socket; type a line such as V1 input 12AX7.",)


def test_an_unknown_type_is_somebody_elses_question() -> None:
    assert parse_complement("V1 input 99ZZ9").lines[0].type_name == "99ZZ9"


def test_v2_comes_before_v10() -> None:
    positions = ["V10", "V2", "v1", "V2A", "V2B", "10", "X1"]
    assert sorted(positions, key=natural_key) == ["10", "v1", "V2", "V2A", "V2B", "V10", "X1"]
    assert natural_key("5²") == ((0, 5, ""), (1, 0, "²"))


words = st.text(st.characters(categories=("L", "N")), min_size=1, max_size=8)
types = st.from_regex(r"[0-9]{1,2}[A-Z]{1,2}[0-9]{0,2}", fullmatch=True)
roles = st.lists(words, max_size=4).map(" ".join)
sockets = st.builds(
    ComplementLine,
    position=words,
    role=roles,
    type_name=types,
    circuit=st.sampled_from([None, Circuit.SERIES, Circuit.PARALLEL]),
    match_group=st.from_regex(r"[A-Z0-9]{0,2}", fullmatch=True),
)


@given(st.lists(sockets, max_size=8, unique_by=lambda line: line.position.casefold()))
def test_what_is_written_is_read_back(lines: list[ComplementLine]) -> None:
    read = parse_complement(format_complement(tuple(lines)))
    assert read.errors == ()
    assert read.lines == tuple(lines)


@given(st.text(max_size=300))
def test_any_text_is_read_or_answered(text: str) -> None:
    read = parse_complement(text)
    filled = [line for line in text.splitlines() if line.strip(" ,;\t") and line.split()]
    assert len(read.lines) + len(read.errors) <= len(text.splitlines())
    assert len(read.lines) + len(read.errors) >= len([line for line in filled if any(map(str.isalnum, line))])
