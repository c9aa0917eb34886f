import re
from pathlib import Path

import pypdf
import pytest
from PySide6.QtGui import QGuiApplication

from tubeshelf.cli.main import main

HARM = r"V5: a 5U4G takes 3 A from a winding \w+ 2 A"


class Screen:
    """Stands for the window: remembers on which record it was opened."""

    def __init__(self, *, display: bool = True) -> None:
        self.display = display
        self.opened: list[str | None] = []

    def run(self, *argv: str) -> int:
        return main(argv, open_window=self._open, has_display=lambda: self.display)

    def _open(self, record: str | None) -> int:
        self.opened.append(record)
        return 0


def text_of(path: Path) -> str:
    pages = (page.extract_text() for page in pypdf.PdfReader(path).pages)
    return " ".join(" ".join(pages).split())


def test_the_window_opens_on_a_new_demo_and_an_old_one_is_never_overwritten(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    screen, record = Screen(), tmp_path / "new" / "demo.tubeshelf"
    assert screen.run("demo", "--to", str(record.parent)) == 0
    assert screen.opened == [str(record)]
    assert [path.name for path in record.parent.iterdir()] == ["demo.tubeshelf"]
    was = record.read_bytes()
    capsys.readouterr()
    assert screen.run("demo", "--to", str(record.parent)) == 1
    printed = capsys.readouterr()
    assert printed.out == ""
    assert printed.err == (
        f"tubeshelf: {record} is there already: delete it, or choose another folder with --to.\n"
    )
    assert record.read_bytes() == was
    assert len(screen.opened) == 1


def test_without_a_window_the_papers_of_the_open_jobs_are_written_and_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], qapp: QGuiApplication
) -> None:
    screen = Screen()
    assert screen.run("demo", "--no-window", "--to", str(tmp_path)) == 0
    assert screen.opened == []
    papers = {path.stem: path for path in tmp_path.glob("*.pdf")}
    numbers = range(9, 15)
    kinds = ("retube-list", "statement")
    assert set(papers) == {"order-list", *(f"{kind}-{number}" for kind in kinds for number in numbers)}

    retube = text_of(papers["retube-list-11"])
    assert "Do not power." in retube
    assert re.search(HARM, retube)
    assert "Siân Prŷs-Hughes" in retube
    assert "0098" in retube
    assert "Ελένη Δρόσου" in text_of(papers["retube-list-10"])
    assert "6E5" in text_of(papers["order-list"])
    bill = text_of(papers["statement-12"])
    assert "Quillfen Valve Workshop" in bill
    assert "Approved by Jürgen Waßmuth" in bill
    assert "Declined by the customer V3" in bill

    printed = capsys.readouterr().out
    assert "RETUBE LIST  job 11 · Larkmere A12 practice amplifier, serial 30417" in printed
    assert re.search(HARM, printed)
    for path in papers.values():
        assert str(path) in printed
    assert f"tubeshelf --record {tmp_path / 'demo.tubeshelf'}" in printed


def test_without_a_display_it_says_so_and_still_shows_the_demo(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], qapp: QGuiApplication
) -> None:
    screen = Screen(display=False)
    assert screen.run("demo", "--to", str(tmp_path), "--page", "Letter") == 0
    assert screen.opened == []
    assert "There is no display here, so no window was opened." in capsys.readouterr().out
    width = pypdf.PdfReader(tmp_path / "order-list.pdf").pages[0].mediabox.width
    assert round(float(width)) == 612


def test_a_folder_that_cannot_be_is_refused_and_nothing_is_left(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "file"
    file.write_text("", encoding="utf-8")
    assert Screen().run("demo", "--to", str(file / "sub")) == 1
    assert capsys.readouterr().err == (
        f"tubeshelf: The folder {file / 'sub'} cannot be made (Not a directory): choose another with --to.\n"
    )
    assert list(tmp_path.iterdir()) == [file]


def test_the_demo_is_never_built_into_the_shop_s_own_record(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    record = tmp_path / "shop.tubeshelf"
    assert Screen().run("--record", str(record), "demo") == 1
    assert "--to DIR" in capsys.readouterr().err
    assert not record.exists()
