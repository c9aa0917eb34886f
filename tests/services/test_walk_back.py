"""The demo's last acts, of every kind, taken back one by one and done again: the same record comes out."""

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from tests.services.test_demo import built
from tubeshelf.bootstrap import open_record
from tubeshelf.domain.errors import UserError
from tubeshelf.services.jobs import list_jobs, open_job
from tubeshelf.services.orders import order_list
from tubeshelf.services.shelf_search import search
from tubeshelf.services.shop import Shop, open_shop
from tubeshelf.services.undo import do_again, take_back
from tubeshelf.store.journal import last_act

STEPS = 100


def rows(path: Path) -> dict[str, list[str]]:
    """Every row of every table but those of the journal itself, whose acts go on; versions go on as well."""
    with closing(sqlite3.connect(path)) as connection:
        names = connection.execute("SELECT name FROM sqlite_schema WHERE type = 'table'").fetchall()
        found = {}
        for (name,) in names:
            if name in ("act", "effect"):
                continue
            table = connection.execute(f'SELECT * FROM "{name}"')
            kept = [i for i, column in enumerate(table.description) if column[0] != "version"]
            found[name] = sorted(repr([row[i] for i in kept]) for row in table)
        return found


def last_act_stands(shop: Shop) -> bool:
    with shop.record.reading() as connection:
        return last_act(connection) is not None


def look(shop: Shop) -> None:
    """Show what the pages show."""
    for head in list_jobs(shop, closed=None):
        open_job(shop, job_id=head.id)
    search(shop)
    order_list(shop)


def test_walking_back_and_forward_again_ends_where_it_began(tmp_path: Path) -> None:
    path = built(tmp_path / "demo.tubeshelf")
    with closing(open_record(str(path))) as record:
        shop = open_shop(record)
        before = rows(path)
        for step in range(STEPS):
            take_back(shop)
            if step % 10 == 0:
                look(shop)
        between = rows(path)
        for _ in range(STEPS):
            do_again(shop)
        look(shop)
        with pytest.raises(UserError, match="There is nothing to do again"):
            do_again(shop)
        after = rows(path)
    assert sum(map(len, before.values())) > 2000
    assert between != before
    assert after == before


def test_the_whole_demo_can_be_taken_back(tmp_path: Path) -> None:
    path = built(tmp_path / "demo.tubeshelf")
    with closing(open_record(str(path))) as record:
        shop = open_shop(record)
        taken_back = 0
        while last_act_stands(shop):
            take_back(shop)
            taken_back += 1
        with pytest.raises(UserError, match=r"^There is nothing to take back\.$"):
            take_back(shop)
        assert taken_back > 500
        assert list_jobs(shop, closed=None) == ()
        assert search(shop).rows == ()
