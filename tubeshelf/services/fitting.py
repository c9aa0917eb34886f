"""May these types stand in these sockets? By the type table alone, without a record."""

from collections.abc import Iterable, Iterator
from pathlib import Path

from tubeshelf.domain.catalog import Catalog
from tubeshelf.domain.fit import judge_fit
from tubeshelf.domain.fitting import Circuit, FitJudgement, SocketFacts
from tubeshelf.exchange.pairs import Pair
from tubeshelf.exchange.pairs import read_pairs as _read_pairs


def judge_pair(
    *, catalog: Catalog, intended: str, found: str, circuit: str = Circuit.PARALLEL
) -> FitJudgement:
    """The fit of one type in the place of another; ``circuit`` is ``parallel`` or ``series``.

    Raises ValueError for any other circuit.
    """
    return judge_fit(catalog, intended, found, SocketFacts(circuit=Circuit(circuit)))


def judge_pairs(
    *, catalog: Catalog, rows: Iterable[Pair], circuit: str = Circuit.PARALLEL
) -> Iterator[FitJudgement]:
    """The fits of many pairs, one after the other; ``circuit`` is for rows that state none."""
    for row in rows:
        yield judge_pair(
            catalog=catalog, intended=row.intended, found=row.found, circuit=row.circuit or circuit
        )


def read_pairs(*, path: Path) -> tuple[Pair, ...]:
    """The pairs of a CSV file (columns intended, found, optionally circuit); all of them or a UserError."""
    return _read_pairs(path)
