"""Heater circuits of whole sets, worked out by hand from the ratings: as designed and with one wrong tube.

The sums stand beside the figures in ``cases/heater_*.csv``; the ratings come from the shipped table.
``V1 12AT7@12.6`` is the 12.6 V arrangement of a heater that has two.
"""

import csv
from functools import cache
from pathlib import Path

import pytest

from tubeshelf.domain.catalog import Catalog
from tubeshelf.domain.heaters import Ballast, Heater, Lamp, dropper_for, string, winding_load
from tubeshelf.store.shipped import load_catalog

Case = dict[str, str]
CASES = Path(__file__).with_name("cases")
THREE_FIGURES = 0.5e-3
"""Relative: a figure of 1 within half a unit of its fourth digit, so that three digits agree."""


def cases(name: str) -> list[Case]:
    with (CASES / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


WINDINGS = cases("heater_windings.csv")
STRINGS = cases("heater_strings.csv")
BALLASTS = cases("heater_ballasts.csv")
DROPPERS = cases("heater_droppers.csv")


def name_of(case: Case) -> str:
    return ", ".join(filter(None, (case["name"], case.get("state", ""))))


@cache
def catalog() -> Catalog:
    return load_catalog()


def heaters(tubes: str) -> list[Heater]:
    return [heater(place) for place in tubes.split(", ")]


def heater(place: str) -> Heater:
    position, _, marked = place.partition(" ")
    name, _, volts = marked.partition("@")
    tube = catalog().find(name)
    if tube is None:
        return Heater(position, None, None)
    rated = next((h for h in tube.heaters if volts and h.volts == float(volts)), tube.heaters[0])
    return Heater(position, rated.volts, rated.amperes, tube.tap_v, tube.lamp_heater_v, tube.lamp_tap_v)


def with_wrong(case: Case) -> list[Heater]:
    """The set with the wrong tube in its place."""
    wrong = heater(case["wrong"])
    return [wrong if h.label == wrong.label else h for h in heaters(case["tubes"])]


def rating(text: str) -> tuple[float, float]:
    volts, _, amperes = text.partition("/")
    return float(volts), float(amperes)


def lamp_of(case: Case) -> Lamp | None:
    if not case["lamp"]:
        return None
    rated, at, *ohms = case["lamp"].split()
    return Lamp(*rating(rated), at, float(ohms[0]) if ohms else None)


def near(text: str) -> object:
    return pytest.approx(float(text), rel=THREE_FIGURES, abs=1e-6)


@pytest.mark.parametrize("case", WINDINGS, ids=name_of)
def test_a_winding(case: Case) -> None:
    lamps = [Heater("lamp", *rating(lamp)) for lamp in case["lamps"].split()]
    rated = float(case["rating_a"]) if case["rating_a"] else None
    designed = winding_load(heaters(case["tubes"]), lamps=lamps, rating_a=rated)
    assert designed.amperes == near(case["designed_a"]), case["designed_sum"]
    found = winding_load(with_wrong(case), lamps=lamps, rating_a=rated, designed_a=designed.amperes)
    assert found.amperes == near(case["found_a"]), case["found_sum"]
    assert found.share is not None
    assert 100 * found.share == near(case["found_percent"]), case["found_sum"]
    assert found.overloaded is (case["overloaded"] == "yes"), case["why"]


@pytest.mark.parametrize("case", STRINGS, ids=name_of)
def test_a_string(case: Case) -> None:
    tubes, dropper = heaters(case["tubes"]), float(case["dropper_ohm"] or 0)
    result = string(tubes, supply_v=float(case["supply_v"]), dropper_ohm=dropper, lamp=lamp_of(case))
    assert result is not None
    assert result.amperes == near(case["amperes"]), case["sum"]
    assert [tube.label for tube in result.tubes] == [h.label for h in tubes]
    assert [tube.volts for tube in result.tubes] == [near(v) for v in case["volts"].split()], case["sum"]
    off = [pytest.approx(float(p), abs=0.05) for p in case["percent_off"].split()]
    assert [tube.percent_off for tube in result.tubes] == off, case["sum"]
    assert (result.dropper_v, result.dropper_w) == (near(case["dropper_v"]), near(case["dropper_w"]))
    assert (result.lamp is None) == (not case["lamp_v"])
    if result.lamp is not None:
        assert result.lamp.volts == near(case["lamp_v"])


@pytest.mark.parametrize("case", BALLASTS, ids=name_of)
def test_a_ballast(case: Case) -> None:
    ballast = Ballast(float(case["amperes"]), float(case["low_v"]), float(case["high_v"]))
    for state, tubes in (("designed", heaters(case["tubes"])), ("found", with_wrong(case))):
        result = string(tubes, supply_v=float(case["supply_v"]), ballast=ballast)
        assert result is not None
        holds = case[f"{state}_holds"] == "yes"
        assert result.ballast_holds is holds, case[f"{state}_sum"]
        if holds:
            assert result.amperes == near(case["amperes"])
            assert result.ballast_v == near(case[f"{state}_left_v"]), case[f"{state}_sum"]
        else:
            assert result.amperes > ballast.amperes, case["why"]


@pytest.mark.parametrize("case", DROPPERS, ids=name_of)
def test_a_dropper(case: Case) -> None:
    dropper = dropper_for(heaters(case["tubes"]), supply_v=float(case["supply_v"]))
    assert dropper is not None
    assert dropper.volts == near(case["volts"]), case["sum"]
    assert dropper.ohms == near(case["ohms"]), case["sum"]
    assert dropper.watts == near(case["watts"]), case["sum"]


def test_a_tube_that_nobody_knows_leaves_string_and_winding_open() -> None:
    tubes = heaters("V1 12BE6, V2 9XQ9, V3 12AV6, V4 50C5, V5 35W4")
    assert string(tubes, supply_v=117.0) is None
    load = winding_load(tubes, rating_a=2.0)
    # 0.15 + 0.15 + 0.15 + 0.15 = 0.6 A are known
    assert load.amperes == pytest.approx(0.6)
    assert (load.unknown, load.overloaded) == (("V2",), None)


def test_the_sets_are_many_and_sourced() -> None:
    every = [*WINDINGS, *STRINGS, *BALLASTS, *DROPPERS]
    assert all(case["source"] for case in every)
    windings, strings, ballasts = (len({c["name"] for c in some}) for some in (WINDINGS, STRINGS, BALLASTS))
    assert windings + strings + ballasts >= 24
    print(f"worked heater sets: {windings} windings, {strings} strings, {ballasts} with a ballast")
