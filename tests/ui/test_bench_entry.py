"""What is typed on the bench page: what stands in a socket, readings, slips; going back and taking back."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from tests.ui.drivers.bench import Bench, BenchDriver
from tubeshelf.domain.fitting import Outcome
from tubeshelf.domain.jobs import FoundState


def test_five_tubes_as_intended_and_good(at_bench: BenchDriver, bench: Bench) -> None:
    assert at_bench.at == "V1, what stands in it"
    for values in (("1540", "1510"), ("1490", "1500"), ("9200",), ("9400",), ("", "")):
        at_bench.read_pair(*values)
    assert at_bench.row("V1")[2:5] == ["12AX7", "1,540 · 1,510", "good, transconductance"]
    assert at_bench.row("V4")[4:7] == [
        "good, transconductance",
        "right type: the designed type",
        "keep, proposed",
    ]
    job = bench.job()
    assert [s.found.designation for s in job.sockets] == ["12AX7", "12AX7", "6BQ5", "6BQ5", "5Y3GT"]
    assert [[r.value for line in s.lines for r in line.readings] for s in job.sockets] == [
        [1540, 1510],
        [1490, 1500],
        [9200],
        [9400],
        [],
    ]
    assert at_bench.asked.startswith("That was the last socket")


def test_enter_goes_on_and_never_assumes_what_was_found(at_bench: BenchDriver, bench: Bench) -> None:
    at_bench.enter()
    assert at_bench.at == "V2, what stands in it"
    assert at_bench.row("V1")[2] == "not looked yet"
    assert bench.socket("V1").found.state is FoundState.NOT_LOOKED


def test_a_reading_before_anything_was_said_of_the_socket_is_no_type(
    at_bench: BenchDriver, bench: Bench
) -> None:
    at_bench.enter("1540")
    assert at_bench.asked == "1540 is no type. First say what is in V1: + as intended, or its mark."
    assert at_bench.field == "1540"
    assert bench.socket("V1").found.state is FoundState.NOT_LOOKED


def test_a_wrong_type_typed_by_letters(at_bench: BenchDriver, bench: Bench) -> None:
    at_bench.enter("12au7")
    assert at_bench.at.startswith("V1, reading")
    assert at_bench.row("V1")[2] == "12AU7"
    assert at_bench.row("V1")[5].startswith("wrong type: ")
    assert at_bench.row("V1")[6].startswith("replace, proposed")
    fit = bench.socket("V1").fit
    assert fit is not None
    assert fit.outcome is Outcome.WRONG_TYPE
    assert any(reason.text in at_bench.detail for reason in fit.reasons)


def test_a_letter_in_a_reading_starts_a_found_type(at_bench: BenchDriver, bench: Bench) -> None:
    at_bench.press("+").type("ECC83")
    assert at_bench.at == "V1, what stands in it"
    at_bench.enter()
    assert bench.socket("V1").found.marked == "ECC83"
    assert at_bench.row("V1")[5] == "right type: ECC83 is another name of 12AX7."


def test_a_type_that_begins_with_figures_is_asked_about_in_a_reading(
    at_bench: BenchDriver, bench: Bench
) -> None:
    at_bench.press("+").enter("12AU7")
    assert at_bench.asked.startswith("12AU7 is a type, not a reading. Is it what stands in V1?")
    at_bench.enter()
    assert bench.socket("V1").found.marked == "12AU7"


def test_the_names_on_offer_are_picked_with_the_arrow(at_bench: BenchDriver, bench: Bench) -> None:
    at_bench.type("12au")
    assert at_bench.page.table.names.names[:2] == ("12AU6", "12AU7")
    at_bench.press(Qt.Key.Key_Down, Qt.Key.Key_Down).enter()
    assert bench.socket("V1").found.marked == "12AU7"


def test_a_name_that_the_table_does_not_know_is_kept_once_confirmed(
    at_bench: BenchDriver, bench: Bench
) -> None:
    at_bench.enter("12QX7")
    assert "12QX7 is not in the type table" in at_bench.asked
    assert bench.socket("V1").found.state is FoundState.NOT_LOOKED
    at_bench.enter()
    assert bench.socket("V1").found.marked == "12QX7"
    assert at_bench.row("V1")[5].startswith("unknown")


def test_a_type_name_of_figures_alone_is_asked_about(at_bench: BenchDriver, bench: Bench) -> None:
    at_bench.enter("6550")
    assert at_bench.asked.startswith("6550 is a type. Was it in V1?")
    at_bench.escape()
    assert (at_bench.field, at_bench.asked) == ("", "")
    assert bench.socket("V1").found.state is FoundState.NOT_LOOKED


def test_a_slip_is_asked_about_in_the_line_and_confirmed_by_enter(
    at_bench: BenchDriver, bench: Bench
) -> None:
    at_bench.press("+").enter("15400")
    assert at_bench.asked == "15,400 is off the scale, which ends at 15,000: keep it? Enter: yes. Esc: no."
    assert at_bench.field == "15400"
    assert not bench.socket("V1").lines[0].readings
    at_bench.enter()
    assert [r.value for r in bench.socket("V1").lines[0].readings] == [15400]
    assert at_bench.at == "V1, reading section 2"


@pytest.mark.parametrize(
    ("before", "typed", "question"),
    [
        ((), "15001", "15,001 is off the scale, which ends at 15,000: keep it?"),
        ((), "3300", "3,300 is more than twice the bogey, 1,600: keep it?"),
        (("150",), "1500", "1,500 is about ten times the last reading, 150: keep it?"),
        (("1500",), "150", "150 is about a tenth of the last reading, 1,500: keep it?"),
        ((), "1,6", "1.6 is about 1,000 times less than the bogey, 1,600: is the unit right?"),
    ],
)
def test_every_likely_slip_is_asked_in_the_line_and_counts_for_nothing_until_then(
    at_bench: BenchDriver, bench: Bench, before: tuple[str, ...], typed: str, question: str
) -> None:
    at_bench.press("+")
    for text in before:
        at_bench.type(text).press("+")
    at_bench.enter(typed)
    assert at_bench.asked == f"{question} Enter: yes. Esc: no."
    assert len(bench.socket("V1").lines[0].readings) == len(before)
    assert QApplication.activeModalWidget() is None
    at_bench.escape().enter("0")
    assert [r.value for r in bench.socket("V1").lines[0].readings][-1] == 0, "zero is a dead tube"


def test_a_slip_is_cleared_by_escape_or_by_typing_on(at_bench: BenchDriver, bench: Bench) -> None:
    at_bench.press("+").enter("15400").escape()
    assert (at_bench.field, at_bench.asked) == ("", "")
    at_bench.enter("15400").press(Qt.Key.Key_Backspace)
    assert (at_bench.field, at_bench.asked) == ("1540", "")
    at_bench.enter()
    assert [r.value for r in bench.socket("V1").lines[0].readings] == [1540]


def test_text_in_a_reading_gives_a_sentence_and_stays(at_bench: BenchDriver, bench: Bench) -> None:
    at_bench.press("+").enter("15q0")
    assert at_bench.asked == "“15q0” is not a number: type figures, such as 62 or 0.35."
    assert at_bench.field == "15q0"
    assert not bench.socket("V1").lines[0].readings


def test_the_first_slash_clears_what_is_typed(at_bench: BenchDriver, bench: Bench) -> None:
    at_bench.press("+").type("15").press("/")
    assert at_bench.field == ""
    assert bench.socket("V1").found.state is FoundState.TYPE


def test_slash_and_dash_belong_to_names(at_bench: BenchDriver) -> None:
    at_bench.type("6v6gt/g")
    assert at_bench.field == "6v6gt/g"


def test_moving_away_does_not_lose_what_is_typed(at_bench: BenchDriver) -> None:
    at_bench.press("+").type("15").press(Qt.Key.Key_Down)
    assert at_bench.field == "15"
    assert at_bench.at == "V1, reading section 1"
    assert at_bench.asked == "Enter saves 15, Esc clears it."


def test_back_goes_field_by_field(at_bench: BenchDriver) -> None:
    at_bench.press("+").enter("1540").enter("1510").press("-", "-")
    assert at_bench.at == "V1, reading section 1"
    at_bench.press("-")
    assert at_bench.at == "V1, what stands in it"


def test_take_back_undoes_the_last_entry_and_goes_there(at_bench: BenchDriver, bench: Bench) -> None:
    at_bench.press("+").enter("1540").enter("1510")
    assert at_bench.at == "V2, what stands in it"
    at_bench.press("/")
    assert at_bench.at == "V1, reading section 2"
    assert [len(line.readings) for line in bench.socket("V1").lines] == [1, 0]
    at_bench.press("Ctrl+Z").press("Ctrl+Z")
    assert at_bench.at == "V1, what stands in it"
    assert bench.socket("V1").found.state is FoundState.NOT_LOOKED


def test_every_act_is_told_to_the_window(at_bench: BenchDriver) -> None:
    at_bench.press("+").enter("1540")
    assert at_bench.said == ["V1 of job 1: found 12AX7", "Saved 1,540 at V1, job 1"]
