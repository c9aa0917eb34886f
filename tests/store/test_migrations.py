"""Records of every age open with their rows in place, and the tables are what the classes say."""

import sqlite3
import subprocess
import sys
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing, contextmanager
from pathlib import Path
from shutil import copytree

import psycopg
import pytest
from alembic.autogenerate import compare_metadata
from alembic.config import Config
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import Engine

from tests.records import FixedClock, new_database
from tests.store.keep import RECORDS
from tests.store.rows import add_customer, names, read, reading_place
from tubeshelf.bootstrap import open_record
from tubeshelf.domain.errors import UserError
from tubeshelf.store.engine import APPLICATION_ID, file_engine, server_engine
from tubeshelf.store.migrate import REVISIONS, SCRIPTS, prepare_file, prepare_server, upgrade
from tubeshelf.store.record import Record
from tubeshelf.store.tables import Base

LATER = (*REVISIONS, "9001")
REBUILD = '''"""Rebuild a table that others refer to, which is what loses rows where foreign keys are on."""

import sqlalchemy as sa
from alembic import op

revision = "9001"
down_revision = "{last}"


def upgrade() -> None:
    with op.batch_alter_table("item") as item:
        item.alter_column("note", existing_type=sa.Text(), nullable=True)
{then}
'''


@pytest.fixture
def later(tmp_path: Path) -> Path:
    """The migrations of a later program: ours and one more."""
    scripts = tmp_path / "later"
    copytree(SCRIPTS, scripts)
    (scripts / "versions" / "r9001_rebuild.py").write_text(REBUILD.format(last=REVISIONS[-1], then=""))
    return scripts


def fail_at_the_end(scripts: Path, how: str) -> None:
    (scripts / "versions" / "r9001_rebuild.py").write_text(
        REBUILD.format(last=REVISIONS[-1], then=f"    {how}")
    )


@contextmanager
def plain(path: Path) -> Iterator[sqlite3.Connection]:
    with closing(sqlite3.connect(path)) as connection:
        yield connection


def counts(path: Path) -> dict[str, int]:
    """How many rows each table of a file has."""
    with plain(path) as connection:
        tables = [
            name for (name,) in connection.execute("SELECT name FROM sqlite_master WHERE type = 'table'")
        ]
        return {name: connection.execute(f'SELECT count(*) FROM "{name}"').fetchone()[0] for name in tables}


def filled(record: Record) -> None:
    """Give a record rows that refer to each other."""
    place = reading_place(record)
    with record.act("reading") as journal:
        for value in range(300):
            read(journal, place, float(value))
    add_customer(record, "Ames")


def revision(path: Path) -> str:
    with plain(path) as connection:
        return str(connection.execute("SELECT version_num FROM alembic_version").fetchone()[0])


def test_the_migrated_tables_are_what_the_classes_say(record: Record) -> None:
    with record.reading() as connection:
        context = MigrationContext.configure(connection, opts={"compare_type": True})
        assert compare_metadata(context, Base.metadata) == []


def test_the_rules_of_the_tables_are_what_the_classes_say(file_record: Record, tmp_path: Path) -> None:
    """Alembic does not compare check rules and the conditions of indexes."""
    engine = file_engine(tmp_path / "declared")
    Base.metadata.create_all(engine)
    engine.dispose()

    def rules(path: Path) -> tuple[set[str], set[str]]:
        with plain(path) as connection:
            made = [
                sql for (sql,) in connection.execute("SELECT sql FROM sqlite_master WHERE sql IS NOT NULL")
            ]
        checks = {line.strip().rstrip(",") for sql in made for line in sql.splitlines() if "CHECK" in line}
        return checks, {sql for sql in made if sql.startswith("CREATE UNIQUE INDEX")}

    assert file_record.path is not None
    migrated = rules(file_record.path)
    assert migrated == rules(tmp_path / "declared")
    assert [len(kind) for kind in migrated] == [3, 11]


def test_the_constant_names_every_migration_there_is() -> None:
    config = Config()
    config.set_main_option("script_location", str(SCRIPTS))
    scripts = ScriptDirectory.from_config(config)
    assert [script.revision for script in scripts.walk_revisions()][::-1] == list(REVISIONS)


def test_a_new_record_is_marked_as_ours(file_record: Record) -> None:
    assert file_record.path is not None
    with plain(file_record.path) as connection:
        assert connection.execute("PRAGMA application_id").fetchone() == (APPLICATION_ID,)
        assert connection.execute("PRAGMA journal_mode").fetchone() == ("wal",)
    assert revision(file_record.path) == REVISIONS[-1]


def test_a_record_of_today_is_opened_without_alembic_or_a_backup(tmp_path: Path, empty_file: Path) -> None:
    program = f"""
import sys
from tubeshelf.bootstrap import open_record
open_record({str(empty_file)!r}).close()
print("alembic" in sys.modules)
"""
    told = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert told.stdout == "False\n"
    assert list(empty_file.parent.iterdir()) == [empty_file]


def test_an_older_record_is_backed_up_and_keeps_every_row(file_record: Record, later: Path) -> None:
    filled(file_record)
    path = file_record.path
    assert path is not None
    file_record.close()
    before = counts(path)
    prepare_file(path, may_write=True, revisions=LATER, scripts=later)
    assert counts(path) == before
    assert before["reading"] == 300
    assert revision(path) == "9001"
    backup = path.with_name("shop.before-9001.tubeshelf-backup")
    assert (counts(backup), revision(backup)) == (before, REVISIONS[-1])


def test_a_second_backup_does_not_take_the_place_of_the_first(file_record: Record, later: Path) -> None:
    path = file_record.path
    assert path is not None
    file_record.close()
    first = path.with_name("shop.before-9001.tubeshelf-backup")
    first.write_text("precious")
    prepare_file(path, may_write=True, revisions=LATER, scripts=later)
    assert first.read_text() == "precious"
    assert revision(path.with_name("shop.before-9001-2.tubeshelf-backup")) == REVISIONS[-1]


@pytest.mark.parametrize(
    ("how", "error"),
    [
        ("raise LookupError('half way')", LookupError),
        ("op.execute('UPDATE reading SET tester_id = 77')", RuntimeError),
    ],
)
def test_a_migration_that_fails_leaves_the_record_as_it_was(
    file_record: Record, later: Path, how: str, error: type[Exception]
) -> None:
    filled(file_record)
    path = file_record.path
    assert path is not None
    file_record.close()
    before = counts(path)
    fail_at_the_end(later, how)
    with pytest.raises(error):
        prepare_file(path, may_write=True, revisions=LATER, scripts=later)
    assert (counts(path), revision(path)) == (before, REVISIONS[-1])
    with closing(open_record(str(path))) as record:
        assert names(record) == ["Ames"]


def test_an_older_record_that_another_program_writes_to_is_left_alone(
    file_record: Record, later: Path
) -> None:
    path = file_record.path
    assert path is not None
    with pytest.raises(UserError, match="older tubeshelf, and another program has it open"):
        prepare_file(path, may_write=False, revisions=LATER, scripts=later)
    assert revision(path) == REVISIONS[-1]


def test_a_newer_record_is_refused_and_left_as_it_is(file_record: Record) -> None:
    path = file_record.path
    assert path is not None
    file_record.close()
    with plain(path) as connection:
        connection.execute("UPDATE alembic_version SET version_num = '9002'")
        connection.commit()
    before = path.read_bytes()
    with pytest.raises(UserError, match="written by a newer tubeshelf"):
        open_record(str(path))
    assert path.read_bytes() == before
    assert list(path.parent.glob("shop*")) == [path]


def test_a_record_on_a_server_is_made_upgraded_and_refused_alike(
    server: str, later: Path, clock: FixedClock
) -> None:
    address = new_database(server, "grown")
    with closing(open_record(address, clock=clock)) as record:
        filled(record)
    with closing(Record(server_engine(address), clock=clock)) as record:
        prepare_server(record.engine, revisions=LATER, scripts=later)
        assert names(record) == ["Ames"]
        add_customer(record, "Bell")
    with pytest.raises(UserError, match="grown on this computer was written by a newer tubeshelf"):
        open_record(address, clock=clock)


def test_another_programs_database_on_a_server_is_refused(server: str) -> None:
    address = new_database(server, "others")
    with closing(psycopg.connect(address, autocommit=True)) as connection:
        connection.execute("CREATE TABLE recipe (id integer)")
    with pytest.raises(UserError, match="holds no record of tubeshelf"):
        open_record(address)


def test_a_server_that_does_not_answer_is_told(server: str) -> None:
    nowhere = server.replace("host=", "host=/nowhere")
    with pytest.raises(UserError, match="does not answer or does not let you in"):
        open_record(nowhere)
    with pytest.raises(UserError, match="does not answer or does not let you in"):
        open_record(server.replace("/postgres?", "/missing?"))


def test_two_programs_that_make_a_servers_record_at_once_make_one(server: str) -> None:
    address = new_database(server, "raced")
    engines = [server_engine(address) for _ in range(2)]

    def make(engine: Engine) -> None:
        upgrade(engine)
        engine.dispose()

    with ThreadPoolExecutor(2) as threads:
        list(threads.map(make, engines))
    open_record(address).close()


@pytest.mark.parametrize("kept", sorted(RECORDS.glob("*.sql")), ids=lambda path: path.stem)
def test_a_kept_record_of_each_revision_opens_with_its_rows(kept: Path, tmp_path: Path) -> None:
    path = tmp_path / "kept.tubeshelf"
    with plain(path) as connection:
        connection.executescript(kept.read_text(encoding="utf-8"))
    before = counts(path)
    assert revision(path) == kept.stem
    with closing(open_record(str(path))) as record:
        assert names(record) == ["Ames"]
    after = counts(path)
    assert {name: after[name] for name in before} == before
    assert before["reading"] == 2


def test_there_is_a_kept_record_of_each_revision() -> None:
    assert [path.stem for path in sorted(RECORDS.glob("*.sql"))] == list(REVISIONS)
