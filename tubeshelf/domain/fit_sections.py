"""Which section of the found tube stands for which of the intended one: like sections are alike."""

from collections.abc import Iterator, Mapping
from dataclasses import fields
from itertools import permutations
from operator import attrgetter

from tubeshelf.domain.types import Section, TubeType

_ALIKE = {"beam power": "power pentode", "heptode": "pentagrid"}

_OUTPUT = frozenset({"power pentode", "power triode"})

_FIGURES = attrgetter(*(field.name for field in fields(Section) if field.name != "name"))

Renaming = Mapping[str, str]
"""The intended section's name for each of the found tube's section names."""


def kind(function: str) -> str:
    """The function as the fit sees it: a beam power tube does the work of a power pentode."""
    return _ALIKE.get(function, function)


def is_output(section: Section) -> bool:
    """Whether a section drives a load, so that its bias and load impedance belong to the set's design."""
    return kind(section.function) in _OUTPUT


def kinds(tube: TubeType) -> list[str]:
    """The kinds of a tube's sections, in alphabetical order, so that two tubes can be compared."""
    return sorted(kind(section.function) for section in tube.sections)


def renamings(intended: TubeType, found: TubeType) -> Iterator[Renaming]:
    """Every pairing of the sections that pairs as many of equal function as can be paired.

    Sections left over on both sides are paired with each other, so that a triode's plate is still
    compared with a pentode's; a found section without any partner keeps a name that nothing has.
    """
    wanted: list[Section | None] = [*intended.sections]
    wanted += [None] * (len(found.sections) - len(wanted))
    pairings = [
        list(zip(found.sections, order, strict=True)) for order in permutations(wanted, len(found.sections))
    ]
    matches = [sum(_alike(theirs, ours) for theirs, ours in pairing) for pairing in pairings]
    best = max(matches)
    for pairing, matched in zip(pairings, matches, strict=True):
        if matched == best:
            yield {theirs.name: ours.name if ours else f"extra {theirs.name}" for theirs, ours in pairing}


def _alike(theirs: Section, ours: Section | None) -> bool:
    return ours is not None and kind(theirs.function) == kind(ours.function)


def like_sections(intended: TubeType, found: TubeType) -> list[tuple[Section, Section]]:
    """The pairs (intended, found) of sections with equal function, each section once."""
    left = list(found.sections)
    pairs = []
    for ours in intended.sections:
        theirs = next((section for section in left if _alike(section, ours)), None)
        if theirs is not None:
            left.remove(theirs)
            pairs.append((ours, theirs))
    return pairs


def label(tube: TubeType, section: Section) -> str:
    """The section's name where it must be told from others; empty where all sections are alike."""
    first, *others = map(_FIGURES, tube.sections)
    return "" if all(other == first for other in others) else section.name
