"""One program writes to a record; the others are told which, and a crash frees it."""

import json
import os
import signal
import subprocess
import sys
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

import pytest

from tests.records import START, FixedClock
from tests.store.rows import add_customer, names
from tubeshelf.bootstrap import open_record
from tubeshelf.domain.errors import UserError
from tubeshelf.store.locking import Holder, RecordLock, lock_path, take_lock
from tubeshelf.store.record import Record

HOLDING = """
import sys
from tubeshelf.bootstrap import open_record
record = open_record(sys.argv[1])
print("open" + record.read_only, flush=True)
sys.stdin.read()
record.close()
"""


@contextmanager
def another_program(path: Path) -> Iterator[subprocess.Popen[str]]:
    """Another program that has the record open for writing until its input ends."""
    program = subprocess.Popen(
        [sys.executable, "-c", HOLDING, str(path)], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    )
    try:
        assert program.stdout is not None
        assert program.stdout.readline() == "open\n"
        yield program
    finally:
        program.communicate(timeout=30)


def test_a_second_program_reads_and_is_told_who_writes(tmp_path: Path, clock: FixedClock) -> None:
    path = tmp_path / "shop.tubeshelf"
    with another_program(path) as program, closing(open_record(str(path), clock=clock)) as record:
        assert names(record) == []
        with pytest.raises(UserError, match=f"in use by another program.*process {program.pid} on"):
            add_customer(record, "Ames")
    with closing(open_record(str(path), clock=clock)) as record:
        add_customer(record, "Ames")
        assert names(record) == ["Ames"]


def test_a_reader_sees_what_the_writing_program_saves(file_record: Record, tmp_path: Path) -> None:
    path = tmp_path / "shop.tubeshelf"
    with closing(open_record(str(path))) as reader:
        assert reader.read_only
        add_customer(file_record, "Ames")
        assert names(reader) == ["Ames"]


def test_a_program_that_was_killed_holds_nothing(tmp_path: Path, clock: FixedClock) -> None:
    path = tmp_path / "shop.tubeshelf"
    with another_program(path) as program:
        program.send_signal(signal.SIGKILL)
        program.wait(30)
        left = json.loads(lock_path(path).read_text())
        assert left["pid"] == program.pid
        with closing(open_record(str(path), clock=clock)) as record:
            assert record.read_only == ""
            mine = json.loads(lock_path(path).read_text())
            assert (mine["pid"], mine["since"]) == (os.getpid(), "2026-03-02 09:00 UTC")


def test_a_lock_from_another_computer_stands_and_says_how_to_end_it(tmp_path: Path) -> None:
    """Nobody here can tell whether that program still runs."""
    path = tmp_path / "shop.tubeshelf"
    lock_path(path).write_text(json.dumps({"pid": 1, "host": "bench-two", "since": "yesterday"}))
    held = take_lock(path, now=START)
    assert held == Holder(1, "bench-two", "yesterday")
    assert f"if none runs there any more, delete {lock_path(path)}" in held.words(path)
    lock_path(path).unlink()
    lock = take_lock(path, now=START)
    assert isinstance(lock, RecordLock)
    lock.release()


@pytest.mark.parametrize("left", ["", "{", "[]", '{"pid": 1}', "\x00" * 40])
def test_a_lock_file_that_makes_no_sense_is_taken_over(tmp_path: Path, left: str) -> None:
    path = tmp_path / "shop.tubeshelf"
    lock_path(path).write_text(left)
    lock = take_lock(path, now=START)
    assert isinstance(lock, RecordLock)
    assert isinstance(take_lock(path, now=START), Holder)
    lock.release()


def test_closing_leaves_the_record_alone_in_its_folder(tmp_path: Path, clock: FixedClock) -> None:
    with closing(open_record(str(tmp_path / "shop.tubeshelf"), clock=clock)) as record:
        add_customer(record, "Ames")
        assert lock_path(tmp_path / "shop.tubeshelf").exists()
    assert [file.name for file in tmp_path.iterdir()] == ["shop.tubeshelf"]


def test_records_in_one_folder_have_locks_of_their_own(tmp_path: Path) -> None:
    names_of_locks = {lock_path(tmp_path / name).name for name in ("a.tubeshelf", "a.db", "a")}
    assert names_of_locks == {"a.tubeshelf-lock", "a.db-lock", "a-lock"}
