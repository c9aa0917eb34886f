"""What may go into a socket, out of every type of the table, against loading that table."""

from tests.bench.figure import Figure, ratio, timed
from tubeshelf.domain.catalog import Catalog
from tubeshelf.domain.fitting import SocketFacts
from tubeshelf.domain.ranking import what_may_go
from tubeshelf.store.shipped import load_catalog

ROUNDS = 60
SOCKETS = ("12AX7", "6SN7GT", "6X5GT", "6SK7")
"""A noval type, and octal ones of which most others share the base."""


def run() -> Figure:
    """The ratio of the slowest of these sockets, over turns in one process."""
    catalog = load_catalog()
    slowest = max(_ratio(name, catalog) for name in SOCKETS)
    return Figure("substitutes", slowest, "ratio", 1.0, "loading the table of types")


def _ratio(name: str, catalog: Catalog) -> float:
    intended = catalog.find(name)
    assert intended is not None
    return ratio(
        timed(lambda: what_may_go(catalog, intended, SocketFacts())), timed(load_catalog), rounds=ROUNDS
    )
