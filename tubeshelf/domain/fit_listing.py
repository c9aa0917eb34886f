"""What it means that nobody lists a pair of types as substitutes."""

from tubeshelf.domain.catalog import Catalog
from tubeshelf.domain.fit_sections import is_output, kinds
from tubeshelf.domain.fitting import Outcome, Reason
from tubeshelf.domain.types import TubeType


def check_unlisted(catalog: Catalog, intended: TubeType, found: TubeType) -> tuple[Reason, ...]:
    """Two types of one base without an entry: listed the other way only, or output tubes of another kind.

    A later letter replaces an earlier one and a selected tube a plain one, never the reverse: an entry
    for the opposite direction alone says so. Output tubes of two families differ in load and bias even
    where the table has no figure for it.
    """
    if catalog.substitute(found.key, intended.key) is not None:
        names = (("found", found.designation), ("designed", intended.designation))
        return (Reason("one_way", Outcome.WRONG_TYPE, names),)
    same_family = bool(intended.family) and intended.family == found.family
    if not same_family and kinds(intended) == kinds(found) and any(map(is_output, found.sections)):
        return (Reason("output_not_listed", Outcome.WRONG_TYPE),)
    return ()
