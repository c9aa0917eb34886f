"""A shop to try services on, in a file and on a server, with its types loaded."""

import pytest

from tests.records import FixedClock
from tests.typed import empty_file, server_record, typed_database
from tubeshelf.services.shop import Shop, open_shop
from tubeshelf.store.record import Record

__all__ = ["empty_file", "server_record", "typed_database"]


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
