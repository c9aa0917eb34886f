from pathlib import Path

import pytest

from tests.cli.test_fit import answered, run


def test_the_type_itself_stands_first_and_each_line_is_one_candidate(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert run("substitutes", "ecc 83", "--json") == 0
    candidates = answered(capsys)
    first = candidates[0]
    assert first == {
        "intended": "ecc 83",
        "type": "12AX7",
        "standing": "right",
        "outcome": "right_type",
        "grade": None,
        "conditions": [],
        "reasons": [{"rule": "same_tube", "text": "the designed type"}],
    }
    by_type = {candidate["type"]: candidate for candidate in candidates}
    assert (by_type["7025"]["standing"], by_type["7025"]["grade"]) == ("as good", 1)
    assert "12AU7" not in by_type
    assert "6DJ8" not in by_type


def test_a_string_takes_fewer_types_than_a_winding(capsys: pytest.CaptureFixture[str]) -> None:
    assert run("substitutes", "12AX7", "--json") == 0
    parallel = {candidate["type"] for candidate in answered(capsys)}
    assert run("substitutes", "12AX7", "--circuit", "series", "--json") == 0
    series = {candidate["type"] for candidate in answered(capsys)}
    assert "5751" in parallel - series


def test_facts_of_the_socket_decide(capsys: pytest.CaptureFixture[str]) -> None:
    assert run("substitutes", "5Y3GT", "--supply", "350", "--capacitor", "360", "--json") == 0
    assert "5AR4" not in {candidate["type"] for candidate in answered(capsys)}
    assert run("substitutes", "5Y3GT", "--supply", "350", "--capacitor", "450 V", "--json") == 0
    [found] = [candidate for candidate in answered(capsys) if candidate["type"] == "5AR4"]
    assert (found["standing"], found["outcome"]) == ("compare", "accepted_substitute")


def test_for_people_it_is_a_list_with_standing_type_and_terms(capsys: pytest.CaptureFixture[str]) -> None:
    assert run("substitutes", "12AX7") == 0
    lines = capsys.readouterr().out.splitlines()
    assert lines[0] == "What may go into a socket for 12AX7, heaters in parallel:"
    assert lines[2].startswith("right         12AX7     also called ECC83")
    [ruggedised] = [line for line in lines if " 5751 " in line]
    assert ruggedised.startswith("serves        5751      lower gain; parallel heaters only")
    assert max(map(len, lines)) <= 110


def test_an_unknown_type_is_told_in_one_sentence_with_near_misses(capsys: pytest.CaptureFixture[str]) -> None:
    assert run("substitutes", "12AX77") == 1
    printed = capsys.readouterr()
    assert printed.out == ""
    assert printed.err.startswith("tubeshelf: 12AX77 is not in the type table; near it: 12AX7")
    assert run("substitutes", "nothing like it at all") == 1
    assert capsys.readouterr().err == "tubeshelf: nothing like it at all is not in the type table.\n"


@pytest.mark.parametrize(
    "argv",
    [
        ("substitutes",),
        ("substitutes", "12AX7", "--circuit", "both"),
        ("substitutes", "12AX7", "--supply", "much"),
        ("substitutes", "12AX7", "--winding", "0"),
        ("substitutes", "12AX7", "--bias", "grid"),
        ("substitutes", " "),
        ("substitutes", "12AX7", "--heater-pins", "4+5"),
        ("fit", "12AX7", "6DJ8", "--ties", "one"),
    ],
)
def test_bad_usage_ends_with_two(argv: tuple[str, ...], capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as stopped:
        run(*argv)
    assert stopped.value.code == 2
    assert "usage: tubeshelf" in capsys.readouterr().err


def test_a_winding_with_its_load_decides_about_the_heater(capsys: pytest.CaptureFixture[str]) -> None:
    for rating in ("2 A", "3,5"):
        assert run("fit", "5Y3GT", "5U4GB", "--winding", rating, "--winding-load", "2", "--json") == 0
    over, within = answered(capsys)
    assert (over["outcome"], over["decided_by"]) == ("harmful", "heater")
    assert over["reasons"][0]["text"] == "takes 3 A from a winding rated 2 A"
    assert (within["outcome"], within["decided_by"]) == ("wrong_type", "ratings")


@pytest.mark.parametrize("volts", ["14", "-14", "14 V"])
def test_a_bias_is_below_zero_whether_the_minus_is_typed_or_not(
    volts: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert (
        run("fit", "6L6GC", "KT66", "--bias", "fixed", "--bias-volts", volts, "--supply", "250", "--json")
        == 0
    )
    [answer] = answered(capsys)
    assert any("at −14 V bias and 250 V" in condition for condition in answer["conditions"])


def test_the_facts_are_for_every_row_of_a_file_and_a_row_states_its_circuit(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "pairs.csv"
    file.write_text("intended,found,circuit\n12AX7,6DJ8,\n12AX7,5751,series\n", encoding="utf-8")
    assert run("fit", "--pairs", str(file), "--heater-pins", "4+5-9", "--json") == 0
    wired, string = answered(capsys)
    assert (wired["outcome"], wired["decided_by"]) == ("wrong_type", "heater")
    assert wired["reasons"][0]["text"] == (
        "pin 9: heater centre tap in this socket, internal shield in the found tube: "
        "the heater stays cold at 6.3 V wiring"
    )
    assert string["outcome"] == "wrong_type"
