"""Does the found tube do the intended one's work, and with figures near enough?"""

from collections.abc import Iterable

from tubeshelf.domain.fit_sections import kind, kinds, label, like_sections
from tubeshelf.domain.fitting import Fact, Outcome, Reason
from tubeshelf.domain.types import Section, TubeType

MU_RATIO, GM_RATIO = 1.25, 1.35
"""Largest ratio of two bogeys that still is the same characteristic."""
PLATE_RATIO = 5.0
"""Largest ratio of the plate volts of two bogey points: beyond it one is made for a 12 V plate supply."""
REGULATOR_BAND = 0.05
"""How far the operating volts of a regulator may be from the designed ones, as a share of them."""

_TRIODES = frozenset({"triode", "power triode"})
_FIGURE = {"rectifier": "dc_ma", "regulator": "operating_v"}
_STATED = ("plate_v_max", "piv_v", "dc_ma")
_NO_FIGURE = frozenset({"diode", "indicator"})


def check_function(intended: TubeType, found: TubeType) -> tuple[Reason, ...]:
    """Another function or cut-off, µ, gm or regulated volts far from the designed ones."""
    if _functions_differ(intended, found):
        names = (("found", found.function), ("designed", intended.function))
        return (Reason("function_differs", Outcome.WRONG_TYPE, names),)
    differences = (
        *_cutoff(intended, found),
        *_characteristics(intended, found),
        *_regulator(intended, found),
    )
    return tuple(dict.fromkeys(differences))


def _functions_differ(intended: TubeType, found: TubeType) -> bool:
    if intended.sections and found.sections:
        return kinds(intended) != kinds(found)
    return kind(intended.function) != kind(found.function)


def _cutoff(intended: TubeType, found: TubeType) -> Iterable[Reason]:
    ours, theirs = _cutoff_of(intended), _cutoff_of(found)
    if ours and theirs and ours != theirs:
        cutoffs = (("found", theirs), ("designed", ours))
        yield Reason("cutoff_differs", Outcome.WRONG_TYPE, cutoffs)


def _cutoff_of(tube: TubeType) -> str:
    """Its cut-off; a triode of which the table says nothing is sharp: only the others are remarkable."""
    triodes = bool(tube.sections) and all(section.function == "triode" for section in tube.sections)
    return tube.cutoff or ("sharp" if triodes else "")


def _characteristics(intended: TubeType, found: TubeType) -> Iterable[Reason]:
    for ours, theirs in like_sections(intended, found):
        where = label(found, theirs)
        if ours.function in _TRIODES and _apart(ours.mu, theirs.mu, MU_RATIO):
            yield _figures("mu_differs", theirs.mu, ours.mu, where)
        if ours.gm_umho and theirs.gm_umho and _apart(ours.plate_v, theirs.plate_v, PLATE_RATIO):
            yield _figures("plate_class", theirs.plate_v, ours.plate_v, where)
        if _apart(ours.gm_umho, theirs.gm_umho, GM_RATIO):
            yield _figures("gm_differs", theirs.gm_umho, ours.gm_umho, where)


def _regulator(intended: TubeType, found: TubeType) -> Iterable[Reason]:
    designed, holds = intended.ratings.operating_v, found.ratings.operating_v
    if designed is None or holds is None:
        return
    if abs(holds - designed) > REGULATOR_BAND * designed:
        volts = (("found_v", holds), ("designed_v", designed))
        yield Reason("regulator_volts", Outcome.WRONG_TYPE, volts)


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
    for tube, lacks in ((found, _lacks(intended, found)), (intended, _no_drop(found, intended))):
        if lacks:
            return (Reason("figures_missing", Outcome.UNKNOWN, (("name", tube.designation),)),)
    return ()


def _lacks(intended: TubeType, found: TubeType) -> bool:
    """Whether a rating is stated for the intended type and not for the found one, so that nobody can say."""
    ours, theirs = intended.ratings, found.ratings
    if any(getattr(ours, name) is not None and getattr(theirs, name) is None for name in _STATED):
        return True
    pairs = like_sections(intended, found)
    return _no_drop(intended, found) or any(
        one.plate_w_max is not None and other.plate_w_max is None for one, other in pairs
    )


def _no_drop(stated: TubeType, lacking: TubeType) -> bool:
    """Whether only the first of two rectifiers has a drop: B+ may then be anything."""
    return stated.ratings.drop_v is not None and lacking.ratings.drop_v is None


def _compared(tube: TubeType, section: Section) -> bool:
    if section.function in _FIGURE:
        return getattr(tube.ratings, _FIGURE[section.function]) is not None
    return section.function in _NO_FIGURE or section.gm_umho is not None or section.mu is not None
