"""A shop to try services on, in a file and on a server, with its types loaded."""

from contextlib import closing
from pathlib import Path

import pytest

from tests.records import FixedClock
from tubeshelf.bootstrap import open_record
from tubeshelf.services.shop import Shop, open_shop
from tubeshelf.store.record import Record


@pytest.fixture(scope="session")
def empty_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A record with the shipped types alone, to copy: bringing them in takes longer than a test."""
    path = tmp_path_factory.mktemp("record") / "types.tubeshelf"
    with closing(open_record(str(path), clock=FixedClock())) as record:
        open_shop(record)
    return path


@pytest.fixture
def shop(record: Record) -> Shop:
    """A shop with nothing on its shelf: every test that asks for it runs on a file and on a server."""
    return open_shop(record)


@pytest.fixture
def file_shop(file_record: Record) -> Shop:
    """The same on a file only, for rules in which the database plays no part."""
    return open_shop(file_record)


@pytest.fixture
def tick(clock: FixedClock) -> FixedClock:
    """The shop's clock, to let time pass."""
    return clock
