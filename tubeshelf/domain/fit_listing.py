"""What it means that nobody lists a pair of types as substitutes."""

from tubeshelf.domain.catalog import Catalog
from tubeshelf.domain.fit_sections import is_output, kinds
from tubeshelf.domain.fitting import Outcome, Reason
from tubeshelf.domain.types import TubeType


def check_unlisted(catalog: Catalog, intended: TubeType, found: TubeType) -> tuple[Reason, ...]:
    """Two types of one base without an entry, where that by itself says that they do not replace each other.

    A later letter replaces an earlier one and a selected tube a plain one, never the reverse: an entry
    for the opposite direction alone says so, and in the place of a selected tube only its listed
    relatives may stand. Output tubes of two families differ in load and bias even where the table has no
    figure for it.
    """
    names = (("found", found.designation), ("designed", intended.designation))
    if catalog.substitute(found.key, intended.key) is not None:
        return (Reason("one_way", Outcome.WRONG_TYPE, names),)
    same_family = bool(intended.family) and intended.family == found.family
    if not same_family and kinds(intended) == kinds(found) and any(map(is_output, found.sections)):
        return (Reason("output_not_listed", Outcome.WRONG_TYPE),)
    if same_family and _is_a_version(catalog, intended):
        return (Reason("version_not_listed", Outcome.WRONG_TYPE, names),)
    return ()


def _is_a_version(catalog: Catalog, tube: TubeType) -> bool:
    """Whether a type is as good as a plainer one of its family, which is not as good as it."""
    plainer = (catalog.find(entry.intended) for entry in catalog.serves_for(tube.key) if entry.grade == 1)
    return any(
        plain.family == tube.family and catalog.substitute(tube.key, plain.key) is None
        for plain in plainer
        if plain is not None
    )
