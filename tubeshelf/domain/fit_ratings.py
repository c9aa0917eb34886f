"""Does the found tube stand what the intended one was rated for?"""

from collections.abc import Iterable

from tubeshelf.domain.fit_sections import label, like_sections
from tubeshelf.domain.fitting import Fact, Outcome, Reason, SocketFacts
from tubeshelf.domain.types import Heating, TubeType

LOWER = 0.95
"""A rating under this share of the designed one counts as lower."""
RECTIFIER_LEAST = 0.80
"""Share of the designed direct current under which a rectifier is in danger."""
DROP_BAND = 0.20
"""How far the drop of a rectifier may be from the designed one, as a share of it."""

_TYPE_RATINGS = ("plate_v_max", "screen_v_max", "cathode_ma_max", "piv_v", "dc_ma")
_SECTION_RATINGS = ("plate_w_max", "screen_w_max")


def check_ratings(intended: TubeType, found: TubeType, facts: SocketFacts) -> tuple[Reason, ...]:
    """Lower ratings, each a difference with a check to make; a known supply above them is harm."""
    return (
        *_supplies(intended, found, facts),
        *_lower(intended, found, facts),
        *_rectifier(intended, found, facts),
    )


def _supplies(intended: TubeType, found: TubeType, facts: SocketFacts) -> Iterable[Reason]:
    """Known supplies against the ratings; no harm of the tube where the designed one stands no more."""
    if _is_rectifier(found):
        return  # its plate rating is one of alternating volts, and what is known is the B+ behind it
    for name, supply, over, within in (
        ("plate_v_max", facts.plate_supply_v, "supply_over_rating", "supply_within"),
        ("screen_v_max", facts.screen_supply_v, "screen_supply_over", "screen_supply_within"),
    ):
        designed, most = getattr(intended.ratings, name), getattr(found.ratings, name)
        if supply is None or most is None or (designed is not None and designed <= most):
            continue
        figures = (("supply_v", supply), ("found", most))
        if supply > most:
            yield Reason(over, Outcome.HARMFUL, figures)
        else:
            yield Reason(within, Outcome.ACCEPTED_SUBSTITUTE, figures)


def _lower(intended: TubeType, found: TubeType, facts: SocketFacts) -> Iterable[Reason]:
    decided = {
        "plate_v_max": facts.plate_supply_v is not None and not _is_rectifier(found),
        "screen_v_max": facts.screen_supply_v is not None,
    }
    for name in _TYPE_RATINGS:
        if decided.get(name):
            continue
        designed, rated = getattr(intended.ratings, name), getattr(found.ratings, name)
        if name == "dc_ma" and _is_rectifier(intended) and _too_little_current(designed, rated):
            continue  # said as harm
        yield from _if_lower(name, designed, rated, "")
    for ours, theirs in like_sections(intended, found):
        for name in _SECTION_RATINGS:
            yield from _if_lower(name, getattr(ours, name), getattr(theirs, name), label(found, theirs))


def _if_lower(name: str, designed: float | None, rated: float | None, section: str) -> Iterable[Reason]:
    if designed is None or rated is None or rated >= LOWER * designed:
        return
    facts: tuple[tuple[str, Fact], ...] = (("rating", name), ("found", rated), ("designed", designed))
    if section:
        facts = (*facts, ("section", section))
    yield Reason("rating_lower", Outcome.WRONG_TYPE, facts)
    yield Reason("check_rating", Outcome.ACCEPTED_SUBSTITUTE, facts)


def _is_rectifier(tube: TubeType) -> bool:
    return any(section.function == "rectifier" for section in tube.sections)


def _too_little_current(designed: float | None, rated: float | None) -> bool:
    return designed is not None and rated is not None and rated < RECTIFIER_LEAST * designed


def _rectifier(intended: TubeType, found: TubeType, facts: SocketFacts) -> Iterable[Reason]:
    if not _is_rectifier(intended):
        return
    ours, theirs = intended.ratings, found.ratings
    if _too_little_current(ours.dc_ma, theirs.dc_ma):
        figures = (("found_ma", theirs.dc_ma or 0.0), ("designed_ma", ours.dc_ma or 0.0))
        yield Reason("rectifier_current", Outcome.HARMFUL, figures)
    if not _is_rectifier(found):
        return
    yield from _drop(intended, found, facts)
    if intended.heating is Heating.HEATER and found.heating is Heating.FILAMENT:
        yield Reason("warms_up_sooner", Outcome.ACCEPTED_SUBSTITUTE)
    elif intended.heating is Heating.FILAMENT and found.heating is Heating.HEATER:
        yield Reason("warms_up_later", Outcome.ACCEPTED_SUBSTITUTE)


def _drop(intended: TubeType, found: TubeType, facts: SocketFacts) -> Iterable[Reason]:
    """The drops at one current: a vacuum diode follows Child's law, V in proportion to I to the 2/3.

    What the found one drops less, B+ rises. A known capacitor decides then, with a known B+.
    """
    ours, theirs = intended.ratings, found.ratings
    if not (ours.drop_v and ours.drop_ma and theirs.drop_v and theirs.drop_ma):
        return  # unknown, or a zero that no diode has
    scaled = theirs.drop_v * (ours.drop_ma / theirs.drop_ma) ** (2 / 3)
    less, supply, capacitor = ours.drop_v - scaled, facts.plate_supply_v, facts.capacitor_v
    rise: tuple[tuple[str, Fact], ...] = ()
    if supply is not None and less > 0:
        rise = (("drop_v", less), ("supply_v", supply), ("total_v", supply + less))
        if capacitor is not None and supply + less > capacitor:
            yield Reason("capacitor_over", Outcome.HARMFUL, (*rise, ("capacitor_v", capacitor)))
            return
    if abs(less) <= DROP_BAND * ours.drop_v:
        return
    if rise and capacitor is not None:
        yield Reason("capacitor_within", Outcome.ACCEPTED_SUBSTITUTE, (*rise, ("capacitor_v", capacitor)))
        return
    drops = (("found_v", scaled), ("designed_v", ours.drop_v), ("at_ma", ours.drop_ma))
    yield Reason("rectifier_drop", Outcome.WRONG_TYPE, drops)
    if less > 0:
        yield Reason("check_capacitors", Outcome.ACCEPTED_SUBSTITUTE, rise)
    else:
        yield Reason("expect_less_b_plus", Outcome.ACCEPTED_SUBSTITUTE)
