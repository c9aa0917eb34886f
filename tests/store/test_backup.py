"""A backup is whole and checked, restoring refuses what cannot be opened, and no file is ever overwritten."""

import shutil
import sqlite3
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing
from pathlib import Path

import pytest

from tests.store.rows import CUSTOMER, add_customer, names, read, reading_place
from tubeshelf.bootstrap import open_record
from tubeshelf.domain.errors import UserError
from tubeshelf.store.backup import backup, restore
from tubeshelf.store.record import Record
from tubeshelf.store.tables import Customer


def test_a_backup_holds_what_was_saved_up_to_now(file_record: Record, tmp_path: Path) -> None:
    """The newest acts are still in the file beside the record; the backup is one file and needs none."""
    add_customer(file_record, "Ames")
    copy = tmp_path / "copy.tubeshelf"
    backup(file_record, copy)
    add_customer(file_record, "Bell")
    (tmp_path / "far").mkdir()
    copy.rename(tmp_path / "far" / "copy.tubeshelf")
    with closing(open_record(str(tmp_path / "far" / "copy.tubeshelf"))) as record:
        assert names(record) == ["Ames"]


def test_a_backup_while_an_act_is_open_does_not_wait_and_holds_none_of_it(
    file_record: Record, tmp_path: Path
) -> None:
    add_customer(file_record, "Ames")
    with file_record.act("customer") as journal:
        journal.insert(Customer, name="Bell", **CUSTOMER)
        with ThreadPoolExecutor(1) as other:
            other.submit(backup, file_record, tmp_path / "copy.tubeshelf").result(timeout=20)
    with closing(open_record(str(tmp_path / "copy.tubeshelf"))) as record:
        assert names(record) == ["Ames"]


def test_a_restored_record_is_the_one_that_was_backed_up(file_record: Record, tmp_path: Path) -> None:
    place = reading_place(file_record)
    with file_record.act("reading") as journal:
        for value in range(500):
            read(journal, place, float(value))
    backup(file_record, tmp_path / "copy")
    restore(tmp_path / "copy", tmp_path / "restored.tubeshelf")

    def dump(path: Path) -> list[str]:
        with closing(sqlite3.connect(path)) as connection:
            return list(connection.iterdump())

    assert file_record.path is not None
    assert dump(tmp_path / "restored.tubeshelf") == dump(file_record.path)


def test_no_file_is_overwritten(file_record: Record, tmp_path: Path) -> None:
    taken = tmp_path / "taken"
    taken.write_text("precious")
    with pytest.raises(UserError, match="exists already and is left as it is"):
        backup(file_record, taken)
    backup(file_record, tmp_path / "copy")
    with pytest.raises(UserError, match="exists already and is left as it is"):
        restore(tmp_path / "copy", taken)
    assert taken.read_text() == "precious"
    assert not list(tmp_path.glob("*.part"))


def test_a_backup_that_cannot_be_opened_is_not_restored(file_record: Record, tmp_path: Path) -> None:
    copy, to = tmp_path / "copy", tmp_path / "restored"
    backup(file_record, copy)
    whole = copy.read_bytes()
    copy.write_bytes(whole[: len(whole) // 2])
    with pytest.raises(UserError, match="is damaged"):
        restore(copy, to)
    copy.write_text("a list of tubes")
    with pytest.raises(UserError, match="is not a record"):
        restore(copy, to)
    copy.write_bytes(whole)
    with closing(sqlite3.connect(copy)) as connection:
        connection.execute("UPDATE alembic_version SET version_num = '9002'")
        connection.commit()
    with pytest.raises(UserError, match="newer tubeshelf"):
        restore(copy, to)
    with pytest.raises(UserError, match="There is no backup"):
        restore(tmp_path / "missing", to)
    assert not to.exists()


def test_a_backup_to_where_nothing_can_be_written_is_told(file_record: Record, tmp_path: Path) -> None:
    with pytest.raises(UserError, match="cannot be opened for writing"):
        backup(file_record, tmp_path / "no such folder" / "copy")


def test_the_record_of_a_server_is_backed_up_there(server_record: Record, tmp_path: Path) -> None:
    with pytest.raises(UserError, match="pg_dump"):
        backup(server_record, tmp_path / "copy")
    assert list(tmp_path.iterdir()) == []


def test_a_backup_beside_a_leftover_of_another_is_refused(file_record: Record, tmp_path: Path) -> None:
    """SQLite would play the leftover into the backup when it is opened."""
    shutil.copyfile(tmp_path / "shop.tubeshelf", tmp_path / "copy-wal")
    with pytest.raises(UserError, match="exists already"):
        backup(file_record, tmp_path / "copy")
