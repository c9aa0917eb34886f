"""Figures worked by hand from Ohm's law; the heater ratings are those of the types' data sheets."""

import pytest

from tubeshelf.domain.heaters import Ballast, Heater, Lamp, dropper_for, string, unknown_in, winding_load


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


# ---- lamps


def tapped(label: str = "V5", volts: float = 35.0) -> Heater:
    """A 35W4 or 35Z5GT: 7.5 V of 35 V are tapped, 5.5 V of 32 V with a panel lamp (RC-30)."""
    return Heater(label, volts, 0.15, tap_v=7.5, lamp_heater_v=volts - 3, lamp_tap_v=5.5)


PANEL_LAMP = Lamp(6.3, 0.15, at="V5")


def test_a_lamp_on_the_rectifiers_tap_lowers_it_by_3_volts() -> None:
    # 12.6 + 12.6 + 12.6 + 50 + 32 = 119.8 V; 117/119.8 = 0.9766; the tap has 5.5 V of the 32 V
    four = heaters(12.6, 12.6, 12.6, 50.0)
    result = string([*four, tapped()], supply_v=117.0, lamp=PANEL_LAMP)
    assert result is not None
    assert result.amperes == pytest.approx(0.1465, abs=5e-5)
    assert [t.percent_off for t in result.tubes] == pytest.approx([-2.34] * 5, abs=0.005)
    assert result.tubes[4].rated_v == 32.0
    assert result.tubes[4].volts == pytest.approx(31.25, abs=0.005)
    assert result.lamp is not None
    assert result.lamp.volts == pytest.approx(5.37, abs=0.005)
    assert result.lamp.percent_off == pytest.approx(-14.7, abs=0.1)
    without = string([*four, tapped()], supply_v=117.0)
    assert without is not None
    assert without.lamp is None
    assert without.tubes[4].rated_v == 35.0


def test_another_lamp_on_the_tap_is_worked_out_to_first_order() -> None:
    # tap 7.5/0.15 = 50 Ω, lamp 6.3/0.25 = 25.2 Ω: together 16.755 Ω, 2.513 V; 35 − 7.5 + 2.513 = 30.01 V
    result = string([tapped()], supply_v=30.0, lamp=Lamp(6.3, 0.25, at="V5"))
    assert result is not None
    assert result.tubes[0].rated_v == pytest.approx(30.01, abs=0.005)
    assert result.amperes == pytest.approx(0.14994, abs=5e-5)
    assert result.lamp is not None
    assert result.lamp.volts == pytest.approx(2.512, abs=0.002)


def test_a_lamp_whose_rating_nobody_wrote_down_is_the_usual_one_on_a_published_tap_only() -> None:
    usual = string([tapped()], supply_v=32.0, lamp=Lamp(None, None, at="V5"))
    assert usual is not None
    assert usual.amperes == pytest.approx(0.15)
    unpublished = Heater("V5", 35.0, 0.15, tap_v=7.5)
    assert string([unpublished], supply_v=32.0, lamp=Lamp(None, None, at="V5")) is None
    assert unknown_in([unpublished], lamp=Lamp(None, None, at="V5")) == ("lamp",)


def test_a_lamp_where_the_tube_has_no_tap_stays_dark() -> None:
    plain = string([Heater("V5", 35.0, 0.15)], supply_v=35.0, lamp=PANEL_LAMP)
    assert plain is not None
    assert plain.amperes == pytest.approx(0.15)
    assert plain.lamp is not None
    assert plain.lamp.volts == 0.0


def test_one_lamp_in_series_counts_as_a_heater_of_its_rating() -> None:
    # 42 Ω each: 6 V each; the dropper for 117 V: 117 − 12.6 = 104.4 V, 696 Ω
    lamp = Lamp(6.3, 0.15)
    result = string([Heater("V1", 6.3, 0.15)], supply_v=12.0, lamp=lamp)
    assert result is not None
    assert result.lamp is not None
    assert (result.tubes[0].volts, result.lamp.volts) == pytest.approx((6.0, 6.0))
    assert result.lamp.percent_off == pytest.approx(-4.76, abs=0.005)
    dropper = dropper_for([Heater("V1", 6.3, 0.15)], supply_v=117.0, lamp=lamp)
    assert dropper is not None
    assert (dropper.volts, dropper.ohms) == pytest.approx((104.4, 696.0))


def test_a_lamp_across_a_part_of_the_dropper() -> None:
    # 160 Ω of which 40 Ω are shunted by a lamp of 6.3 V 0.25 A, 25.2 Ω: 15.46 Ω, so 135.46 Ω in all;
    # 68.9 V at 0.3 A are 229.67 Ω: 117/365.13 = 0.3204 A; lamp 4.954 V; dropper 43.41 V;
    # watts of the dropper itself: 120 Ω × 0.3204² + 4.954²/40 = 12.32 + 0.61
    rated = heaters(6.3, 6.3, 6.3, 25.0, 25.0, amperes=0.3)
    lamp = Lamp(6.3, 0.25, at="dropper", tap_ohm=40.0)
    result = string(rated, supply_v=117.0, dropper_ohm=160.0, lamp=lamp)
    assert result is not None
    assert result.amperes == pytest.approx(0.3204, abs=5e-5)
    assert result.lamp is not None
    assert result.lamp.volts == pytest.approx(4.954, abs=0.001)
    assert (result.dropper_v, result.dropper_w) == pytest.approx((43.41, 12.93), abs=0.01)
    nobody_said = Lamp(6.3, 0.25, at="dropper")
    assert string(rated, supply_v=117.0, dropper_ohm=160.0, lamp=nobody_said) is None
    assert unknown_in(rated, lamp=nobody_said) == ("the part of the dropper that the lamp shunts",)


# ---- ballast tubes


def test_a_ballast_holds_its_current_within_its_range() -> None:
    # 68.9 V at 0.3 A leave 48.1 V of 117 V and 56.1 V of 125 V
    rated = heaters(6.3, 6.3, 6.3, 25.0, 25.0, amperes=0.3)
    ballast = Ballast(0.3, 40.0, 60.0)
    for supply, left in ((117.0, 48.1), (125.0, 56.1)):
        result = string(rated, supply_v=supply, ballast=ballast)
        assert result is not None
        assert (result.amperes, result.ballast_v) == pytest.approx((0.3, left))
        assert result.ballast_holds is True
        assert [tube.percent_off for tube in result.tubes] == pytest.approx([0.0] * 5, abs=1e-9)


def test_a_ballast_out_of_its_range_is_a_resistor_at_its_bound() -> None:
    # a 6.3 V tube in a 25 V place: 50.2 V, 167.33 Ω; 66.8 V are left, over 60 V: 200 Ω; 117/367.33 = 0.3185 A
    rated = heaters(6.3, 6.3, 6.3, 6.3, 25.0, amperes=0.3)
    above = string(rated, supply_v=117.0, ballast=Ballast(0.3, 40.0, 60.0))
    assert above is not None
    assert above.amperes == pytest.approx(0.3185, abs=5e-5)
    assert above.ballast_holds is False
    assert above.ballast_v == pytest.approx(63.70, abs=0.01)
    # all heaters are 229.67 Ω; at 100 V 31.1 V are left, under 40 V: 133.33 Ω; 100/363 = 0.2755 A
    full = heaters(6.3, 6.3, 6.3, 25.0, 25.0, amperes=0.3)
    below = string(full, supply_v=100.0, ballast=Ballast(0.3, 40.0, 60.0))
    assert below is not None
    assert below.amperes == pytest.approx(0.2755, abs=5e-5)
    assert below.ballast_holds is False
