"""What a spare is worth: the verdict of its last testing, for one tube or for a whole shelf at once."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import timedelta
from itertools import groupby
from typing import TYPE_CHECKING, Any

from sqlalchemy import Connection, Row

from tubeshelf.domain.judging import NOT_READ, Limit, LineVerdict, Mark, Observation, TubeVerdict, Zone
from tubeshelf.domain.numbers import format_number
from tubeshelf.domain.types import TubeType
from tubeshelf.domain.verdict import judge_tube, like_sections
from tubeshelf.domain.verdict_words import doubt_text, merit_word
from tubeshelf.services.views.shelf import ReadView
from tubeshelf.store.queries import shelf, types

if TYPE_CHECKING:
    from tubeshelf.services.typebook import TypeBook

ONE_TESTING = timedelta(hours=24)
"""Lines judged within a day before the last one are the same testing; older ones are stale beside it."""


@dataclass(frozen=True, slots=True)
class SpareVerdict:
    """The last testing of a spare: what it read line by line, on which tester, and the verdict of it all."""

    verdict: TubeVerdict
    reads: str = ""
    tester: str = ""
    lines: tuple[ReadView, ...] = ()

    @property
    def note(self) -> str:
        """What stands small beside the verdict: ``read again``, ``balance 6 %``."""
        balance = self.verdict.balance_percent
        parts = [doubt_text(self.verdict)]
        parts.append("" if balance is None else f"balance {balance:.0f} %")
        return " · ".join(filter(None, parts))


NEVER_READ = SpareVerdict(TubeVerdict(NOT_READ, None))


Stamp = tuple[int | None, tuple[int, ...], tuple[int, ...]]
"""What the verdict of an item is made of: its type, its judgements, its faults."""


class Judged:
    """Verdicts made before, each with its stamp, so that a search judges only what was read since."""

    def __init__(self) -> None:
        self._charts: object = None
        self._made: dict[int, tuple[Stamp, SpareVerdict]] = {}

    def renew(self, charts: object) -> None:
        """Forget everything, if the testers or their charts are others than before."""
        if charts != self._charts:
            self._charts = charts
            self._made = {}

    def knows(self, item_id: int, stamp: Stamp) -> bool:
        """Whether the verdict that belongs to this stamp is there."""
        return item_id in self._made and self._made[item_id][0] == stamp

    def keep(self, item_id: int, stamp: Stamp, verdict: SpareVerdict) -> None:
        """Keep a verdict with its stamp."""
        self._made[item_id] = stamp, verdict

    def verdict(self, item_id: int) -> SpareVerdict:
        """The verdict kept of an item."""
        return self._made[item_id][1]


def spare_verdicts(
    connection: Connection, book: TypeBook, items: Sequence[Row[Any]]
) -> dict[int, SpareVerdict]:
    """The verdicts of those of these items that were read or have a fault, by id; few queries for any number.

    Judgements are never changed, so what was judged from the same ones before is taken from ``book.judged``.
    """
    charts, judged = _Charts(connection), book.judged
    judged.renew(charts.signature)
    stamps = _stamps(connection, {row.id: row.type_id for row in items})
    stale = {item_id: stamp for item_id, stamp in stamps.items() if not judged.knows(item_id, stamp)}
    made = _judge(connection, book, charts, {item_id: stamp[0] for item_id, stamp in stale.items()})
    for item_id, verdict in made.items():
        judged.keep(item_id, stale[item_id], verdict)
    return {item_id: judged.verdict(item_id) for item_id in stamps}


def verdicts_then(
    connection: Connection, book: TypeBook, items: Sequence[Row[Any]], as_of: int
) -> dict[int, SpareVerdict]:
    """The verdicts as they were when an act had just been done: an old job keeps saying what it said."""
    type_of = {row.id: row.type_id for row in items}
    return _judge(connection, book, _Charts(connection), type_of, as_of)


def _judge(
    connection: Connection,
    book: TypeBook,
    charts: _Charts,
    type_of: Mapping[int, int | None],
    as_of: int | None = None,
) -> dict[int, SpareVerdict]:
    faults: dict[int, list[Observation]] = {}
    for row in shelf.faults(connection, type_of, as_of):
        seen = Observation(Mark(row.mark), True, row.value, row.unit, row.pins)
        faults.setdefault(row.item_id, []).append(seen)
    made = {}
    judged = shelf.judged_lines(connection, type_of, as_of)
    for item_id, group in groupby(judged, key=lambda row: row.item_id):
        type_id = type_of[item_id]
        made[item_id] = charts.judge(list(group), faults.pop(item_id, ()), type_id, book.type(type_id))
    return made | {item_id: SpareVerdict(judge_tube((), seen)) for item_id, seen in faults.items()}


def _stamps(connection: Connection, type_of: Mapping[int, int | None]) -> dict[int, Stamp]:
    """The stamps of those items that have any judgement or fault."""
    judged, faulty = shelf.stamps(connection, type_of)
    lines = {item: tuple(row.id for row in rows) for item, rows in groupby(judged, key=lambda r: r.item_id)}
    faults = {item: tuple(row.id for row in rows) for item, rows in groupby(faulty, key=lambda r: r.item_id)}
    return {
        item_id: (type_of[item_id], lines.get(item_id, ()), faults.get(item_id, ()))
        for item_id in lines.keys() | faults.keys()
    }


class _Charts:
    """The shop's testers and their charts, read once for a shelf of tubes."""

    def __init__(self, connection: Connection) -> None:
        self._testers = {row.id: row for row in types.testers(connection)}
        self._sections: dict[tuple[int, int], list[Row[Any]]] = {}
        charted = types.charted(connection)
        self.signature = [tuple(row) for row in (*self._testers.values(), *charted)]
        for row in charted:
            self._sections.setdefault((row.type_id, row.tester_id), []).append(row)
        self._alike: dict[str, dict[str, str]] = {}
        self._expected: dict[tuple[int | None, int], int | None] = {}

    def judge(
        self, rows: list[Row[Any]], faults: Iterable[Observation], type_id: int | None, tube: TubeType | None
    ) -> SpareVerdict:
        last = max(rows, key=lambda row: row.id)
        same = (last.tester_id, last.stage, last.place)
        since = last.at - ONE_TESTING
        read = [row for row in rows if (row.tester_id, row.stage, row.place) == same and row.at >= since]
        tester = self._testers[last.tester_id]
        lines = tuple(
            ReadView(
                row.label or _section_label(row.section), row.section, tester.name, row.unit, judged_line(row)
            )
            for row in read
        )
        verdict = judge_tube(
            [(line.line, line.section, line.verdict) for line in lines],
            faults,
            self._expected_lines(type_id, last.tester_id, tube),
            self._alike_sections(tube),
        )
        reads = " · ".join(mean_text(line.verdict, tester.words) for line in lines)
        return SpareVerdict(verdict, reads, tester.name, lines)

    def _expected_lines(self, type_id: int | None, tester_id: int, tube: TubeType | None) -> int | None:
        key = type_id, tester_id
        if key not in self._expected:
            chart = [] if type_id is None else self._sections.get((type_id, tester_id), [])
            self._expected[key] = expected_lines(tube, chart)
        return self._expected[key]

    def _alike_sections(self, tube: TubeType | None) -> dict[str, str]:
        if tube is None:
            return {}
        if tube.key not in self._alike:
            self._alike[tube.key] = like_sections(tube.sections)
        return self._alike[tube.key]


def _section_label(section: str) -> str:
    return f"section {section}" if section else "quality"


def expected_lines(tube: TubeType | None, chart: Collection[Row[Any]]) -> int | None:
    """How many lines a tester asks for of a type; ``None`` where neither chart nor sections are known.

    A chart that somebody filled in is the answer. Lines that only came into being with a reading stand
    for a section each, and every other readable section is asked for as well.
    """
    read = {row.section for row in chart}
    if is_chart(chart) or "" in read or tube is None:
        return len(chart) or None
    readable = {section.name for section in tube.sections if section.readable}
    return len(readable | read) or None


def is_chart(lines: Collection[Row[Any]]) -> bool:
    """Whether somebody wrote these lines down, rather than that they came into being with readings."""
    return any(row.label or row.quantity or row.fields or row.limit_id is not None for row in lines)


def judged_line(row: Row[Any]) -> LineVerdict:
    """A stored judgement as the value it was, with the limit it used."""
    limit = Limit(
        good_from=row.good_from,
        reject_below=row.reject_below,
        bogey=row.bogey,
        above=row.above_limit,
        unit=row.unit,
        source=row.source,
        dated=row.dated,
        derived=row.derived,
    )
    zone = Zone(row.zone)
    return LineVerdict(zone, row.mean, row.n, limit, row.u, row.sure, row.probability, row.above)


def mean_text(verdict: LineVerdict, words: tuple[str, ...]) -> str:
    """What a line reads, without its unit: ``1,480``, or the word of a merit scale."""
    if words:
        return merit_word(verdict.mean, words)
    return format_number(verdict.mean, 10 if verdict.n == 1 else 5)
