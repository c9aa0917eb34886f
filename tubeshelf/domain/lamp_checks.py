"""Lamps that belong on the retube list, since a heater or a whole string depends on them."""

from collections.abc import Mapping

from tubeshelf.domain.fitting import Fact
from tubeshelf.domain.heater_notes import Note
from tubeshelf.domain.heater_set import Feed
from tubeshelf.domain.heaters import IN_SERIES, ON_DROPPER


def lamp_check(feed: Feed, types: Mapping[str, str]) -> Note | None:
    """What to check of the lamps of a circuit; none where it has none. ``types`` is type by position."""
    facts: list[tuple[str, Fact]] = [("circuit", feed.name)]
    if feed.lamp is None:
        if not feed.lamps_a:
            return None
        return Note("check_winding", (*facts, ("lamps_a", feed.lamps_a)))
    lamp = feed.lamp
    if lamp.volts is not None and lamp.amperes is not None:
        facts += [("lamp_v", lamp.volts), ("lamp_a", lamp.amperes)]
    if lamp.at == IN_SERIES:
        return Note("check_series", tuple(facts))
    if lamp.at == ON_DROPPER:
        part: list[tuple[str, Fact]] = [] if lamp.tap_ohm is None else [("tap_ohm", lamp.tap_ohm)]
        return Note("check_dropper", (*facts, *part))
    return Note("check_tap", (*facts, ("position", lamp.at), ("type", types.get(lamp.at, ""))))
