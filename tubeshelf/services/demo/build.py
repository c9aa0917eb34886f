"""Building the demo: an empty record becomes a workshop with three years of work in it."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import closing
from datetime import date
from typing import TYPE_CHECKING

from tubeshelf.services.demo.clock import DemoClock
from tubeshelf.services.demo.jobs import job_entries
from tubeshelf.services.demo.shelf import shelf_entries
from tubeshelf.services.demo.workshop import set_up
from tubeshelf.services.shop import open_shop

if TYPE_CHECKING:
    from tubeshelf.store.record import Clock, Record

OPENED = 1100
"""How many days ago the workshop wrote its first line."""


def build_demo(open_record: Callable[[Clock], Record], *, today: date) -> None:
    """Fill the empty record that ``open_record`` opens with the clock it is given, and close it.

    The same ``today`` gives the same record; the open jobs lie in the days before it.
    """
    clock = DemoClock(today)
    clock.go_to(OPENED)
    with closing(open_record(clock)) as record:
        workshop = set_up(open_shop(record), clock)
        entries = [*shelf_entries(workshop), *job_entries(workshop)]
        for entry in sorted(entries, key=lambda entry: -entry.days_ago):
            clock.go_to(entry.days_ago)
            entry.write()
