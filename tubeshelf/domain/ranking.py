"""What may go into a socket? Every type of the table that would serve there, the best first."""

from dataclasses import dataclass
from enum import StrEnum
from math import log

from tubeshelf.domain.catalog import Catalog
from tubeshelf.domain.fit import judge_types
from tubeshelf.domain.fit_function import check_function
from tubeshelf.domain.fit_sections import like_sections
from tubeshelf.domain.fitting import FitJudgement, Outcome, SocketFacts
from tubeshelf.domain.types import Substitute, TubeType

CHECKABLE = frozenset(
    {
        "rating_lower",
        "rectifier_drop",
        "heater_current",
        "tied_inside",
        "tie_missing",
        "one_way",
        "version_not_listed",
    }
)
"""Differences of a wrong type that a check at the set can settle: the judgement says what to check.

Not among them is what no check makes right: another heater, function, cut-off or characteristic, an element
missing or on a pin that the socket does not use, an output tube that nobody lists.
"""


class Standing(StrEnum):
    """How a type stands among those that may go into a socket, from best to last."""

    RIGHT = "right"
    AS_GOOD = "as good"
    SERVES = "serves"
    IN_A_PINCH = "in a pinch"
    COMPARE = "compare"
    WITH_A_CHECK = "with a check"


_GRADES = {1: Standing.AS_GOOD, 2: Standing.SERVES, 3: Standing.IN_A_PINCH}
_ORDER = {standing: place for place, standing in enumerate(Standing)}


@dataclass(frozen=True, slots=True)
class Candidate:
    """A type that may go into the socket, its fit there, and how it stands; ``grade`` if it is listed."""

    tube: TubeType
    judgement: FitJudgement
    standing: Standing
    grade: int | None = None


def what_may_go(catalog: Catalog, intended: TubeType, facts: SocketFacts) -> tuple[Candidate, ...]:
    """Every type that is right, accepted, or a wrong type whose differences are all ``CHECKABLE``.

    Ranked by standing; of equals the one with the fewest reasons, then the one whose µ and gm are
    nearest, stands first. Retired types are left out. Nothing harmful, unknown or of another base is
    ever among them.
    """
    candidates = [
        candidate
        for tube in catalog.types()
        if tube.base == intended.base and not tube.retired
        if (candidate := _candidate(catalog, intended, tube, facts)) is not None
    ]
    return tuple(sorted(candidates, key=lambda candidate: _rank(intended, candidate)))


def _candidate(catalog: Catalog, intended: TubeType, tube: TubeType, facts: SocketFacts) -> Candidate | None:
    entry = catalog.substitute(intended.key, tube.key)
    if entry is None and tube is not intended and _does_other_work(intended, tube):
        return None
    judgement = judge_types(catalog, intended, tube, facts)
    standing = _standing(judgement, entry)
    if standing is None:
        return None
    return Candidate(tube, judgement, standing, entry.grade if entry else None)


def _does_other_work(intended: TubeType, tube: TubeType) -> bool:
    """The quickest of the checks first: it rules out most types of a base."""
    return any(reason.rule not in CHECKABLE for reason in check_function(intended, tube))


def _standing(judgement: FitJudgement, entry: Substitute | None) -> Standing | None:
    if judgement.outcome is Outcome.RIGHT_TYPE:
        return Standing.RIGHT
    if judgement.outcome is Outcome.ACCEPTED_SUBSTITUTE:
        return _GRADES[entry.grade] if entry else Standing.COMPARE
    wrong = judgement.outcome is Outcome.WRONG_TYPE
    if wrong and all(reason.rule in CHECKABLE for reason in judgement.reasons):
        return Standing.WITH_A_CHECK
    return None


def _rank(intended: TubeType, candidate: Candidate) -> tuple[int, int, float, str]:
    tube = candidate.tube
    reasons = len(candidate.judgement.reasons)
    return _ORDER[candidate.standing], reasons, _distance(intended, tube), tube.designation


def _distance(intended: TubeType, tube: TubeType) -> float:
    """How far µ and gm are apart, as the sum of the logarithms of their ratios; unknown ones are far."""
    total = 0.0
    for ours, theirs in like_sections(intended, tube):
        for one, other in ((ours.mu, theirs.mu), (ours.gm_umho, theirs.gm_umho)):
            if one and other:
                total += abs(log(one / other))
            elif one or other:
                total += 1.0
    return round(total, 9)
