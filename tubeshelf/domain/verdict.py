"""Is the tube still good, and how sure is that? The rules over the values of ``judging``.

A reading is compared with a limit with a guard band, as in JCGM 106:2012 (*The role of measurement
uncertainty in conformity assessment*, section 8.3) and ILAC-G8:09/2019 (*Guidelines on decision rules*).
"""

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import date
from statistics import NormalDist, mean

from tubeshelf.domain.judging import (
    NOT_READ,
    DefaultRule,
    Limit,
    LineVerdict,
    Mark,
    Observation,
    Repeatability,
    Scale,
    TubeVerdict,
    Zone,
)
from tubeshelf.domain.numbers import same_unit
from tubeshelf.domain.types import Section

GUARD = 1.645
"""Standard uncertainties to the limit for 95 % on one side: the normal quantile of 0.95."""

MOST_REPEATS = 3
"""Repeats asked for at most; after that the technician decides."""

_WORST_FIRST = (Zone.REJECT, Zone.WEAK, Zone.UNJUDGED, Zone.GOOD)

NO_LIMIT = Limit(good_from=None, reject_below=None)
"""What a reading without a limit is judged by."""

ReadLine = tuple[str, str, LineVerdict]
"""A judged setting line: its label, the section it reads, its verdict."""


def zone(x: float, limit: Limit | None) -> Zone:
    """Where a value falls: reject below ``reject_below``, weak below ``good_from``, else good.

    With one of the two figures only, the other zone does not exist. Zero or less is a dead tube, with
    or without a limit.
    """
    if x <= 0:
        return Zone.REJECT
    if limit is None or (limit.good_from is None and limit.reject_below is None):
        return Zone.UNJUDGED
    if limit.reject_below is not None and x < limit.reject_below:
        return Zone.REJECT
    if limit.good_from is not None and x < limit.good_from:
        return Zone.WEAK
    return Zone.GOOD


def standard_uncertainty(x: float, repeatability: Repeatability) -> float | None:
    """u = √((r·x)² + a²) of one reading, in its own unit; ``None`` where the tester tells neither part.

    r and a are taken as independent standard uncertainties (JCGM 100:2008, 5.1.2).
    """
    if repeatability.relative is None and repeatability.absolute is None:
        return None
    return math.hypot((repeatability.relative or 0.0) * x, repeatability.absolute or 0.0)


def between_words(limit: Limit) -> Limit:
    """The limit of a scale of words with its borders half a step lower.

    A word stands for all tubes that got it: the border lies between two words, not on one.
    """
    reject, good = limit.reject_below, limit.good_from
    return replace(
        limit,
        reject_below=None if reject is None else reject - 0.5,
        good_from=None if good is None else good - 0.5,
    )


def nearest_limit(x: float, limit: Limit) -> float | None:
    """The figure of the limit that a value is nearest to, ``None`` without any."""
    figures = [figure for figure in (limit.good_from, limit.reject_below) if figure is not None]
    return min(figures, key=lambda figure: abs(x - figure), default=None)


def judge_line(
    values: Sequence[float], limit: Limit | None, repeatability: Repeatability, *, by_word: bool = False
) -> LineVerdict:
    """The judgement of a setting line from its repeats (re-seated, line checked): their mean, with u/√n.

    Sure when the mean is farther than 1.645·u from the nearest limit; the probability is Φ((x − L)/u),
    that of lying above it. ``above`` only adds a remark. With ``by_word`` the values are places of words: a
    mean counts as the word nearest to it (half way, as the worse one), and doubt is told from the borders
    between the words. Raises ``ValueError`` without any value.
    """
    if not values:
        raise ValueError("a line without a reading has no verdict")
    limit = limit if limit is not None else NO_LIMIT
    x = mean(map(float, values))
    single = standard_uncertainty(x, repeatability)
    u = None if single is None else single / math.sqrt(len(values))
    edge = nearest_limit(x, between_words(limit) if by_word else limit)
    sure, probability = (None, None) if u is None or edge is None else _certainty(x, edge, u)
    return LineVerdict(
        zone=zone(math.ceil(x - 0.5) if by_word else x, limit),
        mean=x,
        n=len(values),
        limit=limit,
        u=u,
        sure=sure,
        probability=probability,
        above=limit.above is not None and x > limit.above,
    )


def _certainty(x: float, edge: float, u: float) -> tuple[bool, float]:
    """Whether a value is clear of a limit, and the probability of being above it; u may be nothing."""
    if u == 0:
        return True, float(x >= edge)
    return abs(x - edge) > GUARD * u, NormalDist(edge, u).cdf(x)


def like_sections(sections: Iterable[Section]) -> dict[str, str]:
    """Which sections of a type are alike, as ``judge_tube`` wants it: the same function and bogey values."""
    return {s.name: f"{s.function} {s.gm_umho} {s.mu} {s.plate_ma}" for s in sections}


def judge_tube(
    lines: Sequence[ReadLine],
    observations: Iterable[Observation] = (),
    expected_lines: int | None = None,
    alike: Mapping[str, str] | None = None,
) -> TubeVerdict:
    """What the tube as a whole is worth: a fault outranks every number, then the worst line decides.

    ``lines`` are those read so far on one tester, each with its label and section; ``expected_lines``
    how many that tester's chart asks for. Until all are read the word is never better than ``not read``,
    while a weak or rejected line already speaks. ``alike`` gives each section its kind
    (``like_sections``); sections of one kind are balanced against each other.
    """
    blank = TubeVerdict(
        word=NOT_READ,
        sure=None,
        balance_percent=balance_percent(lines, alike or {}),
        lines_read=len(lines),
        lines_expected=expected_lines,
    )
    fault = worst_fault(observations)
    if fault is not None:
        return replace(blank, word=str(fault.mark), sure=True)
    if not lines:
        return blank
    label, _, line = min(lines, key=_rank)
    partly = expected_lines is not None and len(lines) < expected_lines
    if partly and line.zone not in (Zone.REJECT, Zone.WEAK):
        return blank
    return replace(blank, word=str(line.zone), sure=line.sure, decided_by=label, read_again=asks_again(line))


def asks_again(line: LineVerdict) -> bool:
    """Whether another repeat may settle a line; one that is still unsure after three it will not."""
    return line.sure is False and line.n < MOST_REPEATS


def repeat_spread(values: Sequence[float]) -> float | None:
    """(max − min)/mean of the repeats of a line, as a share; ``None`` with fewer than two, or about zero."""
    if len(values) < 2 or mean(values) <= 0:
        return None
    return (max(values) - min(values)) / mean(values)


def _rank(line: ReadLine) -> tuple[int, int]:
    """The deciding line first: the worst zone and there the least sure.

    Only among rejects the surest goes first, for one sure reject settles the tube whatever the others do.
    """
    zone_of, sure = line[2].zone, line[2].sure
    doubt = (False, None, True).index(sure)
    return _WORST_FIRST.index(zone_of), -doubt if zone_of is Zone.REJECT else doubt


def worst_fault(observations: Iterable[Observation]) -> Observation | None:
    """The gravest of the observations that the technician calls a fault, in the order of ``Mark``."""
    order = list(Mark)
    return min((o for o in observations if o.is_fault), key=lambda o: order.index(o.mark), default=None)


def balance_percent(lines: Sequence[ReadLine], alike: Mapping[str, str]) -> float | None:
    """(max − min)/mean over sections of one kind, in per cent, the worst kind; ``None`` without two.

    Only lines in the same unit are compared, and the n-th line of a section with the n-th of the others.
    """
    groups: dict[tuple[str, str, int], list[float]] = {}
    seen: dict[tuple[str, str], int] = {}
    for _, section, verdict in lines:
        if section not in alike:
            continue
        nth = seen[section, verdict.limit.unit] = seen.get((section, verdict.limit.unit), 0) + 1
        groups.setdefault((alike[section], verdict.limit.unit, nth), []).append(verdict.mean)
    spreads = [
        100 * (max(means) - min(means)) / mean(means)
        for means in groups.values()
        if len(means) > 1 and mean(means) > 0
    ]
    return max(spreads, default=None)


def settled(verdict: TubeVerdict) -> bool:
    """Whether the bench is done with a tube: everything read, and no further repeat asked for."""
    return verdict.word != NOT_READ and not verdict.read_again


def default_limit(
    rule: DefaultRule | None,
    *,
    scale: Scale,
    bogey: float | None = None,
    bogey_unit: str = "",
    tester: str = "",
    dated: date | None = None,
) -> Limit | None:
    """The limit that a tester's default rule makes for a line that has none, marked as derived.

    Figures in the rule are of the tester's own scale. Shares apply to ``bogey`` only where the tester
    reads in ``bogey_unit``; otherwise ``None``, which is ``unjudged``.
    """
    if rule is None:
        return None
    comparable = bogey if bogey is not None and same_unit(scale.unit, bogey_unit) else None
    good_from, reject_below = rule.good_from, rule.reject_below
    if good_from is None and reject_below is None and comparable is not None:
        good_from, reject_below = _share(rule.good_share, comparable), _share(rule.reject_share, comparable)
    if good_from is None and reject_below is None:
        return None
    return Limit(
        good_from=good_from,
        reject_below=reject_below,
        bogey=comparable,
        unit=scale.unit,
        source=f"shop default, {tester}" if tester else "shop default",
        dated=dated,
        derived=True,
    )


def _share(share: float | None, bogey: float) -> float | None:
    """A share of the bogey to six figures, so that 0.66 of 5,000 is 3,300 and not a hair above it."""
    return None if share is None else float(f"{share * bogey:.6g}")
