"""Does the winding stand the found heater's current?"""

from math import isclose

from tubeshelf.domain.fitting import Outcome, Reason, SocketFacts

LOAD_MOST = 1.15
"""Share of the designed load that a winding of unknown rating is trusted with."""
PAIR_MOST_A = 0.5
"""Amperes above the designed heater where nothing is known of the winding."""
CURRENT_BAND = 0.10
"""Share of the designed amperes by which a heater in parallel may differ without a word."""
_SLACK = 1e-9


def check_winding(designed: float, takes: float, facts: SocketFacts) -> tuple[Reason, ...]:
    """What the found tube's amperes do to the winding; its rating beats its load beats the bare pair."""
    pair = (("found_a", takes), ("designed_a", designed))
    more = takes - designed
    if facts.winding_a is not None:
        total = takes if facts.winding_load_a is None else facts.winding_load_a + more
        if total > facts.winding_a + _SLACK:
            in_all = () if isclose(total, takes) else (*pair[1:], ("total_a", total))
            figures = (*pair[:1], *in_all, ("winding_a", facts.winding_a))
            return (Reason("winding_overloaded", Outcome.HARMFUL, figures),)
    elif facts.winding_load_a is not None:
        total = facts.winding_load_a + more
        if total > LOAD_MOST * facts.winding_load_a + _SLACK:
            share = 100 * total / facts.winding_load_a
            load = (("total_a", total), ("load_a", facts.winding_load_a), ("percent", share))
            return (Reason("winding_load_high", Outcome.HARMFUL, (*pair, *load)),)
    if facts.winding_load_a is None and more > PAIR_MOST_A + _SLACK:
        return (Reason("heater_current_harm", Outcome.HARMFUL, pair),)
    known = facts.winding_load_a is not None
    if abs(more) <= CURRENT_BAND * designed + _SLACK:
        return ()
    if more < 0:
        return (Reason("takes_less", Outcome.ACCEPTED_SUBSTITUTE, pair),)
    if more > (LOAD_MOST - 1) * designed + _SLACK and not known:
        check = Reason("check_winding_rating", Outcome.ACCEPTED_SUBSTITUTE)
        return (Reason("heater_current", Outcome.WRONG_TYPE, pair), check)
    return (Reason("check_winding", Outcome.ACCEPTED_SUBSTITUTE, pair),)
