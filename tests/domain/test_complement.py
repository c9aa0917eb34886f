import pytest
from hypothesis import given
from hypothesis import strategies as st

from tubeshelf.domain.complement import (
    ComplementLine,
    format_complement,
    natural_key,
    parse_complement,
)
from tubeshelf.domain.fitting import Bias, Circuit
from tubeshelf.domain.written_facts import WrittenFacts


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


SPLITTER = WrittenFacts("4+5-9", 300.0, 250.0, Bias.FIXED, -14.0, 450.0, ("1", "6"))


@pytest.mark.parametrize(
    "words",
    [
        "heater=4+5-9 plate=300 screen=250 bias=-14 fixed capacitor=450 ties=1,6 =A series",
        "=a fixed series ties=1,6,1 Capacitor=450V, bias=-14,0;screen=250.0 plate=300,0 HEATER=4+5-9",
        "heater=4+5-9,plate=300,screen=250,bias=−14,fixed,capacitor=450,ties=1,6,=A,series",
    ],
)
def test_facts_of_the_socket_stand_behind_the_type(words: str) -> None:
    read = parse_complement(f"V2 phase splitter 12AX7 {words}")
    assert read.errors == ()
    assert read.lines == (ComplementLine("V2", "phase splitter", "12AX7", Circuit.SERIES, "A", SPLITTER),)


def test_a_role_may_have_the_words_of_a_bias() -> None:
    (line,) = parse_complement("V3 cathode follower 12AU7 cathode").lines
    assert (line.role, line.facts) == ("cathode follower", WrittenFacts(bias=Bias.CATHODE))


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        ("plate=many", "“many” is not a number: type figures, such as 62 or 0.35."),
        ("plate=0", "“0” is not above zero; leave it out if it is not known."),
        ("plate=", "“plate=” says nothing; type the figure behind it, or leave it out."),
        ("capacitor=450µF", "“450µF” is not a number: type figures, such as 62 or 0.35."),
        ("screen=250mA", "“250mA” is in another unit: this field takes V."),
        ("bias=14", "“14” is above zero; type the grid bias as a negative number, such as −14."),
        ("heater=4+5", "“4+5” is no heater wiring; type its pins such as 4+5-9 or 2-7."),
        ("ties=1,x", "“ties=1” stands before the type"),
        ("ties=one", "“one” is no list of pins; type them such as 1,6."),
        ("plate=300 plate=250", "“plate=250” says again what stands there already; keep one of the two."),
        ("fixed cathode", "“cathode” says again what stands there already; keep one of the two."),
        ("grid=5", "“grid=5” is not known; behind the type may stand heater=, plate=, screen=,"),
    ],
)
def test_a_fact_that_cannot_be_read_is_told_with_its_line(words: str, sentence: str) -> None:
    read = parse_complement(f"V1 input 12AX7\nV2 output 6V6GT {words}")
    assert [line.position for line in read.lines] == ["V1"]
    (error,) = read.errors
    assert error.startswith(f"Line 2: {sentence}")


def test_a_fact_before_the_type_is_not_taken_for_its_role() -> None:
    read = parse_complement("V2 output plate=300 6V6GT")
    assert read.errors == (
        "Line 1: “plate=300” stands before the type; type it behind, as in V1 input 12AX7 =A.",
    )


def test_v2_comes_before_v10() -> None:
    positions = ["V10", "V2", "v1", "V2A", "V2B", "10", "X1"]
    assert sorted(positions, key=natural_key) == ["10", "v1", "V2", "V2A", "V2B", "V10", "X1"]
    assert natural_key("5²") == ((0, 5, ""), (1, 0, "²"))


words = st.text(st.characters(categories=("L", "N")), min_size=1, max_size=8)
types = st.from_regex(r"[0-9]{1,2}[A-Z]{1,2}[0-9]{0,2}", fullmatch=True)
roles = st.lists(words, max_size=4).map(" ".join)
volts = st.none() | st.floats(0.001, 5000).filter(lambda x: len(f"{x}") <= 20)
pins = st.sampled_from(["1", "2", "4", "9", "12", "cap"])
facts = st.builds(
    WrittenFacts,
    heater_pins=st.sampled_from(["", "4+5-9", "4-5", "2-7", "1-12"]),
    plate_v=volts,
    screen_v=volts,
    bias=st.none() | st.sampled_from(Bias),
    bias_v=volts.map(lambda x: None if x is None else -x) | st.just(0.0),
    capacitor_v=volts,
    ties=st.lists(pins, unique=True, max_size=4).map(tuple),
)
sockets = st.builds(
    ComplementLine,
    position=words,
    role=roles,
    type_name=types,
    circuit=st.sampled_from([None, Circuit.SERIES, Circuit.PARALLEL]),
    match_group=st.from_regex(r"[A-Z0-9]{0,2}", fullmatch=True),
    facts=facts,
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
