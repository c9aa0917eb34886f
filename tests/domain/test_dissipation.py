"""What an output tube dissipates in the set, worked by hand from figures of data sheets."""

from dataclasses import replace

import pytest

from tests.domain.tubes import OUTPUT, tube
from tubeshelf.domain.dissipation import Dissipation, Measured, Missing, current_difference, dissipation
from tubeshelf.domain.dissipation_words import (
    AFTER_OVER,
    difference_text,
    dissipation_text,
    missing_text,
    over_text,
    reckoning_text,
)
from tubeshelf.domain.fitting import Bias
from tubeshelf.domain.types import TubeType


def pentode(name: str, plate_w: float | None, screen_w: float | None = None) -> TubeType:
    figures = {"plate_w_max": plate_w, "screen_w_max": screen_w}
    return tube(name, OUTPUT, "6.3/0.9 2-7", "1 power pentode", base="octal", figures=figures)


# Philips Electronic Tube Handbook, EL84: 250 V from plate to cathode, 48 mA and 5.5 mA, cathode resistor
# 135 Ω, 12 W and 2 W. The cathode then stands at 53.5 mA × 135 Ω = 7.2 V.
EL84 = pentode("EL84", 12, 2)
# GE data sheet ET-T, 6L6GC: class AB1 at 450 V and 400 V, −37 V, 58 mA and 2.8 mA a tube, 30 W and 5 W.
L6GC = pentode("6L6GC", 30, 5)
# RCA RC-14, 2A3: 250 V, −45 V, 60 mA, 15 W.
A3 = tube("2A3", "1:filament 2:1.plate 3:1.grid1 4:filament", "2.5/2.5 1-4", "1 power triode", base="4-pin")
A3 = replace(A3, sections=(replace(A3.sections[0], plate_w_max=15.0),))


def worked(measured: Measured, of: TubeType) -> Dissipation:
    found = dissipation(measured, of)
    assert isinstance(found, Dissipation)
    return found


def test_the_makers_own_cathode_biased_point_is_just_the_rating() -> None:
    point = Measured(plate_v=257.2, bias_v=7.2, plate_ma=48, bias=Bias.CATHODE)
    found = worked(point, EL84)
    assert (found.volts, found.cathode_v) == (250.0, 7.2)
    assert found.watts == pytest.approx(12.0)
    assert not found.is_over
    assert dissipation_text(found) == "12 W of 12 W plate rating, 100 %"
    assert reckoning_text(found) == "48 mA × (257 − 7.2) V"


def test_with_the_cathodes_current_alone_the_screens_share_is_counted_in() -> None:
    found = worked(Measured(plate_v=257.2, bias_v=7.2, cathode_ma=53.5, bias=Bias.CATHODE), EL84)
    assert found.watts == pytest.approx(13.375)  # 53.5 mA × 250 V
    assert found.at_most
    assert dissipation_text(found) == "at most 13.4 W of 12 W plate rating, 111 %"
    assert "the screen's share is counted in: worst case" in reckoning_text(found)
    assert over_text(found) == (
        "over its rating unless the screen takes the difference; plate and screen together stand 14 W"
    )


def test_more_than_plate_and_screen_stand_together_is_over_without_an_unless() -> None:
    found = worked(Measured(plate_v=300, cathode_ma=48, bias=Bias.FIXED), EL84)
    assert found.watts == 14.4
    assert over_text(found) == "over its rating; plate and screen together stand 14 W"


def test_fixed_bias_does_not_lift_the_cathode() -> None:
    found = worked(Measured(plate_v=450, bias_v=-37, cathode_ma=58 + 2.8, bias=Bias.FIXED), L6GC)
    assert found.watts == pytest.approx(27.36)  # 60.8 mA × 450 V
    assert dissipation_text(found) == "at most 27.4 W of 30 W plate rating, 91 %"
    assert not found.is_over
    assert over_text(found) == ""


def test_a_directly_heated_triode_has_no_screen_to_share_with() -> None:
    found = worked(Measured(plate_v=295, bias_v=45, cathode_ma=60, bias=Bias.CATHODE), A3)
    assert found.watts == pytest.approx(15.0)
    assert not found.at_most


@pytest.mark.parametrize(
    ("bias_v", "kind", "volts"),
    [
        (12.0, None, 288.0),  # above the chassis: it is the cathode that was measured
        (-12.0, None, 300.0),  # below it: a grid
        (0.0, None, 300.0),  # zero is a reading
        (-12.0, Bias.CATHODE, 288.0),  # written as the grid sees it
        (12.0, Bias.FIXED, 300.0),
        (None, None, 300.0),
    ],
)
def test_the_kind_of_bias_decides_else_its_sign(
    bias_v: float | None, kind: Bias | None, volts: float
) -> None:
    assert worked(Measured(plate_v=300, bias_v=bias_v, plate_ma=40, bias=kind), EL84).volts == volts


def test_a_bias_that_nobody_measured_is_said() -> None:
    assert "bias not measured" in reckoning_text(worked(Measured(plate_v=300, plate_ma=40), EL84))
    fixed = Measured(plate_v=300, plate_ma=40, bias=Bias.FIXED)
    assert "bias" not in reckoning_text(worked(fixed, EL84))


def test_both_currents_tell_the_screen_as_well() -> None:
    # The EL84 again: (250 V) × 5.5 mA = 1.375 W of 2 W.
    point = Measured(plate_v=257.2, screen_v=257.2, bias_v=7.2, cathode_ma=53.5, plate_ma=48)
    found = worked(point, EL84)
    assert found.screen_w == pytest.approx(1.375)
    assert dissipation_text(found) == "12 W of 12 W plate rating, 100 %; 1.38 W of 2 W screen rating, 69 %"


def test_a_screen_over_its_rating_is_over() -> None:
    found = worked(Measured(plate_v=250, screen_v=300, cathode_ma=48, plate_ma=40), EL84)
    assert found.watts == 10.0
    assert found.screen_w == 2.4
    assert found.is_over
    assert over_text(found) == "over its rating"


def test_what_to_do_about_too_much_limits_the_current_and_leaves_it_to_who_may() -> None:
    found = worked(Measured(plate_v=300, plate_ma=49, bias=Bias.FIXED), EL84)
    assert dissipation_text(found) == "14.7 W of 12 W plate rating, 122 %"
    assert "first with the current limited" in AFTER_OVER
    assert "that person decides" in AFTER_OVER
    assert "safe" not in AFTER_OVER


def test_a_hair_over_is_not_shown_as_just_the_rating() -> None:
    found = worked(Measured(plate_v=250.5, plate_ma=48, bias=Bias.FIXED), EL84)
    assert dissipation_text(found) == "12 W of 12 W plate rating, 100.2 %"
    assert found.is_over


def test_no_current_is_a_reading() -> None:
    found = worked(Measured(plate_v=300, cathode_ma=0, bias=Bias.FIXED), EL84)
    assert found.watts == 0.0
    assert dissipation_text(found) == "at most 0 W of 12 W plate rating, 0 %"


def test_a_type_without_a_rating_gets_watts_and_no_verdict() -> None:
    found = worked(Measured(plate_v=300, plate_ma=40, bias=Bias.FIXED), pentode("X1", None))
    assert found.share is None
    assert not found.is_over
    assert dissipation_text(found) == "12 W at the plate; the type table has no plate rating"


@pytest.mark.parametrize(
    ("measured", "why"),
    [
        (Measured(plate_ma=40), Missing.PLATE_V),
        (Measured(plate_v=300), Missing.CURRENT),
        (Measured(plate_v=10, bias_v=12, plate_ma=40, bias=Bias.CATHODE), Missing.CATHODE_ABOVE),
    ],
)
def test_what_is_missing_is_said(measured: Measured, why: Missing) -> None:
    assert dissipation(measured, EL84) is why
    assert missing_text(why)


def test_of_two_like_sections_nobody_knows_which_takes_the_current() -> None:
    twin = tube("6080", "1:nc", "6.3/2.5 7-8", "1+2 power triode", figures={"plate_w_max": 13})
    assert dissipation(Measured(plate_v=200, cathode_ma=60), twin) is Missing.SECTION


def test_of_a_triode_pentode_the_pentode_is_meant() -> None:
    both = tube("6BM8", "1:nc", "6.3/0.78 4-5", "t triode, p power pentode", figures={"plate_w_max": 7})
    # Philips, ECL82: 200 V, 35 mA is the 7 W of its pentode.
    assert worked(Measured(plate_v=200, plate_ma=35, bias=Bias.FIXED), both).share == pytest.approx(1.0)


def test_currents_of_a_pair_differ_by_milliamperes_and_per_cent_of_their_mean() -> None:
    found = current_difference([("V3", 36.0), ("V4", 40.0)])
    assert found is not None
    assert found.milliamperes == 4.0
    assert found.percent == pytest.approx(10.526, abs=0.001)
    assert difference_text(found) == "V3 and V4 are 4 mA apart, 10.5 %"


def test_four_tubes_are_as_far_apart_as_the_two_outermost() -> None:
    found = current_difference([("V4", 40.0), ("V5", 38.0), ("V6", 42.0), ("V7", 40.0)])
    assert found is not None
    assert difference_text(found) == "V4, V5, V6 and V7 are 4 mA apart, 10 %"


def test_one_current_differs_from_nothing_and_two_of_zero_have_no_per_cent() -> None:
    assert current_difference([("V3", 36.0)]) is None
    found = current_difference([("V3", 0.0), ("V4", 0.0)])
    assert found is not None
    assert difference_text(found) == "V3 and V4 are 0 mA apart"
