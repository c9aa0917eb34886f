"""Where the command line reads and writes: the record before or behind the verb, papers, a full disk."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pypdf
import pytest

from tubeshelf.cli.main import main


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("workshop")
    assert run("demo", "--to", str(folder)) == 0
    return folder / "demo.tubeshelf"


def run(*argv: str) -> int:
    return main(argv, open_window=lambda record: 0, has_display=lambda: True)


def test_the_record_may_be_named_before_or_behind_the_verb(
    demo: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    asked = ("job", "11", "--json")
    assert run("--record", str(demo), *asked) == 0
    assert run(*asked, "--record", str(demo)) == 0
    assert run(f"--record={demo}", *asked) == 0
    assert run("--record", "nowhere.tubeshelf", *asked, "--record", str(demo)) == 0
    monkeypatch.setenv("TUBESHELF_RECORD", str(demo))
    assert run(*asked) == 0
    answers = capsys.readouterr().out.splitlines()
    assert len(answers) == 5
    assert set(answers) == {answers[0]}
    assert json.loads(answers[0])["number"] == 11


@pytest.mark.parametrize("verb", [("job", "1"), ("shelf",), ("retube", "1", "--to", "a.pdf")])
def test_a_question_never_makes_a_record(
    verb: tuple[str, ...], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    record = tmp_path / "typo" / "shop.tubeshelf"
    assert run(*verb, "--record", str(record)) == 1
    assert capsys.readouterr().err == (
        f"tubeshelf: There is no record {record} yet: begin one in the window, with 'tubeshelf', "
        "or name another with --record.\n"
    )
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("number", ["99", "0", "2147483648", "9" * 30])
def test_a_job_that_is_not_there_is_told(number: str, demo: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run("job", number, "--record", str(demo)) == 1
    assert capsys.readouterr().err == f"tubeshelf: There is no job {number} in this record.\n"


def test_a_paper_replaces_nothing_but_a_paper(demo: Path, capsys: pytest.CaptureFixture[str]) -> None:
    was = demo.read_bytes()
    assert run("retube", "11", "--to", str(demo), "--record", str(demo)) == 1
    assert capsys.readouterr().err == (
        "tubeshelf: The paper is a PDF: name a file that ends in .pdf, such as demo.pdf.\n"
    )
    assert demo.read_bytes() == was


def test_a_paper_of_the_same_name_is_replaced(demo: Path, tmp_path: Path, qapp: object) -> None:
    paper = tmp_path / "list.PDF"
    for size, width in (("A4", 595), ("Letter", 612)):
        assert run("retube", "11", "--to", str(paper), "--page", size, "--record", str(demo)) == 0
        assert round(float(pypdf.PdfReader(paper).pages[0].mediabox.width)) == width
    assert [path.name for path in tmp_path.iterdir()] == ["list.PDF"]


@pytest.mark.parametrize(("side", "above", "below"), [("above", 1, 0), ("below", 0, 1), ("both", 1, 1)])
def test_the_chassis_is_drawn_from_the_side_that_is_asked_for(
    side: str, above: int, below: int, demo: Path, tmp_path: Path, qapp: object
) -> None:
    paper = tmp_path / "list.pdf"
    assert run("retube", "11", "--to", str(paper), "--map", side, "--record", str(demo)) == 0
    text = " ".join(" ".join(page.extract_text() for page in pypdf.PdfReader(paper).pages).split())
    assert (text.count("from above"), text.count("from below")) == (above, below)


@pytest.mark.skipif(os.name == "nt", reason="other devices there")
def test_a_paper_never_takes_the_place_of_a_device(
    demo: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str], qapp: object
) -> None:
    pipe = tmp_path / "pipe.pdf"
    os.mkfifo(pipe)
    assert run("retube", "11", "--to", str(pipe), "--record", str(demo)) == 1
    assert capsys.readouterr().err == f"tubeshelf: {pipe} is no ordinary file: choose another name.\n"
    assert pipe.is_fifo()


# ---- as a program of its own


def program(command: str, **environment: str) -> "subprocess.CompletedProcess[str]":
    return subprocess.run(
        ["sh", "-c", command.replace("tubeshelf", f"'{sys.executable}' -m tubeshelf", 1)],
        capture_output=True,
        text=True,
        encoding="utf-8",
        env={**os.environ, **environment},
        timeout=60,
        check=False,
    )


@pytest.mark.skipif(not Path("/dev/full").is_char_device(), reason="a device of Linux")
def test_an_answer_that_finds_no_room_is_told() -> None:
    done = program("tubeshelf fit 12AX7 ECC83 > /dev/full")
    assert (done.returncode, done.stderr) == (
        1,
        "tubeshelf: The system refused what was asked, so the answer is not complete: "
        "No space left on device.\n",
    )


@pytest.mark.skipif(os.name == "nt", reason="a shell that closes descriptors")
def test_an_answer_that_nobody_wants_is_no_trouble() -> None:
    done = program("tubeshelf fit 12AX7 ECC83 >&-")
    assert (done.returncode, done.stderr) == (0, "")


BUG = """
import sys
from tubeshelf import __main__
from tubeshelf.cli import fit
fit.shipped_catalog = None
sys.argv = ["tubeshelf", "fit", "12AX7", "ECC83"]
sys.exit(__main__.main())
"""


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="logs lie elsewhere")
def test_a_bug_is_one_sentence_and_its_trace_goes_to_the_log(tmp_path: Path) -> None:
    bug = tmp_path / "bug.py"
    bug.write_text(BUG, encoding="utf-8")

    def met(state: Path) -> "subprocess.CompletedProcess[str]":
        return subprocess.run(
            [sys.executable, str(bug)],
            capture_output=True,
            text=True,
            encoding="utf-8",
            env={**os.environ, "XDG_STATE_HOME": str(state), "PYTHONPATH": os.getcwd()},
            timeout=60,
            check=False,
        )

    done = met(tmp_path / "state")
    (log,) = (tmp_path / "state").rglob("tubeshelf.log")
    assert (done.returncode, done.stdout) == (1, "")
    assert done.stderr == (
        "tubeshelf: This is a fault of the program, not yours (TypeError): nothing was finished. "
        f"The details are in {log}.\n"
    )
    assert "TypeError: 'NoneType' object is not callable" in log.read_text(encoding="utf-8")
    (tmp_path / "file").touch()
    unlogged = met(tmp_path / "file" / "state")
    assert unlogged.returncode == 1
    assert "Traceback" in unlogged.stderr
