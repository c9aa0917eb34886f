"""What a spare is tested with: the setting lines of its type on a tester, and what the free ones read."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from sqlalchemy import Row

from tubeshelf.domain.judging import Limit
from tubeshelf.services.lines import lines_of, tester_view
from tubeshelf.services.movements import item_row
from tubeshelf.services.shelf_search import promises_by_item
from tubeshelf.services.spare_verdict import spare_verdicts
from tubeshelf.services.views.bench import LineView, TesterView
from tubeshelf.services.views.shelf import ReadView
from tubeshelf.store.queries import bench, shelf, timeline, types

if TYPE_CHECKING:
    from tubeshelf.services.shop import Shop


@dataclass(frozen=True, slots=True)
class SpareLines:
    """The lines of one tester, and the testers to choose from; ``tester`` is ``None`` if there is none."""

    testers: tuple[TesterView, ...]
    tester: TesterView | None
    lines: tuple[LineView, ...]


@dataclass(frozen=True, slots=True)
class Spread:
    """What free spares of one type read on one tester against one limit, a value a line read.

    On a scale of ``words`` values are positions counted from 1.
    """

    tester: str
    unit: str
    words: tuple[str, ...]
    limit: Limit
    values: tuple[float, ...]


def spare_lines(shop: Shop, *, item_id: int, tester_id: int | None = None) -> SpareLines:
    """What to read of a spare on a tester; without ``tester_id`` on the one that it was read on last, else
    the first that has lines for its type."""
    with shop.record.reading() as connection:
        row = item_row(connection, item_id)
        testers = bench.testers(connection)
        if tester_id is None and (read := timeline.readings(connection, item_id)):
            tester_id = read[-1].tester_id
        written = () if row.type_id is None else bench.setting_lines(connection, type_ids=[row.type_id])
    chosen = _chosen(testers, tester_id, written)
    return SpareLines(
        testers=tuple(map(tester_view, testers)),
        tester=None if chosen is None else tester_view(chosen),
        lines=() if chosen is None else lines_of(shop.book.type(row.type_id), chosen, written),
    )


def _chosen(testers: Sequence[Row[Any]], asked: int | None, written: Sequence[Row[Any]]) -> Row[Any] | None:
    charted = {line.tester_id for line in written}
    wanted = [row for row in testers if row.id == asked] or [row for row in testers if row.id in charted]
    return next(iter([*wanted, *testers]), None)


def free_readings(shop: Shop, *, type_id: int) -> tuple[Spread, ...]:
    """How the free spares of a type read, by tester and limit, the one with most values first.

    Like sections of a tube that have one limit are told together.
    """
    with shop.record.reading() as connection:
        rows = shelf.spares_of_types(connection, [type_id])
        promised = promises_by_item(connection, [row.id for row in rows])
        free = [row for row in rows if row.id not in promised]
        verdicts = spare_verdicts(connection, shop.book, free)
        words = {row.name: row.words for row in types.testers(connection)}
    spreads: dict[tuple[str, float | None, float | None], list[ReadView]] = {}
    for verdict in verdicts.values():
        for line in verdict.lines:
            limit = line.verdict.limit
            spreads.setdefault((line.tester, limit.good_from, limit.reject_below), []).append(line)
    told = [_spread(lines, words[tester]) for (tester, _, _), lines in spreads.items()]
    return tuple(sorted(told, key=lambda spread: -len(spread.values)))


def _spread(lines: Sequence[ReadView], words: tuple[str, ...]) -> Spread:
    last = lines[-1]
    values = tuple(sorted(line.verdict.mean for line in lines))
    return Spread(last.tester, last.unit, words, last.verdict.limit, values)
