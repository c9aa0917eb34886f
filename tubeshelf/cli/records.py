"""Opening the shop's record for a verb of the command line."""

import argparse
from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tubeshelf.services.shop import Shop


@contextmanager
def opened(args: argparse.Namespace) -> "Iterator[Shop]":
    """The shop of the record that the arguments name, closed at the end.

    Raises UserError as opening does, and where there is none: a question never makes a record.
    """
    from tubeshelf.bootstrap import open_record
    from tubeshelf.services.shop import open_shop

    record = open_record(args.record, make=False)
    try:
        yield open_shop(record)
    finally:
        record.close()
