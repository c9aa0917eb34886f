"""A shop to try services on, in a file and on a server, with its types loaded."""

import pytest

from tests.records import (
    FixedClock,
    clock,
    database,
    empty_file,
    file_record,
    record,
    server,
    server_record,
)
from tubeshelf.services.shop import Shop, open_shop
from tubeshelf.store.record import Record

__all__ = ["clock", "database", "empty_file", "file_record", "record", "server", "server_record"]


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
