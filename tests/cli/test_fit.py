import json
import os
import re
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from tubeshelf import __version__
from tubeshelf.cli.main import main


def run(*argv: str) -> int:
    return main(argv, open_window=lambda record: 7 if record is None else 8, has_display=lambda: True)


def answered(capsys: pytest.CaptureFixture[str]) -> list[dict[str, Any]]:
    printed = capsys.readouterr()
    assert printed.err == ""
    return [json.loads(line) for line in printed.out.splitlines()]


def test_fit_prints_one_object_and_echoes_what_was_asked(capsys: pytest.CaptureFixture[str]) -> None:
    assert run("fit", "12ax7", "ecc-83", "--json") == 0
    assert answered(capsys) == [
        {
            "intended": "12ax7",
            "found": "ecc-83",
            "outcome": "right_type",
            "decided_by": "known",
            "conditions": [],
            "reasons": [
                {"rule": "same_tube", "text": "the designed type under another name: ecc-83 for 12ax7"}
            ],
        }
    ]


def test_the_circuit_matters(capsys: pytest.CaptureFixture[str]) -> None:
    assert run("fit", "12AX7", "5751", "--json") == 0
    assert run("fit", "12AX7", "5751", "--circuit", "series", "--json") == 0
    assert [answer["outcome"] for answer in answered(capsys)] == ["accepted_substitute", "wrong_type"]


def test_fit_for_people_says_outcome_reasons_and_conditions(capsys: pytest.CaptureFixture[str]) -> None:
    assert run("fit", "5Y3GT", "5AR4") == 0
    lines = capsys.readouterr().out.splitlines()
    assert lines[:2] == ["5AR4 in a socket for 5Y3GT: wrong type", "decided by: ratings"]
    assert any(
        re.fullmatch(r"  - drops 1\d(\.\d)? V at 125 mA where 60 V was designed", line) for line in lines
    )
    assert "  - check the filter capacitors' voltage rating: B+ rises" in lines


def test_pairs_give_one_object_a_line(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "pairs.csv"
    file.write_text(
        "intended,found,circuit\n50L6GT,35L6GT,series\n12AX7,6SN7GT,\nNEVER1,12AX7,\n", encoding="utf-8"
    )
    assert run("fit", "--pairs", str(file), "--json") == 0
    answers = answered(capsys)
    assert [answer["outcome"] for answer in answers] == ["harmful", "cannot_seat", "unknown"]
    assert answers[2]["intended"] == "NEVER1"


def test_a_bad_row_stops_before_anything_is_printed(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "pairs.csv"
    file.write_text("intended,found\n12AX7,ECC83\n12AX7,\n", encoding="utf-8")
    assert run("fit", "--pairs", str(file), "--json") == 1
    printed = capsys.readouterr()
    assert (printed.out, printed.err) == ("", "tubeshelf: pairs.csv, line 3: 'found' is empty.\n")


@pytest.mark.parametrize(
    "argv",
    [
        ("fit",),
        ("fit", "12AX7"),
        ("fit", "12AX7", " "),
        ("fit", "12AX7", "ECC83", "--circuit", "both"),
        ("fit", "12AX7", "ECC83", "--pairs", "x.csv"),
        ("type",),
        ("nonsense",),
    ],
)
def test_bad_usage_ends_with_two(argv: tuple[str, ...], capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as stopped:
        run(*argv)
    assert stopped.value.code == 2
    assert "usage: tubeshelf" in capsys.readouterr().err


def test_type_prints_what_is_known_and_null_for_what_is_not(capsys: pytest.CaptureFixture[str]) -> None:
    assert run("type", "ECC83", "12AX77", "5Y3GT", "--json") == 0
    twin, unknown, rectifier = answered(capsys)
    assert (twin["asked"], twin["designation"], twin["base"]) == ("ECC83", "12AX7", "noval")
    assert {"volts": 6.3, "amperes": 0.3} in twin["heaters"]
    assert twin["pins"]["9"] == ["heater.tap"]
    assert twin["sections"][0]["mu"] == 100
    assert set(twin) == {
        *("asked", "designation", "equivalents", "function", "base", "basing"),
        *("heaters", "sections", "plate_v_max", "pins", "sources"),
    }
    assert twin["sources"]
    assert unknown == {"asked": "12AX77", "designation": None, "near": unknown["near"]}
    assert "12AX7" in unknown["near"]
    assert rectifier["sections"][0]["mu"] is None


def test_type_for_people_names_the_pins(capsys: pytest.CaptureFixture[str]) -> None:
    assert run("type", "6BQ5", "12AX77") == 0
    out = capsys.readouterr().out
    assert "6BQ5, power pentode" in out
    assert "pin 7           plate\n" in out
    assert "12AX77 is not in the type table; near it: 12AX7" in out


def test_a_name_too_long_to_be_one_and_none_at_all_are_told_shortly(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert run("type", "A" * 5000, "") == 0
    assert run("fit", "12AX7", "A" * 5000) == 0
    out = capsys.readouterr().out
    assert len(out) < 3000
    assert "An empty name is not in the type table" in out
    assert run("substitutes", "A" * 5000) == 1
    assert len(capsys.readouterr().err) < 1000


def test_bare_opens_the_window_on_the_named_record() -> None:
    assert run() == 7
    assert run("--record", "shop.tubeshelf") == 8


def test_help_lists_the_verbs_with_examples(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as stopped:
        run("--help")
    assert stopped.value.code == 0
    printed = capsys.readouterr().out
    assert "tubeshelf fit 12AX7 ECC83" in printed
    assert "may this type stand in that socket?" in printed


# ---- as a program of its own

LOADED = """
import sys
from tubeshelf.cli.main import main
main(["fit", "12AX7", "ECC83"], open_window=lambda record: 0, has_display=lambda: False)
heavy = {"PySide6", "matplotlib", "sqlalchemy", "alembic", "numpy"}
print(sorted({name.partition(".")[0] for name in sys.modules} & heavy))
"""


def program(*argv: str, **environment: str) -> "subprocess.CompletedProcess[str]":
    return subprocess.run(
        [sys.executable, *argv],
        capture_output=True,
        text=True,
        encoding="utf-8",
        env={**os.environ, **environment},
        timeout=60,
        check=False,
    )


def test_fit_starts_without_qt_matplotlib_and_tables_of_a_record() -> None:
    assert program("-c", LOADED).stdout.splitlines()[-1] == "[]"


def test_a_terminal_that_knows_ascii_only_gets_an_answer_all_the_same() -> None:
    done = program("-m", "tubeshelf", "fit", "12AX7", "12AU7", PYTHONIOENCODING="ascii", PYTHONUTF8="0")
    assert (done.returncode, done.stderr) == (0, "")
    assert "? 17 where 100 was designed" in done.stdout or "? 20 where 100 was designed" in done.stdout


def test_the_version_is_told() -> None:
    done = program("-m", "tubeshelf", "--version")
    assert (done.returncode, done.stdout) == (0, f"tubeshelf {__version__}\n")


def test_a_reader_that_goes_away_leaves_no_trace() -> None:
    command = f"'{sys.executable}' -m tubeshelf type 12AX7 5Y3GT 6V6GT --json | true"
    done = subprocess.run(
        ["sh", "-c", command], capture_output=True, text=True, encoding="utf-8", timeout=60, check=False
    )
    assert done.stderr == ""
