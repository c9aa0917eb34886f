"""The taps of rectifier heaters for a panel lamp, as RCA Receiving Tube Manual RC-30 prints them."""

from pathlib import Path

import pytest

from tests.store.test_shipped import folder  # noqa: F401 - a fixture: small tables without these columns
from tubeshelf.domain.types import TubeType
from tubeshelf.store.shipped import load_catalog, load_types


@pytest.mark.parametrize(("name", "volts"), [("35W4", 35), ("35Z5GT", 35), ("35Y4", 35), ("45Z5GT", 45)])
def test_a_tapped_rectifier_takes_3_volts_less_with_its_lamp(name: str, volts: float) -> None:
    tube = load_catalog().find(name)
    assert tube is not None
    assert tube.heaters[0].volts == volts
    assert (tube.tap_v, tube.lamp_heater_v, tube.lamp_tap_v) == (7.5, volts - 3, 5.5)


def test_every_tap_is_on_a_pin_and_its_figures_belong_together() -> None:
    tapped = [tube for tube in load_catalog().types() if tube.tap_v is not None]
    assert tapped
    for tube in tapped:
        assert any("heater.tap" in elements for _, elements in tube.basing.pins), tube.designation
        assert _plausible(tube), tube.designation


def _plausible(tube: TubeType) -> bool:
    (heater,) = tube.heaters
    assert tube.tap_v is not None
    if tube.lamp_heater_v is None or tube.lamp_tap_v is None:
        return tube.lamp_heater_v is tube.lamp_tap_v is None and tube.tap_v < heater.volts
    return tube.lamp_tap_v < tube.tap_v < tube.lamp_heater_v < heater.volts


def test_a_table_may_lack_the_columns(folder: Path) -> None:  # noqa: F811
    assert {(t.tap_v, t.lamp_heater_v, t.lamp_tap_v, t.warmup_s) for t in load_types(folder)} == {(None,) * 4}
