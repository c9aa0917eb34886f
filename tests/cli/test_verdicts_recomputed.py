"""What ``job --json`` says of a tube follows from the readings beside it, by rules written here again."""

import json
from collections.abc import Iterator
from typing import Any

import pytest

from tubeshelf.cli.main import main

JOBS = range(1, 15)
WORST_FIRST = ("reject", "weak", "unjudged", "good")

Facts = dict[str, Any]


@pytest.fixture(scope="module")
def answers(tmp_path_factory: pytest.TempPathFactory) -> list[Facts]:
    """Every job of the demo as the command line prints it."""
    folder = tmp_path_factory.mktemp("workshop")
    assert run("demo", "--to", str(folder)) == 0
    printed = folder / "jobs"
    with pytest.MonkeyPatch.context() as patch, printed.open("w", encoding="utf-8") as out:
        patch.setattr("sys.stdout", out)
        for number in JOBS:
            assert run("job", str(number), "--json", "--record", str(folder / "demo.tubeshelf")) == 0
    return [json.loads(line) for line in printed.read_text(encoding="utf-8").splitlines()]


def run(*argv: str) -> int:
    return main(argv, open_window=lambda record: 0, has_display=lambda: True)


def sockets(answers: list[Facts]) -> Iterator[tuple[str, Facts]]:
    for answer in answers:
        for socket in answer["sockets"]:
            yield f"job {answer['number']} {socket['position']}", socket


def zone(reading: Facts) -> str:
    value, good, reject = reading["value"], *map(reading["limits"].get, ("good_from", "reject_below"))
    if value <= 0 or (reject is not None and value < reject):
        return "reject"
    if good is None and reject is None:
        return "unjudged"
    return "weak" if good is not None and value < good else "good"


def sure(reading: Facts) -> bool | None:
    """Farther than 1.645·u from the nearest limit; unknown without u or without a limit."""
    limits = [reading["limits"][name] for name in ("good_from", "reject_below")]
    away = [abs(reading["value"] - limit) for limit in limits if limit is not None]
    return None if reading["u"] is None or not away else min(away) > 1.645 * reading["u"]


def test_the_keys_that_other_programs_rely_on(answers: list[Facts]) -> None:
    assert [answer["number"] for answer in answers] == list(JOBS)
    for answer in answers:
        assert {"number", "equipment", "sockets"} <= answer.keys()
    wanted = {"position", "role", "intended", "found", "readings", "observations", "verdict"}
    readings = 0
    for where, socket in sockets(answers):
        assert wanted | {"sure", "fit", "action", "spare"} <= socket.keys(), where
        assert {"answer", "answer_how", "answer_on", "unused_sections"} <= socket.keys(), where
        for reading in socket["readings"]:
            keys = {"line", "section", "value", "unit", "tester", "stage", "u", "limits"}
            assert keys <= reading.keys(), where
            readings += 1
    assert readings > 100


def test_what_was_measured_answered_and_left_empty_is_told(answers: list[Facts]) -> None:
    by_number = {answer["number"]: answer for answer in answers}
    values = {(v["name"], v["position"]): (v["value"], v["unit"]) for v in by_number[6]["set_values"]}
    assert values["B+", None] == (305, "V")
    assert values["Cathode current", "V8"] == (38, "mA")
    assert [one["position"] for one in by_number[6]["dissipation"]] == ["V5", "V6", "V7", "V8"]
    assert by_number[13]["standing_empty"] == ["V5"]
    assert by_number[13]["put_aside_why"].startswith("no rectifier")
    answered = next(socket for socket in by_number[6]["sockets"] if socket["position"] == "V5")
    assert (answered["answer"], answered["answer_how"]) == ("agreed", "by e-mail")
    assert len(answered["answer_on"]) == len("2026-01-12")


def test_the_zone_of_every_reading_and_how_sure_it_is(answers: list[Facts]) -> None:
    said, recomputed = [], []
    for where, socket in sockets(answers):
        for reading in socket["readings"]:
            said.append((where, reading["line"], reading["zone"], reading["sure"]))
            recomputed.append((where, reading["line"], zone(reading), sure(reading)))
    assert said == recomputed
    assert {"reject", "weak", "good"} <= {word for _, _, word, _ in said}
    assert {doubt for _, _, _, doubt in said} == {True, False, None}


def test_a_value_is_the_mean_of_its_repeats_and_u_shrinks_with_their_root(answers: list[Facts]) -> None:
    single: dict[str, set[float]] = {}
    for where, socket in sockets(answers):
        for reading in socket["readings"]:
            values = reading["values"]
            assert reading["value"] == pytest.approx(sum(values) / len(values)), where
            if reading["u"] is not None and len(values) > 1:
                alone = reading["u"] * len(values) ** 0.5
                single.setdefault(reading["tester"], set()).add(round(alone / reading["value"], 6))
    assert single
    assert all(len(shares) == 1 for shares in single.values()), single


def test_a_tube_is_as_good_as_its_worst_line_and_a_fault_outranks_every_number(answers: list[Facts]) -> None:
    words = set()
    for where, socket in sockets(answers):
        lines = [reading for reading in socket["readings"] if reading["stage"] == "as found"]
        faults = [seen["mark"] for seen in socket["observations"] if seen["fault"]]
        words.add(socket["verdict"])
        if faults:
            assert socket["verdict"] in faults, where
        elif not lines:
            assert (socket["verdict"], socket["sure"]) == ("not read", None), where
        else:
            worst = min(map(zone, lines), key=WORST_FIRST.index)
            doubts = [sure(line) for line in lines if zone(line) == worst]
            # One sure reject settles the tube; otherwise the least sure of the worst lines speaks.
            order = (True, None, False) if worst == "reject" else (False, None, True)
            assert (socket["verdict"], socket["sure"]) == (worst, min(doubts, key=order.index)), where
    assert {"good", "weak", "reject", "not read", "short", "gas"} <= words
