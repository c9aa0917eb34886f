"""One way to read, one way to act: all or nothing, one writer at a time, in threads and in processes."""

import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing
from datetime import timedelta

import pytest
from sqlalchemy import Connection, event, insert, select
from sqlalchemy.exc import IntegrityError

from tests.records import START, FixedClock
from tests.store.rows import CUSTOMER, add_customer, add_item, count, names, rename
from tubeshelf.domain.errors import UserError
from tubeshelf.store import tables
from tubeshelf.store.engine import file_engine
from tubeshelf.store.record import Record
from tubeshelf.store.tables import Act, Customer, Effect, Item


def test_an_act_that_ends_well_is_there_for_the_next_reader(record: Record) -> None:
    add_customer(record, "Ames")
    assert names(record) == ["Ames"]


def test_an_act_that_fails_leaves_nothing_not_even_itself(record: Record) -> None:
    def fail_halfway() -> None:
        with record.act("customer", "Added Ames") as journal:
            journal.insert(Customer, name="Ames", **CUSTOMER)
            raise LookupError("no such bin")

    with pytest.raises(LookupError):
        fail_halfway()
    with record.reading() as connection:
        assert [count(connection, table) for table in (Act, Customer, Effect)] == [0, 0, 0]
    add_customer(record, "Bell")
    assert names(record) == ["Bell"]


def test_an_act_that_breaks_a_rule_of_the_tables_leaves_nothing(record: Record) -> None:
    def refer_to_nothing() -> None:
        with record.act("customer") as journal:
            journal.insert(Customer, name="Ames", **CUSTOMER)
            journal.insert(Customer, name=None, **CUSTOMER)

    with pytest.raises(IntegrityError):
        refer_to_nothing()
    assert names(record) == []


def test_an_act_tells_when_where_and_what(record: Record, clock: FixedClock) -> None:
    clock.advance(timedelta(minutes=5, microseconds=7))
    with record.act("customer", "Adding") as journal:
        journal.insert(Customer, name="Ames", **CUSTOMER)
        journal.said = "Added Ames"
    with record.reading() as connection:
        act = connection.execute(select(Act.at, Act.bench, Act.kind, Act.said)).one()
    assert act == (START + timedelta(minutes=5, microseconds=7), "bench 1", "customer", "Added Ames")


def test_what_is_written_while_reading_is_rolled_back_or_refused(record: Record) -> None:
    add_customer(record, "Ames")
    row = {"name": "Bell", **CUSTOMER, "begun_by": 1, "version": 1}

    def write() -> None:
        with record.reading() as connection:
            connection.execute(insert(Customer), row)

    if record.path is None:
        with pytest.raises(UserError, match="does not let you write"):
            write()
    else:
        write()
    assert names(record) == ["Ames"]


def test_a_reader_sees_one_moment_while_somebody_acts(record: Record) -> None:
    add_customer(record, "Ames")

    def seen(connection: Connection) -> list[str]:
        return list(connection.execute(select(Customer.name)).scalars())

    with record.reading() as connection:
        before = seen(connection)
        add_customer(record, "Bell")
        assert seen(connection) == before == ["Ames"]
    assert names(record) == ["Ames", "Bell"]


def test_an_act_inside_an_act_is_a_bug_and_says_so(record: Record) -> None:
    with record.act("outer"), pytest.raises(RuntimeError, match="inside"):
        add_customer(record, "Ames")
    add_customer(record, "Bell")
    assert names(record) == ["Bell"]


def test_a_record_open_for_reading_tells_why_it_cannot_be_written(record: Record, clock: FixedClock) -> None:
    with closing(Record(record.engine, clock=clock, read_only="Another bench writes.")) as reader:
        with pytest.raises(UserError, match="Another bench writes"):
            add_customer(reader, "Ames")
        assert names(reader) == []


def test_two_threads_lose_no_update_that_reads_before_it_writes(record: Record) -> None:
    """The driver's default transactions lost 150 of 200."""
    customer = add_customer(record, "0")

    def count_on(_turn: int) -> None:
        with record.act("count") as journal:
            so_far = select(Customer.name).where(Customer.id == customer)
            value = int(journal.connection.execute(so_far).scalar_one())
            journal.update(Customer, customer, name=str(value + 1))

    with ThreadPoolExecutor(2) as threads:
        list(threads.map(count_on, range(200)))
    assert names(record) == ["200"]
    with record.reading() as connection:
        assert count(connection, Effect) == 201


COUNTING = """
import sys
from pathlib import Path
from sqlalchemy import select
from tubeshelf.bootstrap import now
from tubeshelf.store import tables
from tubeshelf.store.engine import file_engine, is_server, server_engine
from tubeshelf.store.record import Record
from tubeshelf.store.tables import Customer

where = sys.argv[1]
record = Record(server_engine(where) if is_server(where) else file_engine(Path(where)), clock=now)
for _ in range(100):
    with record.act("count") as journal:
        value = int(journal.connection.execute(select(Customer.name)).scalar_one())
        journal.update(Customer, 1, name=str(value + 1))
record.close()
"""


def test_two_processes_lose_no_update_either(record: Record) -> None:
    add_customer(record, "0")
    where = str(record.path or record.engine.url.render_as_string(hide_password=False))
    benches = [subprocess.Popen([sys.executable, "-c", COUNTING, where]) for _ in range(2)]
    assert [bench.wait(60) for bench in benches] == [0, 0]
    assert names(record) == ["200"]


def test_a_full_disk_is_told_and_costs_only_the_act_in_hand(file_record: Record, clock: FixedClock) -> None:
    add_customer(file_record, "Ames")
    assert file_record.path is not None
    engine = file_engine(file_record.path)

    @event.listens_for(engine, "connect")
    def no_room(connection: object, _entry: object) -> None:
        connection.execute("PRAGMA max_page_count = 1")  # type: ignore[attr-defined]

    with closing(Record(engine, clock=clock, path=file_record.path)) as crowded:
        with (
            pytest.raises(UserError, match="full: this was not saved") as told,
            crowded.act("add") as journal,
        ):
            journal.insert_many(Customer, [{"name": "Bell" * 200, **CUSTOMER} for _ in range(400)])
        assert str(file_record.path) in told.value.sentence
    add_customer(file_record, "Carr")
    assert names(file_record) == ["Ames", "Carr"]


def test_values_come_back_as_they_were_written(record: Record) -> None:
    with record.act("tester") as journal:
        text: dict[str, object] = {"name": 'Ω "A"; --', "method": "µ", "unit": "mA", "note": "%s ? :x"}
        rule: dict[str, object] = {"words": ("bad", "?", "good"), "field_names": (), "retired": False}
        tester = journal.insert(
            tables.Tester, **text, **rule, relative=0.05, absolute=0.0, checked_on=START.date()
        )
    with record.reading() as connection:
        row = connection.execute(select(tables.Tester).where(tables.Tester.id == tester)).mappings().one()
    assert {name: row[name] for name in (*text, *rule)} == {**text, **rule}
    assert (row["relative"], row["absolute"], row["checked_on"]) == (0.05, 0.0, START.date())
    assert (row["full_scale"], row["version"]) == (None, 1)


def test_renaming_is_seen_by_another_record_on_the_same_database(record: Record, clock: FixedClock) -> None:
    customer = add_customer(record, "Ames")
    with closing(Record(record.engine, clock=clock, bench="bench 2")) as other:
        rename(other, customer, "Amos")
    assert names(record) == ["Amos"]


def test_the_tables_refuse_two_tubes_in_one(record: Record) -> None:
    with pytest.raises(IntegrityError), record.act("receive") as journal:
        add_item(journal, quantity=2)
    with record.reading() as connection:
        assert count(connection, Item) == 0
