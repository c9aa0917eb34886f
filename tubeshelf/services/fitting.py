"""May these types stand in these sockets, and which may? By the type table alone, without a record."""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from pathlib import Path

from tubeshelf.domain.catalog import Catalog
from tubeshelf.domain.errors import UserError, shortened
from tubeshelf.domain.fit import judge_fit
from tubeshelf.domain.fitting import FitJudgement, SocketFacts
from tubeshelf.domain.ranking import Candidate, what_may_go
from tubeshelf.exchange.pairs import Pair
from tubeshelf.exchange.pairs import read_pairs as _read_pairs

_NOTHING_KNOWN = SocketFacts()


def judge_pair(
    *, catalog: Catalog, intended: str, found: str, facts: SocketFacts = _NOTHING_KNOWN
) -> FitJudgement:
    """The fit of one type in the place of another, in a socket of which ``facts`` are known."""
    return judge_fit(catalog, intended, found, facts)


def judge_pairs(
    *, catalog: Catalog, rows: Iterable[Pair], facts: SocketFacts = _NOTHING_KNOWN
) -> Iterator[FitJudgement]:
    """The fits of many pairs, one after the other; the circuit of ``facts`` is for rows that state none."""
    for row in rows:
        of_row = facts if row.circuit is None else replace(facts, circuit=row.circuit)
        yield judge_pair(catalog=catalog, intended=row.intended, found=row.found, facts=of_row)


def read_pairs(*, path: Path) -> tuple[Pair, ...]:
    """The pairs of a CSV file (columns intended, found, optionally circuit); all of them or a UserError."""
    return _read_pairs(path)


def candidates(
    *, catalog: Catalog, intended: str, facts: SocketFacts = _NOTHING_KNOWN
) -> tuple[Candidate, ...]:
    """What may go into a socket for the type of this name, the best first.

    Raises UserError with names that look like it where the table has no such type.
    """
    tube = catalog.find(intended)
    if tube is None:
        near = ", ".join(catalog.near(intended))
        asked = shortened(intended)
        raise UserError(f"{asked} is not in the type table{f'; near it: {near}' if near else ''}.")
    return what_may_go(catalog, tube, facts)
