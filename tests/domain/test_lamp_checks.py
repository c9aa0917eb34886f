"""Lamps that are told of on the retube list, wherever they are."""

import pytest

from tubeshelf.domain.fitting import Circuit
from tubeshelf.domain.heater_set import Feed
from tubeshelf.domain.heater_words import say_note
from tubeshelf.domain.heaters import Lamp
from tubeshelf.domain.lamp_checks import lamp_check

TYPES = {"V5": "35Z5GT"}


def said(feed: Feed) -> str:
    note = lamp_check(feed, TYPES)
    return "" if note is None else say_note(note)


def string(lamp: Lamp | None) -> Feed:
    return Feed("string", Circuit.SERIES, lamp=lamp)


@pytest.mark.parametrize(
    ("lamp", "sentence"),
    [
        (
            Lamp(6.3, 0.15, at="V5"),
            "string: check the lamp (6.3 V, 0.15 A) on the heater tap of V5 35Z5GT; it carries "
            "plate current, and open it overheats the tap",
        ),
        (
            Lamp(6.3, 0.15),
            "string: check the lamp (6.3 V, 0.15 A) in series; open, it puts the whole string out",
        ),
        (
            Lamp(6.3, 0.15, at="dropper", tap_ohm=42),
            "string: check the lamp (6.3 V, 0.15 A) on the dropper, across 42 Ω",
        ),
        (Lamp(None, None, at="dropper"), "string: check the lamp on the dropper"),
        (None, ""),
    ],
)
def test_a_lamp_of_a_string(lamp: Lamp | None, sentence: str) -> None:
    assert said(string(lamp)) == sentence


def test_lamps_on_a_winding_are_told_with_their_current() -> None:
    assert said(Feed("6.3 V", Circuit.PARALLEL, volts=6.3, lamps_a=0.3)) == (
        "6.3 V: check the lamps, 0.3 A in all"
    )


@pytest.mark.parametrize("amperes", [None, 0.0])
def test_a_winding_without_lamps_says_nothing(amperes: float | None) -> None:
    assert said(Feed("5 V", Circuit.PARALLEL, volts=5.0, lamps_a=amperes)) == ""
