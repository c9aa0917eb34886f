"""Dissipation in words, with the numbers it was worked out of."""

from tubeshelf.domain.cautions import DEFERENCE
from tubeshelf.domain.dissipation import Difference, Dissipation, Missing
from tubeshelf.domain.words import number

AFTER_OVER = (
    "Switch off. Check bias, coupling capacitor and plate supply before the set is powered again, first with "
    f"the current limited. {DEFERENCE}"
)
"""What to do about a plate or screen over its rating."""

MEASURE_PLATE = "Measured by itself, the plate current tells how much of it the screen takes."

_MISSING = {
    Missing.PLATE_V: "plate volts not measured",
    Missing.CURRENT: "current not measured",
    Missing.SECTION: "which of its sections takes the current is not known",
    Missing.CATHODE_ABOVE: "the bias is more than the plate volts: measure again",
}


def missing_text(missing: Missing) -> str:
    """Why nothing was worked out."""
    return _MISSING[missing]


def dissipation_text(found: Dissipation) -> str:
    """``21.3 W of 25 W plate rating, 85 %``; ``at most`` where the screen's share is counted in."""
    watts = f"{'at most ' if found.at_most else ''}{number(found.watts)} W"
    if found.rated_w is None or found.share is None:
        return f"{watts} at the plate; the type table has no plate rating"
    text = f"{watts} of {number(found.rated_w)} W plate rating, {_percent(found.share)}"
    if found.screen_w is not None and found.screen_rated_w:
        share = _percent(found.screen_w / found.screen_rated_w)
        text += f"; {number(found.screen_w)} W of {number(found.screen_rated_w)} W screen rating, {share}"
    return text


def reckoning_text(found: Dissipation) -> str:
    """How the watts came about: ``71 mA × (300 − 12.4) V; the screen's share is counted in: worst case``."""
    volts = f"{number(found.volts)} V"
    if found.cathode_v:
        volts = f"({number(found.volts + found.cathode_v)} − {number(found.cathode_v)}) V"
    notes = (
        "the screen's share is counted in: worst case" if found.at_most else "",
        "B+ taken for the plate's volts" if found.at_supply else "",
        "bias not measured" if found.cathode_v is None else "",
    )
    return "; ".join(part for part in (f"{number(found.milliamperes)} mA × {volts}", *notes) if part)


def over_text(found: Dissipation) -> str:
    """That a rating is, or may be, exceeded; empty if none is. What to do is ``AFTER_OVER``."""
    if not found.is_over:
        return ""
    both = (found.rated_w or 0.0) + (found.screen_rated_w or 0.0)
    if not found.at_most or not found.screen_rated_w:
        return "over its rating"
    together = f"plate and screen together stand {number(both)} W"
    if found.watts > both:
        return f"over its rating; {together}"
    return f"over its rating unless the screen takes the difference; {together}"


def difference_text(found: Difference) -> str:
    """``V3 and V4 are 4 mA apart, 10.5 %``."""
    *first, last = found.positions
    apart = f"{', '.join(first)} and {last} are {number(found.milliamperes)} mA apart"
    return apart if found.percent is None else f"{apart}, {number(found.percent)} %"


def _percent(share: float) -> str:
    """Whole per cent; with as many decimals as tell more than 100 from 100."""
    decimals = next(d for d in range(7) if share <= 1 or round(100 * share, d) > 100 or d == 6)
    return f"{100 * share:.{decimals}f} %"
