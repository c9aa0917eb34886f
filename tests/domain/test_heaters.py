"""Figures worked by hand from Ohm's law; the heater ratings are those of the types' data sheets."""

import pytest

from tubeshelf.domain.heaters import Heater, dropper_for, string, winding_load


def heaters(*rated: float, amperes: float = 0.15) -> list[Heater]:
    return [Heater(f"V{i}", volts, amperes) for i, volts in enumerate(rated, 1)]


def test_a_five_tube_string_runs_a_little_low_on_117_volts() -> None:
    # 12.6 + 12.6 + 12.6 + 35 + 50 = 122.8 V at 0.15 A; 117/122.8 = 0.953
    result = string(heaters(12.6, 12.6, 12.6, 35.0, 50.0), supply_v=117.0)
    assert result is not None
    assert [tube.percent_off for tube in result.tubes] == pytest.approx([-4.7] * 5, abs=0.05)
    assert result.amperes == pytest.approx(0.15 * 117 / 122.8)
    assert sum(tube.volts for tube in result.tubes) == pytest.approx(117.0)


@pytest.mark.parametrize(("supply", "percent"), [(117.0, 8.5), (125.0, 16.0)])
def test_a_35_volt_tube_in_the_50_volt_place_overheats_them_all(supply: float, percent: float) -> None:
    # 107.8 V in all: 117/107.8 = 1.085, 125/107.8 = 1.160
    result = string(heaters(12.6, 12.6, 12.6, 35.0, 35.0), supply_v=supply)
    assert result is not None
    assert result.tubes[0].percent_off == pytest.approx(percent, abs=0.05)


def test_a_string_shares_by_resistance() -> None:
    # 42 Ω and 84 Ω: a third and two thirds of the supply
    result = string([Heater("V1", 6.3, 0.15), Heater("V2", 12.6, 0.15)], supply_v=18.0)
    assert result is not None
    assert [tube.volts for tube in result.tubes] == pytest.approx([6.0, 12.0])


def test_the_dropper_of_a_mixed_string() -> None:
    # three 6.3 V and two 25 V at 0.3 A leave 48.1 V: 160 Ω, 14.4 W
    rated = heaters(6.3, 6.3, 6.3, 25.0, 25.0, amperes=0.3)
    dropper = dropper_for(rated, supply_v=117.0)
    assert dropper is not None
    assert dropper.volts == pytest.approx(48.1)
    assert dropper.ohms == pytest.approx(160.3, abs=0.05)
    assert dropper.watts == pytest.approx(14.43)
    result = string(rated, supply_v=117.0, dropper_ohm=dropper.ohms)
    assert result is not None
    assert [tube.percent_off for tube in result.tubes] == pytest.approx([0.0] * 5, abs=1e-9)
    assert (result.dropper_v, result.dropper_w) == pytest.approx((dropper.volts, dropper.watts))


def test_no_dropper_is_invented() -> None:
    assert dropper_for(heaters(12.6, 12.6, 12.6, 35.0, 50.0), supply_v=117.0) is None
    assert dropper_for([Heater("V1", 6.3, 0.3), Heater("V2", 6.3, 0.15)], supply_v=117.0) is None
    assert dropper_for([Heater("V1", None, 0.3)], supply_v=117.0) is None


def test_a_lamp_in_series_takes_its_share() -> None:
    # the lamp is 42 Ω, as the tube is
    result = string([Heater("V1", 6.3, 0.15)], supply_v=12.0, lamps=[Heater("lamp", 6.3, 0.15)])
    assert result is not None
    assert [tube.label for tube in result.tubes] == ["V1", "lamp"]
    assert [tube.volts for tube in result.tubes] == pytest.approx([6.0, 6.0])


@pytest.mark.parametrize(
    "unknown", [Heater("V2", None, 0.15), Heater("V2", 12.6, None), Heater("V2", 0.0, 0.15)]
)
def test_one_unknown_heater_leaves_the_string_unknown(unknown: Heater) -> None:
    assert string([Heater("V1", 12.6, 0.15), unknown], supply_v=117.0) is None


def test_an_empty_string_has_no_result() -> None:
    assert string([], supply_v=117.0) is None


def test_a_winding_carries_heaters_and_lamps() -> None:
    # two 12AX7 on 6.3 V (0.3 A each), two 6V6GT (0.45 A), two lamps of 0.15 A
    tubes = [Heater("V1", 6.3, 0.3), Heater("V2", 6.3, 0.3), Heater("V3", 6.3, 0.45), Heater("V4", 6.3, 0.45)]
    lamps = [Heater("lamp", 6.3, 0.15)] * 2
    load = winding_load(tubes, lamps=lamps, rating_a=2.0)
    assert load.amperes == pytest.approx(1.8)
    assert load.share == pytest.approx(0.9)
    assert load.overloaded is False
    assert winding_load(tubes, lamps=lamps, rating_a=1.8).overloaded is False


def test_a_3_ampere_rectifier_overloads_a_2_ampere_winding() -> None:
    assert winding_load([Heater("V5", 5.0, 3.0)], rating_a=2.0).overloaded is True
    assert winding_load([Heater("V5", 5.0, 2.0)], rating_a=2.0).overloaded is False


def test_without_a_rating_the_designed_load_counts_with_15_per_cent_to_spare() -> None:
    assert winding_load([Heater("V5", 5.0, 2.3)], designed_a=2.0).overloaded is False
    assert winding_load([Heater("V5", 5.0, 2.4)], designed_a=2.0).overloaded is True
    assert winding_load([Heater("V5", 5.0, 1.725)], designed_a=1.5).overloaded is False  # 115 % to the letter


def test_what_is_unknown_is_never_within_the_rating() -> None:
    missing = Heater("V2", 6.3, None)
    load = winding_load([Heater("V1", 6.3, 0.3), missing], rating_a=2.0)
    assert (load.unknown, load.overloaded) == (("V2",), None)
    assert winding_load([Heater("V1", 6.3, 2.5), missing], rating_a=2.0).overloaded is True
    assert winding_load([Heater("V1", 6.3, 2.5)]).overloaded is None
