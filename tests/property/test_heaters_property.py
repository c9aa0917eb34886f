"""What holds of every string: its volts add up to the supply, and the dropper named for it is right."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tubeshelf.domain.heaters import Ballast, Heater, Lamp, dropper_for, string

volts = st.floats(1.0, 120.0)
amperes = st.sampled_from([0.05, 0.1, 0.15, 0.3, 0.45])
rated = st.lists(st.tuples(volts, amperes), min_size=1, max_size=12)
lamps = st.none() | st.builds(
    Lamp,
    volts=st.sampled_from([3.2, 6.3, 8.0]),
    amperes=st.sampled_from([0.15, 0.25]),
    at=st.sampled_from(["series", "dropper", "V1"]),
    tap_ohm=st.floats(1.0, 100.0),
)
ballasts = st.none() | st.builds(
    Ballast, amperes=amperes, low_v=st.floats(5.0, 40.0), high_v=st.floats(41.0, 200.0)
)


def heaters(pairs: list[tuple[float, float]]) -> list[Heater]:
    """V1 has a tap of a fifth of its volts."""
    first = Heater("V1", *pairs[0], tap_v=pairs[0][0] / 5)
    return [first, *(Heater(f"V{i}", *pair) for i, pair in enumerate(pairs[1:], start=2))]


@given(rated, st.floats(6.0, 250.0), st.floats(100.0, 2000.0), lamps, ballasts)
def test_the_volts_add_up_to_the_supply(
    pairs: list[tuple[float, float]], supply: float, drop: float, lamp: Lamp | None, ballast: Ballast | None
) -> None:
    result = string(heaters(pairs), supply_v=supply, dropper_ohm=drop, lamp=lamp, ballast=ballast)
    assert result is not None
    in_series = result.lamp.volts if result.lamp is not None and result.lamp.at == "series" else 0.0
    parts = (*(tube.volts for tube in result.tubes), result.dropper_v, in_series, result.ballast_v or 0.0)
    assert sum(parts) == pytest.approx(supply)
    assert 0 < result.dropper_w <= result.dropper_v * result.amperes * (1 + 1e-9)
    if ballast is not None and result.ballast_holds:
        assert result.amperes == ballast.amperes
    if ballast is not None and not result.ballast_holds:
        # below its range less flows than it would hold, above it more
        assert (result.amperes < ballast.amperes) is (
            result.ballast_v is None or result.ballast_v < ballast.low_v
        )


@given(st.lists(volts, min_size=1, max_size=8), amperes, st.floats(1.0, 200.0))
def test_the_dropper_that_is_named_brings_every_heater_to_its_rating(
    rated_v: list[float], current: float, left: float
) -> None:
    members = [Heater(f"V{i}", v, current) for i, v in enumerate(rated_v)]
    supply = sum(rated_v) + left
    dropper = dropper_for(members, supply_v=supply)
    assert dropper is not None
    result = string(members, supply_v=supply, dropper_ohm=dropper.ohms)
    assert result is not None
    assert [tube.percent_off for tube in result.tubes] == pytest.approx([0.0] * len(members), abs=1e-6)
    assert result.dropper_w == pytest.approx(dropper.watts)
