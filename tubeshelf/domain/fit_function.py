"""Does the found tube do the intended one's work, and with figures near enough?"""

from collections.abc import Iterable

from tubeshelf.domain.fit_sections import is_output, kind, kinds, label, like_sections
from tubeshelf.domain.fitting import Fact, Outcome, Reason
from tubeshelf.domain.types import Section, TubeType

MU_RATIO, GM_RATIO = 1.25, 1.35
"""Largest ratio of two bogeys that still is the same characteristic."""
BIAS_BAND = 0.10
"""How far the bias of an output tube may differ before it is to be set anew, as a share."""

_TRIODES = frozenset({"triode", "power triode"})
_FIGURE = {"rectifier": "dc_ma", "regulator": "operating_v"}
_NO_FIGURE = frozenset({"diode", "indicator"})


def check_function(intended: TubeType, found: TubeType) -> tuple[Reason, ...]:
    """Another function or cut-off, µ or gm far from the designed one; another bias as a condition."""
    if _functions_differ(intended, found):
        names = (("found", found.function), ("designed", intended.function))
        return (Reason("function_differs", Outcome.WRONG_TYPE, names),)
    return tuple(dict.fromkeys((*_cutoff(intended, found), *_characteristics(intended, found))))


def _functions_differ(intended: TubeType, found: TubeType) -> bool:
    if intended.sections and found.sections:
        return kinds(intended) != kinds(found)
    return kind(intended.function) != kind(found.function)


def _cutoff(intended: TubeType, found: TubeType) -> Iterable[Reason]:
    if intended.cutoff and found.cutoff and intended.cutoff != found.cutoff:
        cutoffs = (("found", found.cutoff), ("designed", intended.cutoff))
        yield Reason("cutoff_differs", Outcome.WRONG_TYPE, cutoffs)


def _characteristics(intended: TubeType, found: TubeType) -> Iterable[Reason]:
    for ours, theirs in like_sections(intended, found):
        where = label(found, theirs)
        if ours.function in _TRIODES and _apart(ours.mu, theirs.mu, MU_RATIO):
            yield _figures("mu_differs", theirs.mu, ours.mu, where)
        if _apart(ours.gm_umho, theirs.gm_umho, GM_RATIO):
            yield _figures("gm_differs", theirs.gm_umho, ours.gm_umho, where)
        if is_output(ours) and _apart(ours.grid_v, theirs.grid_v, 1 + BIAS_BAND):
            bias = (("found_v", theirs.grid_v or 0.0), ("designed_v", ours.grid_v or 0.0))
            yield Reason("rebias", Outcome.ACCEPTED_SUBSTITUTE, bias)


def _apart(one: float | None, other: float | None, most: float) -> bool:
    """Whether two figures are farther apart than a ratio; not where one of them is unknown."""
    if one is None or other is None:
        return False
    low, high = sorted((abs(one), abs(other)))
    return high > most * low


def _figures(rule: str, found: float | None, designed: float | None, section: str) -> Reason:
    facts: tuple[tuple[str, Fact], ...] = (("found", found or 0.0), ("designed", designed or 0.0))
    if section:
        facts = (*facts, ("section", section))
    return Reason(rule, Outcome.WRONG_TYPE, facts)


def check_figures_known(intended: TubeType, found: TubeType) -> tuple[Reason, ...]:
    """For a pair that nobody lists: can the table compare them at all? Unknown is not all right."""
    for tube in (intended, found):
        for section in tube.sections:
            if not _compared(tube, section):
                return (Reason("figures_missing", Outcome.UNKNOWN, (("name", tube.designation),)),)
        if not tube.sections:
            return (Reason("figures_missing", Outcome.UNKNOWN, (("name", tube.designation),)),)
    return ()


def _compared(tube: TubeType, section: Section) -> bool:
    if section.function in _FIGURE:
        return getattr(tube.ratings, _FIGURE[section.function]) is not None
    return section.function in _NO_FIGURE or section.gm_umho is not None or section.mu is not None
