"""Enters readings until it is killed, and tells each one that was acknowledged: its number, one a line.

``python -m tests.store.entering RECORD FIRST`` goes on from the number FIRST.
"""

import sys
from contextlib import closing
from itertools import count

from sqlalchemy import func, select

from tests.store.rows import read, reading_place
from tubeshelf.bootstrap import open_record
from tubeshelf.store.record import Record
from tubeshelf.store.tables import Item, SettingLine, Tester


def place_of(record: Record) -> tuple[int, int, int]:
    """The item, setting line and tester to enter readings for, made at the first start."""
    with record.reading() as connection:
        row = connection.execute(
            select(func.min(Item.id), func.min(SettingLine.id), func.min(Tester.id))
        ).one()
    item, line, tester = row
    return reading_place(record) if item is None else (item, line, tester)


def main(where: str, first: int) -> None:
    """Enter readings without end."""
    with closing(open_record(where)) as record:
        place = place_of(record)
        for number in count(first):
            with record.act("reading", f"Read {number}") as journal:
                read(journal, place, float(number))
            print(number, flush=True)


if __name__ == "__main__":
    main(sys.argv[1], int(sys.argv[2]))
