"""The bias of an output tube: set anew, and what the plate then dissipates, to a first order."""

from collections.abc import Iterable

from tubeshelf.domain.fit_sections import is_output, like_sections
from tubeshelf.domain.fitting import Bias, Fact, Outcome, Reason, SocketFacts
from tubeshelf.domain.types import Section, TubeType

BIAS_BAND = 0.10
"""How far the bias of an output tube may differ before it is to be set anew, as a share."""
OVER_PLATE = 1.10
"""Share of the plate dissipation above which an estimate calls it exceeded."""
PLATE_BAND, SCREEN_BAND = 0.25, 0.10
"""How far the supplies may be from those of the bogey point for an estimate, as shares of them."""
_RULES = {Bias.FIXED: "rebias_fixed", Bias.CATHODE: "rebias_cathode", None: "rebias"}


def check_bias(intended: TubeType, found: TubeType, facts: SocketFacts) -> tuple[Reason, ...]:
    """Another bias in the data as a condition, and the plate dissipation at a known fixed bias."""
    pairs = [pair for pair in like_sections(intended, found) if is_output(pair[0])]
    reasons = (*_rebias(pairs, facts), *_dissipation(pairs, facts))
    return tuple(dict.fromkeys(reasons))


def rebias(bias: Bias | None, figures: tuple[tuple[str, Fact], ...] = ()) -> Reason:
    """What to do about another bias in a socket whose kind of bias is known or not."""
    return Reason(_RULES[bias], Outcome.ACCEPTED_SUBSTITUTE, figures)


def _rebias(pairs: list[tuple[Section, Section]], facts: SocketFacts) -> Iterable[Reason]:
    for ours, theirs in pairs:
        if ours.grid_v is None or theirs.grid_v is None:
            continue
        low, high = sorted((abs(ours.grid_v), abs(theirs.grid_v)))
        if high > (1 + BIAS_BAND) * low:
            yield rebias(facts.bias, (("found_v", theirs.grid_v), ("designed_v", ours.grid_v)))


def _dissipation(pairs: list[tuple[Section, Section]], facts: SocketFacts) -> Iterable[Reason]:
    """Harm only where the designed tube is better off: else the set overruns that one too."""
    if facts.bias is not Bias.FIXED or facts.bias_v is None or facts.plate_supply_v is None:
        return
    for ours, theirs in pairs:
        milliamperes = plate_ma(theirs, facts)
        if milliamperes is None or not theirs.plate_w_max:
            continue
        watts = milliamperes * facts.plate_supply_v / 1000
        figures = (
            ("found_ma", milliamperes),
            ("bias_v", facts.bias_v),
            ("supply_v", facts.plate_supply_v),
            ("watts", watts),
            ("rated", theirs.plate_w_max),
        )
        designed = _share(ours, facts)
        share = watts / theirs.plate_w_max
        if share <= OVER_PLATE:
            yield Reason("bias_within", Outcome.ACCEPTED_SUBSTITUTE, figures)
        elif designed is None or share > designed:
            yield Reason("bias_over", Outcome.HARMFUL, figures)


def plate_ma(section: Section, facts: SocketFacts) -> float | None:
    """The plate current at the socket's fixed bias, from the bogey point by the section's gm and rp.

    I = I0 + gm (Vg - Vg0) + (Vp - Vp0) / rp, in mA, the last part where rp is known, and not below
    zero; ``None`` where the bogey point is not known or too far from the supplies: a current follows
    the screen about as it follows the grid, so a known screen supply has to be near that of the point.
    """
    known = (section.plate_ma, section.gm_umho, section.grid_v, section.plate_v)
    start, gm, grid, plate = known
    if start is None or gm is None or grid is None or plate is None:
        return None
    if facts.bias_v is None or facts.plate_supply_v is None:
        return None
    if _far(facts.plate_supply_v, plate, PLATE_BAND) or _far(
        facts.screen_supply_v, section.screen_v, SCREEN_BAND
    ):
        return None
    change = gm / 1000 * (facts.bias_v - grid)
    if section.rp_ohm:
        change += 1000 * (facts.plate_supply_v - plate) / section.rp_ohm
    return max(start + change, 0.0)


def _far(supply: float | None, bogey: float | None, band: float) -> bool:
    return supply is not None and bogey is not None and abs(supply - bogey) > band * bogey


def _share(section: Section, facts: SocketFacts) -> float | None:
    """The plate dissipation as a share of its rating, by the same estimate."""
    milliamperes = plate_ma(section, facts)
    if milliamperes is None or facts.plate_supply_v is None or not section.plate_w_max:
        return None
    return milliamperes * facts.plate_supply_v / 1000 / section.plate_w_max
