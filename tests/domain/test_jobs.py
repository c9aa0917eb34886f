import pytest

from tubeshelf.domain.fitting import Outcome
from tubeshelf.domain.jobs import (
    Action,
    Disposition,
    FoundState,
    JobStatus,
    SocketFinding,
    do_not_power,
    find_swaps,
    propose_action,
    propose_for_groups,
)
from tubeshelf.domain.judging import Mark, Observation, TubeVerdict

GOOD = TubeVerdict("good", True)
RIGHT = Outcome.RIGHT_TYPE
TYPE = FoundState.TYPE
SHORT = Observation(Mark.SHORT, is_fault=True, pins="3-4")


@pytest.mark.parametrize(
    ("verdict", "outcome", "state", "action"),
    [
        (GOOD, RIGHT, TYPE, Action.KEEP),
        (TubeVerdict("good", None), RIGHT, TYPE, Action.KEEP),
        (GOOD, Outcome.ACCEPTED_SUBSTITUTE, TYPE, Action.KEEP),
        (GOOD, Outcome.WRONG_TYPE, TYPE, Action.REPLACE),
        (None, Outcome.HARMFUL, TYPE, Action.REPLACE),
        (GOOD, Outcome.CANNOT_SEAT, TYPE, Action.REPLACE),
        (GOOD, Outcome.UNKNOWN, TYPE, Action.UNDECIDED),
        (GOOD, None, FoundState.UNREADABLE, Action.UNDECIDED),
        (TubeVerdict("reject", True), RIGHT, TYPE, Action.REPLACE),
        (TubeVerdict("reject", False), RIGHT, TYPE, Action.UNDECIDED),
        (TubeVerdict("short", True), RIGHT, TYPE, Action.REPLACE),
        (TubeVerdict("gas", True), None, FoundState.UNREADABLE, Action.REPLACE),
        (TubeVerdict("weak", True), RIGHT, TYPE, Action.UNDECIDED),
        (TubeVerdict("good", False, read_again=True), RIGHT, TYPE, Action.UNDECIDED),
        (TubeVerdict("not read", None), RIGHT, TYPE, Action.UNDECIDED),
        (TubeVerdict("unjudged", None), RIGHT, TYPE, Action.UNDECIDED),
        (None, RIGHT, TYPE, Action.UNDECIDED),
        (None, None, FoundState.EMPTY, Action.REPLACE),
        (GOOD, RIGHT, FoundState.NOT_LOOKED, Action.UNDECIDED),
    ],
)
def test_the_proposed_action(
    verdict: TubeVerdict | None, outcome: Outcome | None, state: FoundState, action: Action
) -> None:
    assert propose_action(verdict, outcome, state) is action


def test_replacing_one_of_a_match_group_proposes_all_of_it() -> None:
    actions = {"V3": Action.REPLACE, "V4": Action.KEEP, "V5": Action.UNDECIDED, "V6": Action.KEEP}
    groups = {"V3": "A", "V4": "A", "V5": "B", "V6": None}
    assert propose_for_groups(actions, groups) == {
        "V3": Action.REPLACE,
        "V4": Action.REPLACE,
        "V5": Action.UNDECIDED,
        "V6": Action.KEEP,
    }


def test_a_replaced_socket_outside_any_group_pulls_no_other_with_it() -> None:
    actions = {"V1": Action.REPLACE, "V2": Action.KEEP}
    assert propose_for_groups(actions, {"V1": None, "V2": None}) == actions
    assert propose_for_groups(actions, {}) == actions


def found(position: str, intended: str, actual: str) -> SocketFinding:
    return SocketFinding(position, intended, TYPE, actual)


def test_two_tubes_in_each_others_sockets_are_one_swap() -> None:
    sockets = [found("V1", "6SK7", "6SQ7"), found("V2", "6V6GT", "6V6GT"), found("V3", "6SQ7", "6SK7")]
    assert find_swaps(sockets) == (("V1", "V3"),)


def test_a_socket_takes_part_in_one_swap_only() -> None:
    sockets = [found("V1", "12AX7", "12AU7"), found("V2", "12AU7", "12AX7"), found("V3", "12AU7", "12AX7")]
    assert find_swaps(sockets) == (("V1", "V2"),)


def test_right_tubes_of_one_type_are_no_swap() -> None:
    assert find_swaps([found("V1", "6V6GT", "6V6GT"), found("V2", "6V6GT", "6V6GT")]) == ()
    assert find_swaps([SocketFinding("V1", None), SocketFinding("V2", None)]) == ()


def test_harm_and_shorts_forbid_power() -> None:
    rectifier = SocketFinding("V5", "5Y3GT", TYPE, "5U4G", Outcome.HARMFUL)
    shorted = SocketFinding("V2", "6V6GT", TYPE, "6V6GT", RIGHT, (SHORT,))
    assert do_not_power([rectifier, shorted]) == (
        ("V5", "5U4G is harmful where 5Y3GT belongs"),
        ("V2", "short, pins 3–4"),
    )


def test_a_tie_that_the_technician_calls_no_fault_does_not_forbid_power() -> None:
    tie = Observation(Mark.SHORT, is_fault=False, pins="1-5")
    assert do_not_power([SocketFinding("V2", "6V6GT", TYPE, "6V6GT", RIGHT, (tie,))]) == ()


def test_power_is_forbidden_until_the_tube_is_out() -> None:
    def ended(how: Disposition, now: Outcome | None = None) -> SocketFinding:
        return SocketFinding("V5", "5Y3GT", TYPE, "5U4G", Outcome.HARMFUL, (SHORT,), how, now)

    assert len(do_not_power([ended(Disposition.REFITTED)])) == 2
    assert do_not_power([ended(Disposition.EMPTY_ON_PURPOSE)]) == ()
    assert do_not_power([ended(Disposition.INSTALLED, RIGHT)]) == ()
    assert do_not_power([ended(Disposition.INSTALLED, Outcome.HARMFUL)]) == (
        ("V5", "the tube installed is harmful here"),
    )


def test_a_job_is_open_until_finished() -> None:
    assert [status for status in JobStatus if not status.is_open] == [
        JobStatus.FINISHED,
        JobStatus.HANDED_BACK,
    ]


def test_a_short_of_the_tube_put_in_forbids_power_again() -> None:
    new = SocketFinding(
        "V3",
        "6BQ5",
        FoundState.TYPE,
        "6BQ5",
        Outcome.RIGHT_TYPE,
        observations=(Observation(Mark.SHORT, True, pins="2-3"),),
        left=(Observation(Mark.SHORT, True, pins="4-5"),),
        disposition=Disposition.INSTALLED,
    )
    assert do_not_power([new]) == (("V3", "short, pins 4–5"),)
