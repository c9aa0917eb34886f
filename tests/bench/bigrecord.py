"""A dealer's record for benchmarks: 300,000 items with a million readings, the same from the same seed.

Made once and kept in the system's folder for temporary files under a name that tells what it was made of.
Rows are written with bare sqlite3 into the program's own tables: by its services it would take hours.
"""

import hashlib
import random
import shutil
import sqlite3
import tempfile
from collections.abc import Iterator
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from sqlalchemy import Table

from tests.services.benchwork import add_tester, amplifier
from tubeshelf.bootstrap import open_record
from tubeshelf.services.movements import item_key
from tubeshelf.services.shop import open_shop
from tubeshelf.store.migrate import REVISIONS
from tubeshelf.store.shipped import load_types, table_version
from tubeshelf.store.tables import Act, Item, Judgement, Movement, Reading, SettingLine

SEED = 20_417
ITEMS = 300_000
READINGS = 1_000_000
_BRANDS = ("Halvard", "Quillfen", "Morrowby", "Estover", "Tamsin", "Ostrell", "")
_CONDITIONS = ("NOS", "new in box", "unused, no box", "used, tested", "pull", "weak but usable", "suspect")
_PLACES = ("shelf",) * 17 + ("sold", "scrap", "customer")
_START_US = 1_600_000_000_000_000
_ACT = 1_000
"""Rows that one act of receiving or reading stands for."""


@dataclass(frozen=True, slots=True)
class Size:
    """How much a record holds; a small one is for trying out."""

    items: int = ITEMS
    readings: int = READINGS


def big_record(size: Size = Size()) -> Path:
    """The record, made on first use; open a copy of it where a benchmark writes."""
    kept = Path(tempfile.gettempdir()) / f"tubeshelf-bench-{_digest(size)}.tubeshelf"
    if not kept.exists():
        part = kept.with_name(f"{kept.name}.part")
        for old in part.parent.glob(f"{part.name}*"):
            old.unlink()
        _fill(part, size)
        part.rename(kept)
    return kept


def copy_of(record: Path, folder: Path) -> Path:
    """A copy to write to."""
    return Path(shutil.copy(record, folder / "big.tubeshelf"))


def _digest(size: Size) -> str:
    text = f"{size} {REVISIONS} {table_version()} {Path(__file__).read_text(encoding='utf-8')}"
    return hashlib.sha256(text.encode()).hexdigest()[:12]


def _fill(path: Path, size: Size) -> None:
    with closing(open_record(str(path))) as record:
        shop = open_shop(record)
        bench = amplifier(shop)
        testers = (bench.tester, add_tester(shop, "Tester C", unit="mA/V", full_scale=20.0))
        type_ids = [shop.book.id_of(tube.designation) for tube in load_types()]
    with closing(sqlite3.connect(path)) as connection:
        connection.executescript(
            "PRAGMA synchronous=OFF; PRAGMA cache_size=-400000; PRAGMA temp_store=MEMORY"
        )
        maker = _Maker(connection, [one for one in type_ids if one is not None], testers)
        maker.items(size.items)
        maker.readings(size.readings)
        connection.execute("UPDATE counter SET value = ? WHERE name = 'tag'", (size.items + 10_000,))
        connection.commit()
        connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")


class _Maker:
    """Writes rows whose ids go on from those that are there."""

    def __init__(self, connection: sqlite3.Connection, types: list[int], testers: tuple[int, int]) -> None:
        self._db, self._types, self._testers = connection, types, testers
        self._random = random.Random(SEED)
        self._lines = dict(self._setting_lines())
        self._tubes: list[tuple[int, int]] = []

    def items(self, count: int) -> None:
        """Tubes with a tag, and every fiftieth a counted lot; a few types are most of the stock."""
        first, act = self._next(Item.__table__), self._next(Act.__table__)
        weights = [1 / (n + 1) for n in range(len(self._types))]
        kinds = self._random.choices(self._types, weights, k=count)
        self._acts(act, -(-count // _ACT), "received", "Received a parcel")
        self._write(Item.__table__, (self._item(first + n, kinds[n], act + n // _ACT) for n in range(count)))
        places = self._db.execute(
            "SELECT id, begun_by, quantity, place, place_ref FROM item WHERE id >= ?", (first,)
        ).fetchall()
        start = self._next(Movement.__table__)
        self._write(Movement.__table__, (self._movement(start + n, *row) for n, row in enumerate(places)))

    def readings(self, count: int) -> None:
        """Readings of random tubes on their type's lines, and the judgement of the latest of each."""
        act, first = self._next(Act.__table__), self._next(Reading.__table__)
        self._acts(act, -(-count // _ACT), "reading", "Read a tube")
        read = self._random.choices(self._tubes, k=count)
        self._write(
            Reading.__table__,
            (self._reading(first + n, *tube, act + n // _ACT) for n, tube in enumerate(read)),
        )
        start = self._next(Judgement.__table__)
        latest = self._db.execute(
            "SELECT max(id), item_id, setting_line_id, stage, value, unit, begun_by FROM reading "
            "WHERE id >= ? GROUP BY item_id, setting_line_id, stage",
            (first,),
        ).fetchall()
        self._write(Judgement.__table__, (self._judgement(start + n, *row) for n, row in enumerate(latest)))

    def _setting_lines(self) -> Iterator[tuple[int, tuple[int, int]]]:
        """A line for each type on each tester."""
        first, act = self._next(SettingLine.__table__), self._next(Act.__table__)
        self._acts(act, 1, "limits", "Lines entered")
        for n, type_id in enumerate(self._types):
            ids = (first + 2 * n, first + 2 * n + 1)
            rows = (
                {
                    "id": line,
                    "type_id": type_id,
                    "tester_id": tester,
                    "begun_by": act,
                    "version": 1,
                    "position": 1,
                    "label": "",
                    "section": "1",
                    "quantity": "gm",
                    "fields": "[]",
                    "retired": 0,
                }
                for line, tester in zip(ids, self._testers, strict=True)
            )
            self._write(SettingLine.__table__, rows)
            yield type_id, ids

    def _item(self, item_id: int, type_id: int, act: int) -> dict[str, Any]:
        pick = self._random.random
        lot = item_id % 50 == 0
        place = self._random.choice(_PLACES)
        marked = "" if pick() < 0.9 else "JAN"
        facts: dict[str, Any] = {
            "id": item_id,
            "begun_by": act,
            "version": 1,
            "tag": None if lot else 10_000 + item_id,
            "lot": int(lot),
            "type_id": type_id,
            "marked": marked,
            "believed_because": "",
            "brand": self._random.choice(_BRANDS),
            "date_code": f"{52 + item_id % 30}-{item_id % 12 + 1}",
            "construction": "",
            "condition": self._random.choice(_CONDITIONS),
            "boxed": int(pick() < 0.4),
            "premium": 0,
            "source": "",
            "cost": int(pick() * 900),
            "price": int(500 + pick() * 4000),
            "note": "",
            "place": place,
            "quantity": int(2 + pick() * 40) if lot else 1,
            "place_ref": f"{'ABCDEFGH'[item_id % 8]}{item_id % 120}" if place == "shelf" else "",
        }
        if not lot and place == "shelf":
            self._tubes.append((item_id, type_id))
        return facts | {"search_key": item_key(facts)}

    def _movement(
        self, row_id: int, item: int, act: int, quantity: int, place: str, ref: str
    ) -> dict[str, Any]:
        return {
            "id": row_id,
            "begun_by": act,
            "item_id": item,
            "quantity": quantity,
            "reason": "received",
            "from_place": "outside",
            "from_ref": "",
            "to_place": place,
            "to_ref": ref,
        }

    def _reading(self, row_id: int, item_id: int, type_id: int, act: int) -> dict[str, Any]:
        which = row_id % 2
        value = self._random.gauss(5.0, 1.2) if which else round(self._random.gauss(5000, 1200), -2)
        return {
            "id": row_id,
            "begun_by": act,
            "item_id": item_id,
            "setting_line_id": self._lines[type_id][which],
            "tester_id": self._testers[which],
            "stage": "incoming",
            "value": max(round(value, 1), 0.0),
            "unit": ("µmho", "mA/V")[which],
            "settings": "[]",
            "confirmed": "",
        }

    def _judgement(
        self, row_id: int, reading: int, item: int, line: int, stage: str, value: float, unit: str, act: int
    ) -> dict[str, Any]:
        good, reject = (3300.0, 2500.0) if unit == "µmho" else (3.3, 2.5)
        zone = "reject" if value < reject else "weak" if value < good else "good"
        return {
            "id": row_id,
            "begun_by": act,
            "item_id": item,
            "setting_line_id": line,
            "stage": stage,
            "n": 1,
            "reading_ids": str(reading),
            "mean": value,
            "u": 0.03 * value,
            "zone": zone,
            "sure": 1,
            "above": 0,
            "good_from": good,
            "reject_below": reject,
            "unit": unit,
            "source": "",
            "derived": 0,
            "place": 0,
        }

    def _acts(self, first: int, count: int, kind: str, said: str) -> None:
        rows = (
            {
                "id": first + n,
                "at": _START_US + (first + n) * 60_000_000,
                "bench": "",
                "kind": kind,
                "said": said,
            }
            for n in range(count)
        )
        self._write(Act.__table__, rows)

    def _next(self, table: Table) -> int:
        return int(self._db.execute(f'SELECT coalesce(max(id), 0) + 1 FROM "{table.name}"').fetchone()[0])

    def _write(self, table: Table, rows: Iterator[dict[str, Any]]) -> None:
        """Rows by column name; what a row does not name is null."""
        names = [column.name for column in table.columns]
        marks = ", ".join("?" * len(names))
        self._db.executemany(
            f'INSERT INTO "{table.name}" ({", ".join(names)}) VALUES ({marks})',
            (tuple(row.get(name) for name in names) for row in rows),
        )


if __name__ == "__main__":
    print(big_record())
