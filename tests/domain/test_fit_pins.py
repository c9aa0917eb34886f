from dataclasses import replace

import pytest

from tests.domain.tubes import OUTPUT, TWIN, fact, judged, output, rectifier, rules, tube, twin
from tubeshelf.domain.fit_words import consequence
from tubeshelf.domain.fitting import Outcome
from tubeshelf.domain.types import Heating, TubeType
from tubeshelf.domain.words import say

PENTODE = "1:shell 2:heater 3:1.grid3 4:1.grid1 5:1.cathode 6:1.grid2 7:heater 8:1.plate"
CAPPED = "1:shell 2:heater 3:1.plate 4:1.grid2 5:1.grid3 6:nc 7:heater 8:1.cathode cap:1.grid1"


def pentode(name: str, pins: str = PENTODE, **more: object) -> TubeType:
    return tube(name, pins, "6.3/0.3 2-7", "1 pentode", base="octal", figures={"gm_umho": 2000.0}, **more)


def test_another_base_cannot_seat_and_nothing_else_is_said() -> None:
    judgement = judged(twin("12AX7"), output("6V6GT"))
    assert judgement.outcome is Outcome.CANNOT_SEAT
    assert [(r.rule, dict(r.facts)) for r in judgement.reasons] == [
        ("base_differs", {"found": "octal", "designed": "noval"})
    ]
    assert judgement.conditions == ()


def test_electrodes_on_each_others_pins_are_harmful() -> None:
    judgement = judged(pentode("6SK7"), pentode("6K7", CAPPED))
    assert judgement.outcome is Outcome.HARMFUL
    moved = [dict(r.facts) for r in judgement.reasons if r.rule == "electrode_moved"]
    assert moved == [
        {"element": "plate", "pin": "3", "then": "plate>grid3", "expected": "grid3"},
        {"element": "grid2", "pin": "4", "then": "grid2>grid1", "expected": "grid1"},
        {"element": "cathode", "pin": "8", "then": "cathode>plate", "expected": "plate"},
    ]
    assert fact(judgement, "element_on_unused_pin", "pin") == "cap"


def test_the_halves_of_a_twin_triode_may_be_numbered_the_other_way_round() -> None:
    other_way = (
        "1:1.plate 2:1.grid1 3:1.cathode 4:heater 5:heater 6:2.plate 7:2.grid1 8:2.cathode 9:heater.tap"
    )
    found = tube("X", other_way, "6.3/0.3 4+5-9", "1+2 triode", figures={"mu": 100.0, "gm_umho": 1600.0})
    assert judged(twin("12AX7"), found).outcome is Outcome.ACCEPTED_SUBSTITUTE


def test_a_half_turned_upside_down_is_no_renumbering() -> None:
    grid_and_plate_swapped = TWIN.replace("1:2.plate 2:2.grid1", "1:2.grid1 2:2.plate")
    found = tube("X", f"{grid_and_plate_swapped} 9:heater.tap", "6.3/0.3 4+5-9", "1+2 triode")
    assert judged(twin("12AX7"), found).outcome is Outcome.HARMFUL


def test_an_element_on_a_pin_that_the_socket_leaves_free_is_a_wrong_type() -> None:
    own_pin = OUTPUT.replace("1:nc", "1:1.grid3").replace("+1.beam", "")
    judgement = judged(output("6L6"), output("6CA7", pins=own_pin))
    assert judgement.outcome is Outcome.WRONG_TYPE
    assert rules(judgement) == ["element_on_unused_pin"]
    assert fact(judgement, "element_on_unused_pin", "element") == "grid3"


def test_a_suppressor_tied_inside_is_no_difference_where_the_socket_has_a_pin_for_it() -> None:
    own_pin = OUTPUT.replace("1:nc", "1:1.grid3").replace("+1.beam", "")
    assert judged(output("6CA7", pins=own_pin), output("6L6")).outcome is Outcome.ACCEPTED_SUBSTITUTE


def test_a_missing_element_is_a_wrong_type() -> None:
    triode = OUTPUT.replace("4:1.grid2", "4:nc").replace("+1.beam", "")
    judgement = judged(output("6V6"), output("X", pins=triode))
    assert judgement.outcome is Outcome.WRONG_TYPE
    assert dict(judgement.reasons[0].facts) == {"element": "grid2", "pin": "4", "here": "nc"}
    assert rules(judgement) == ["element_missing"]


def test_an_internal_tie_that_the_socket_may_use_is_missed() -> None:
    tied = "1:1.cathode 2:heater 3:1.plate 4:1.grid2 5:1.grid1 6:nc 7:heater 8:1.cathode"
    assert rules(judged(output("A", pins=tied), output("B"))) == ["tie_missing"]
    the_other_way = judged(output("B"), output("A", pins=tied))
    assert the_other_way.outcome is Outcome.ACCEPTED_SUBSTITUTE
    assert "nothing tied to pin 1: it carries the cathode as well" in " ".join(the_other_way.conditions)


def test_high_voltage_on_a_free_pin_is_a_wrong_type_and_on_a_grounded_shell_harmful() -> None:
    screen_on_one = output("7027A", pins=OUTPUT.replace("1:nc", "1:1.grid2"))
    free = judged(output("6L6GC"), screen_on_one)
    assert free.outcome is Outcome.WRONG_TYPE
    assert rules(free) == ["tied_inside"]
    metal = output("6L6", pins=OUTPUT.replace("1:nc", "1:shell"), envelope="metal")
    shorted = judged(metal, screen_on_one)
    assert shorted.outcome is Outcome.HARMFUL
    assert say(shorted.reasons[0]) == (
        "pin 1: shell in this socket, screen grid in the found tube: "
        "the screen grid lands on the shield's pin, mostly ground, and gets no supply"
    )
    assert judged(replace(metal, envelope="glass"), screen_on_one).outcome is Outcome.WRONG_TYPE


def test_grids_tied_inside_a_converter_are_one_screen() -> None:
    converter = "1:1.grid1 2:heater 3:1.plate 4:1.grid2+1.grid4 5:1.grid3 6:nc 7:heater 8:1.cathode"
    judgement = judged(output("A"), output("B", pins=converter, sections="1 pentagrid"))
    assert "electrode_moved" not in rules(judgement)
    judgement = judged(output("A", pins=OUTPUT.replace("4:1.grid2", "4:1.grid1")), output("B", pins=OUTPUT))
    assert "electrode_moved" in rules(judgement)


def test_the_signal_grid_of_a_converter_may_stand_where_the_signal_comes_in_but_not_the_reverse() -> None:
    converter = "1:1.grid1 2:heater 3:1.plate 4:1.grid2+1.grid4 5:1.grid3 6:nc 7:heater 8:1.cathode"
    mixer, plain = output("B", pins=converter, sections="1 pentagrid"), output("A", sections="1 pentode")
    judgement = judged(plain, mixer)
    assert judgement.outcome is Outcome.WRONG_TYPE
    assert {"function_differs", "element_on_unused_pin"} <= set(rules(judgement))
    assert judged(mixer, plain).outcome is Outcome.HARMFUL
    on_the_plate = converter.replace("3:1.plate", "3:1.grid3").replace("5:1.grid3", "5:1.plate")
    said = [say(r) for r in judged(plain, output("C", pins=on_the_plate, sections="1 pentagrid")).reasons]
    assert (
        "pin 3: plate in this socket, No. 3 grid in the found tube: "
        "the plate supply comes onto the signal grid"
    ) in said


def test_the_screen_of_a_converter_is_no_signal_grid_whatever_its_numbers() -> None:
    """In the octal pentagrids grids 3 and 5 are the screen, and grid 4 takes the signal."""
    old = "1:shell 2:heater 3:1.plate 4:1.grid3+1.grid5 5:1.grid1 6:1.grid2 7:heater 8:1.cathode cap:1.grid4"
    swapped = old.replace("4:1.grid3+1.grid5 5:1.grid1", "4:1.grid1 5:1.grid3+1.grid5")
    designed, found = (
        output(name, pins=pins, sections="1 pentagrid") for name, pins in (("6A8", old), ("X", swapped))
    )
    four = [dict(r.facts) for r in judged(designed, found).reasons if dict(r.facts).get("pin") == "4"]
    assert four[0]["then"] == "grid1>grid2"


def test_a_heater_across_other_circuits_is_harmful_and_on_free_pins_cold() -> None:
    seven_eight = "1:nc 2:nc 3:1.plate 4:1.grid2 5:1.grid1 6:1.cathode 7:heater 8:heater"
    assert "heater_moved" in rules(judged(output("A"), output("B", "6.3/0.45 7-8", seven_eight)))
    one_two = OUTPUT.replace("1:nc", "1:heater").replace("7:heater", "7:nc")
    judgement = judged(output("A"), output("B", "6.3/0.45 1-2", one_two))
    assert judgement.outcome is Outcome.WRONG_TYPE
    assert rules(judgement) == ["heater_cold"]


def test_a_cathode_joined_to_the_heater_pin_is_where_a_filament_is() -> None:
    joined = "1:nc 2:heater 3:nc 4:2.plate 5:nc 6:1.plate 7:nc 8:heater+1.cathode+2.cathode"
    indirect = rectifier("5V4", pins=joined, heating=Heating.HEATER)
    direct = rectifier("5Y3")
    later, sooner = judged(direct, indirect), judged(indirect, direct)
    assert later.outcome is sooner.outcome is Outcome.ACCEPTED_SUBSTITUTE
    assert any("warms up later" in c for c in later.conditions)
    assert any("warms up sooner" in c for c in sooner.conditions)


def test_a_battery_tube_may_have_its_suppressor_on_the_middle_of_its_filament() -> None:
    battery = "1:filament 2:1.plate 3:1.grid1 4:1.grid2 5:filament.tap+1.grid3 6:1.plate 7:filament"

    def made(name: str) -> TubeType:
        return output(name, "1.4/0.1 1+7-5 | 2.8/0.05 1-7", battery, heating=Heating.FILAMENT)

    assert judged(made("3S4"), made("3Q4")).outcome is Outcome.ACCEPTED_SUBSTITUTE


def test_a_filament_does_not_stand_in_for_a_cathode_on_a_pin_of_its_own() -> None:
    own_cathode = "1:nc 2:heater 3:2.plate 4:nc 5:1.plate 6:nc 7:heater 8:1.cathode+2.cathode"
    filament = "1:nc 2:filament 3:2.plate 4:nc 5:1.plate 6:nc 7:filament 8:nc"
    judgement = judged(rectifier("6X5", "5/2 2-7", own_cathode), rectifier("X", "5/2 2-7", filament))
    assert "element_missing" in rules(judgement)


def test_glass_for_metal_is_a_condition_not_a_difference() -> None:
    metal, glass = pentode("6SK7", envelope="metal"), pentode("6SK7GT", envelope="glass")
    judgement = judged(metal, glass)
    assert judgement.outcome is Outcome.ACCEPTED_SUBSTITUTE
    assert "mind shielding: glass for metal" in judgement.conditions
    assert (
        "mind shielding: pin 1 is its shell, check what the socket has there"
        in judged(glass, metal).conditions
    )


def test_a_shield_that_only_one_has_is_a_condition() -> None:
    shielded, open_ = twin("6CG7", "6.3/0.6 4-5", nine="shield"), twin("6FQ7", "6.3/0.6 4-5", nine="nc")
    for judgement in (judged(shielded, open_), judged(open_, shielded)):
        assert judgement.outcome is Outcome.ACCEPTED_SUBSTITUTE
        assert any(c.startswith("mind shielding: pin 9") for c in judgement.conditions)


def test_pins_that_the_table_lacks_are_unknown_not_all_right() -> None:
    nameless = output("X")
    nameless = replace(nameless, basing=replace(nameless.basing, pins=()))
    assert judged(output("6V6"), nameless).outcome is Outcome.UNKNOWN


# ---- what follows, in words


@pytest.mark.parametrize(
    ("what", "sentence"),
    [
        ("grid1>plate", "the plate supply comes onto the control grid"),
        ("grid1>grid2", "the screen supply comes onto the control grid"),
        ("cathode>plate", "the plate supply lifts the cathode far above the heater"),
        ("cathode>b_plus", "B+ lifts the cathode far above the heater"),
        ("plate>grid2", "the plate is on the screen supply without its load"),
        ("plate>ac", "the high alternating voltage comes onto the plate"),
        ("ac>plate", "the plate supply comes onto the rectifier's plate"),
        ("ac>grid1", "the rectifier's plate lands on the grid circuit and gets no supply"),
        ("plate>cathode", "the plate lands on the cathode's pin and gets no supply"),
        ("grid2>grid1", "the screen grid lands on the grid circuit and gets no supply"),
        ("grid1>cathode", "the control grid lands on the cathode's pin and has neither drive nor bias"),
        ("cathode>grid1", "the cathode lands on the grid circuit and loses its return and bias"),
        ("heater>plate", "the plate supply comes onto the heater"),
        ("heater>cathode", "the heater lands on the cathode's pin and joins the two"),
        ("plate>plate", "the wires of two sections are crossed"),
        ("plate>free", "it gets no supply"),
        ("cathode>free", "it is left open and no current flows"),
        ("grid3>free", "it is left open unless the set ties it to the cathode"),
    ],
)
def test_what_follows_from_an_element_on_another_pin(what: str, sentence: str) -> None:
    assert consequence(what) == sentence


def test_every_role_has_words_on_every_pin() -> None:
    roles = ("plate", "ac", "b_plus", "grid2", "target", "grid1", "signal", "cathode", "diode", "heater")
    for what in roles:
        for where in (*roles, "grid3", "filament", "shield", "free"):
            assert "another element" not in consequence(f"{what}>{where}"), (what, where)
            assert "the element" not in consequence(f"{what}>{where}"), (what, where)


def test_a_moved_electrode_says_both_tubes_and_what_follows() -> None:
    said = [say(reason) for reason in judged(pentode("6SK7"), pentode("6K7", CAPPED)).reasons]
    assert said[0] == (
        "pin 3: suppressor grid in this socket, plate in the found tube: "
        "the plate lands on the suppressor's pin and gets no supply"
    )
    assert (
        "top cap: not used in this socket, control grid in the found tube: "
        "it is left without drive and bias, and the plate current runs away"
    ) in said


def test_a_missing_element_says_what_the_found_tube_has_there() -> None:
    triode = OUTPUT.replace("4:1.grid2", "4:ic").replace("+1.beam", "")
    assert say(judged(output("6V6"), output("X", pins=triode)).reasons[0]) == (
        "pin 4: screen grid in this socket, an internal connection in the found tube: it has no screen grid"
    )


def test_the_filament_pin_of_a_rectifier_brings_b_plus() -> None:
    judgement = judged(rectifier("5Y3"), output("6V6", "5/2 2-7"))
    eight = [say(r) for r in judgement.reasons if r.rule == "electrode_moved" and dict(r.facts)["pin"] == "8"]
    assert eight == [
        "pin 8: filament in this socket, cathode in the found tube: B+ lifts the cathode far above the heater"
    ]


def test_a_heater_on_the_plates_pin_says_so() -> None:
    swapped = OUTPUT.replace("3:1.plate", "3:heater").replace("2:heater", "2:1.plate")
    judgement = judged(output("A"), output("B", "6.3/0.45 3-7", swapped))
    assert (
        "pin 3: plate in this socket, heater in the found tube: the plate supply comes onto the heater"
        in [say(r) for r in judgement.reasons]
    )


LAMP_TAP = "1:nc 2:heater 3:heater.tap 4:nc 5:1.plate 6:nc 7:heater 8:1.cathode"


def test_a_rectifier_without_the_tap_leaves_lamp_and_plate_without_current() -> None:
    tapped = rectifier("35Z5", "35/0.15 2-7", LAMP_TAP, heating=Heating.HEATER)
    plain = rectifier("35Z4", "35/0.15 2-7", LAMP_TAP.replace("heater.tap", "nc"), heating=Heating.HEATER)
    judgement = judged(tapped, plain)
    assert (judgement.outcome, rules(judgement)) == (Outcome.WRONG_TYPE, ["tap_missing"])
    assert say(judgement.reasons[0]) == (
        "pin 3: heater tap in this socket, not connected in the found tube: "
        "a lamp or plate fed from the tap gets no current"
    )
    assert judged(plain, tapped).outcome is Outcome.ACCEPTED_SUBSTITUTE


# ---- tie points


@pytest.mark.parametrize("element", ["1.plate", "1.grid2", "1.grid1", "1.cathode", "heater"])
def test_an_element_on_a_known_tie_point_is_harmful(element: str) -> None:
    found = output("X", pins=OUTPUT.replace("1:nc", f"1:{element}"))
    judgement = judged(output("6L6GC"), found, ties=("1",))
    assert judgement.outcome is Outcome.HARMFUL
    assert judgement.reasons[0].rule == "on_tie_point"
    assert dict(judgement.reasons[0].facts)["pin"] == "1"
    assert judged(output("6L6GC"), found, ties=("6",)).outcome is not Outcome.HARMFUL


@pytest.mark.parametrize("element", ["ic", "shield", "1.grid3"])
def test_a_shield_or_suppressor_on_a_tie_point_is_a_condition(element: str) -> None:
    found = output("X", pins=OUTPUT.replace("1:nc", f"1:{element}"))
    judgement = judged(output("6L6GC"), found, ties=("1",))
    assert judgement.outcome is Outcome.ACCEPTED_SUBSTITUTE
    assert any(c.startswith("pin 1 is a tie point in this socket") for c in judgement.conditions)


def test_a_tie_point_on_a_pin_that_the_designed_tube_uses_changes_nothing() -> None:
    screened = output("7027A", pins=OUTPUT.replace("1:nc", "1:1.grid2"))
    assert judged(screened, replace(screened, key="B", designation="B"), ties=("1",)) == judged(
        screened, replace(screened, key="B", designation="B")
    )
    assert judged(output("A"), output("B"), ties=("1", "6", "9", "cap")) == judged(output("A"), output("B"))
