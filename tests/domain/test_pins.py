"""Pins as they are typed, and shorts that the tube itself makes."""

import pytest

from tests.domain.tubes import RECTIFIER, tube
from tubeshelf.domain.errors import UserError
from tubeshelf.domain.pins import perhaps_tied, read_pins, tied_inside
from tubeshelf.domain.types import Heating

PENTODE = tube(
    "6XX5",
    "1:1.grid1 2:1.cathode+1.grid3+shield 3:heater 4:heater 5:1.plate 6:1.grid2 7:1.cathode+1.grid3+shield",
    "6.3/0.3",
    "1 pentode",
    base="7-pin miniature",
)
TWIN = tube(
    "12XX7",
    "1:2.plate 2:2.grid1 3:2.cathode 4:heater 5:heater 6:2.plate 7:1.grid1 9:heater.tap cap:1.plate",
    "6.3/0.3",
    "1+2 triode",
)
DIODE = tube("5XX3", RECTIFIER, "5/2", "1+2 rectifier", base="octal", heating=Heating.FILAMENT)
BEAM = tube("6XX6", "1:1.plate 2:ic 3:heater 4:heater 5:nc 6:1.grid1 7:nc", "6.3/0.3", "1 beam power")


@pytest.mark.parametrize("typed", ["2.5", "2,5", "2-5", "2–5", "2 5", " 02 . 5 ", "2/5"])
def test_a_pair_is_typed_with_what_lies_at_hand(typed: str) -> None:
    assert read_pins(typed, PENTODE.basing) == "2-5"


def test_two_figures_after_the_point_are_a_pin() -> None:
    assert read_pins("1.10", None) == "1-10"


@pytest.mark.parametrize(
    ("typed", "kept"),
    [("", ""), ("heater-cathode", "heater-cathode"), ("4", "4"), ("c.6", "cap-6"), ("cap-6", "cap-6")],
)
def test_elements_one_pin_and_nothing_are_kept(typed: str, kept: str) -> None:
    assert read_pins(typed, TWIN.basing) == kept


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [("2.8", "no pin 8"), ("c.2", "no top cap"), ("3.3", "pin 3 twice")],
)
def test_a_pin_that_cannot_be_is_refused(typed: str, sentence: str) -> None:
    with pytest.raises(UserError, match=sentence):
        read_pins(typed, PENTODE.basing)


def test_the_same_element_on_two_pins_is_no_short() -> None:
    assert tied_inside(PENTODE, "2-7") == "Pins 2 and 7 are both the cathode in this type: no short."
    assert tied_inside(TWIN, "1-6") == "Pins 1 and 6 are both the plate of section 2 in this type: no short."


def test_the_heater_joins_its_ends_and_its_tap() -> None:
    assert tied_inside(PENTODE, "3-4") == "Pins 3 and 4 are joined by the heater in this type: no short."
    assert tied_inside(TWIN, "4-9") == "Pins 4 and 9 are joined by the heater in this type: no short."
    assert tied_inside(DIODE, "2-8") == "Pins 2 and 8 are joined by the filament in this type: no short."


def test_an_internal_connection_may_be_tied_to_anything() -> None:
    assert tied_inside(BEAM, "2-6") == ""
    assert perhaps_tied(BEAM, "2-6") == "Pin 2 has an internal connection in this type: perhaps no short."
    assert perhaps_tied(BEAM, "1-6") == perhaps_tied(None, "2-6") == perhaps_tied(BEAM, "2") == ""


@pytest.mark.parametrize("pins", ["1-2", "2-3", "", "2", "heater-cathode", "cap-6"])
def test_other_pins_are_not_tied(pins: str) -> None:
    assert tied_inside(PENTODE, pins) == ""


def test_two_pins_that_are_not_connected_are_not_tied_to_each_other() -> None:
    assert tied_inside(BEAM, "5-7") == ""
    assert tied_inside(None, "2-7") == ""
