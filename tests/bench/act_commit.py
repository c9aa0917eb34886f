"""One act with a reading and its judgement, against bare sqlite3 inserting and committing the same rows."""

import sqlite3
import tempfile
from contextlib import closing
from pathlib import Path

from tests.bench.figure import Figure, ratio, timed
from tests.records import FixedClock
from tests.store.rows import JUDGEMENT, READING, reading_place
from tubeshelf.bootstrap import open_record
from tubeshelf.store.record import Record
from tubeshelf.store.tables import Judgement, Reading

ROUNDS = 600


def run() -> Figure:
    """The ratio, over turns in two copies of one record."""
    with tempfile.TemporaryDirectory() as folder:
        with closing(open_record(f"{folder}/bare.tubeshelf", clock=FixedClock())) as record:
            place = reading_place(record)
        with (
            closing(open_record(f"{folder}/shop.tubeshelf", clock=FixedClock())) as record,
            closing(bare_connection(Path(folder) / "bare.tubeshelf")) as bare,
        ):
            assert reading_place(record) == place
            figure = ratio(timed(Acts(record, place)), timed(BareActs(bare, place)), rounds=ROUNDS)
    return Figure("act_commit", figure, "ratio", 4.0, "bare sqlite3, same rows, same pragmas")


def bare_connection(path: Path) -> sqlite3.Connection:
    """A connection with the pragmas of a record and nothing else."""
    connection = sqlite3.connect(path, isolation_level=None)
    for pragma in ("journal_mode = WAL", "synchronous = FULL", "foreign_keys = ON", "cache_size = -16000"):
        connection.execute(f"PRAGMA {pragma}")
    return connection


class Acts:
    """Each call is one act that supersedes the last judgement."""

    def __init__(self, record: Record, place: tuple[int, int, int]) -> None:
        self._record = record
        item, line, tester = place
        self._reading = {
            **READING,
            "item_id": item,
            "setting_line_id": line,
            "tester_id": tester,
            "value": 1.0,
        }
        self._judgement = {**JUDGEMENT, "item_id": item, "setting_line_id": line}
        self._last: int | None = None

    def __call__(self) -> None:
        with self._record.act("reading") as journal:
            journal.insert(Reading, **self._reading)
            if self._last is not None:
                journal.end(Judgement, self._last)
            self._last = journal.insert(Judgement, **self._judgement)
            journal.said = "Read 6,900 µmho"


class BareActs:
    """Each call writes the same rows by hand.

    With ``repeats`` so many readings are judged together before the next place is read, else all.
    """

    def __init__(
        self, connection: sqlite3.Connection, place: tuple[int, int, int], *, repeats: int | None = None
    ) -> None:
        self._connection = connection
        self._repeats, self._taken = repeats, 0
        item, line, tester = place
        reading = {**READING, "item_id": item, "setting_line_id": line, "tester_id": tester, "value": 1.0}
        self._reading = {**reading, "settings": '["62", "A"]'}
        self._judgement: dict[str, object] = {
            **JUDGEMENT,
            "item_id": item,
            "setting_line_id": line,
            "place": 0,
        }
        self._last: int | None = None

    def __call__(self) -> None:
        if self._repeats is not None and self._taken % self._repeats == 0:
            self._last = None
            self._judgement["place"] = self._taken
        self._taken += 1
        self._connection.execute("BEGIN IMMEDIATE")
        act = self._insert("act", {"at": 0, "bench": "bench 1", "kind": "reading", "said": "Read 6,900 µmho"})
        reading = self._insert("reading", {**self._reading, "begun_by": act})
        effects: list[tuple[object, ...]] = [(act, 0, "reading", reading, None, "{}")]
        if self._last is not None:
            self._connection.execute("UPDATE judgement SET ended_by = ? WHERE id = ?", (act, self._last))
            effects.append((act, 1, "judgement", self._last, "{}", None))
        self._last = self._insert("judgement", {**self._judgement, "begun_by": act})
        effects.append((act, 2, "judgement", self._last, None, "{}"))
        self._connection.executemany("INSERT INTO effect VALUES (?, ?, ?, ?, ?, ?)", effects)
        self._connection.execute("COMMIT")

    def _insert(self, table: str, values: dict[str, object]) -> int:
        names, marks = ", ".join(values), ", ".join("?" * len(values))
        sql = f"INSERT INTO {table} ({names}) VALUES ({marks})"
        row_id = self._connection.execute(sql, tuple(values.values())).lastrowid
        assert row_id is not None
        return row_id
