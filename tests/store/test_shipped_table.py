"""The shipped tables are complete and use the words they should; the rules of numbering are elsewhere."""

import re
from collections import Counter
from collections.abc import Iterator

import pytest

from tests.store.shippedtable import (
    ALONE,
    AMPLIFYING,
    BASINGS,
    CAUTIONS,
    ELECTRODES,
    EQUIVALENTS,
    FUNCTIONS,
    HEATER,
    PIN_COUNT,
    SECTION_FUNCTIONS,
    SECTIONS,
    SUBSTITUTES,
    TYPES,
    heaters,
    pins,
    sections,
    table,
)


def test_the_table_is_as_broad_as_it_says(capsys: pytest.CaptureFixture[str]) -> None:
    """At least 450 types; the counts are printed, so that a run of the suite tells them."""
    amplifying = {
        row["type"] for row in SECTIONS if row["function"] in AMPLIFYING and row["readable"] == "yes"
    }
    known = {row["type"] for row in SECTIONS if row["type"] in amplifying and (row["gm_umho"] or row["mu"])}
    bases = Counter(row["base"] for row in TYPES.values())
    confidence = Counter(row["confidence"] for row in TYPES.values())
    with capsys.disabled():
        print(
            f"\ntypes {len(TYPES)}, basings {len(BASINGS)}, equivalents {len(EQUIVALENTS)}, "
            f"substitutes {len(SUBSTITUTES)}; amplifying {len(amplifying)}, with gm or µ {len(known)}"
        )
        print(", ".join(f"{base} {count}" for base, count in bases.most_common()))
        print(", ".join(f"confidence {word} {count}" for word, count in confidence.most_common()))
    assert len(TYPES) >= 450
    assert len(known) >= 0.9 * len(amplifying)


def test_no_type_and_no_basing_is_listed_twice() -> None:
    assert len(TYPES) == len(table("types"))
    assert len(BASINGS) == len(table("basings"))


def test_every_row_names_its_source() -> None:
    rows = [*TYPES.values(), *SECTIONS, *BASINGS.values(), *EQUIVALENTS, *SUBSTITUTES]
    assert [row for row in rows if not row["source"].strip()] == []
    assert {row["confidence"] for row in TYPES.values()} <= {"high", "medium", "low"}


def test_a_basing_lists_every_pin_of_its_base_once() -> None:
    assert list(wrong_basings()) == []


def wrong_basings() -> Iterator[str]:
    for code, row in BASINGS.items():
        listed = [part.split(":")[0] for part in row["pins"].split()]
        expected = [str(pin) for pin in range(1, PIN_COUNT[row["base"]] + 1)]
        if [pin for pin in listed if pin != "cap"] != expected or listed.count("cap") > 1:
            yield f"{code}: pins {listed}"
        for element in (element for pin in pins(code).values() for element in pin):
            if element not in ALONE and element.partition(".")[2] not in ELECTRODES:
                yield f"{code}: {element}"


def test_every_basing_is_that_of_a_type() -> None:
    assert set(BASINGS) == {row["basing"] for row in TYPES.values()}


def test_a_type_is_complete_and_its_words_are_known() -> None:
    assert list(wrong_types()) == []


def wrong_types() -> Iterator[str]:
    for name, row in TYPES.items():
        cautions = set(filter(None, row["cautions"].split(";")))
        checks = {
            "letters": re.fullmatch(r"[0-9A-Z]+", name) is not None,
            "a cold-cathode type begins with the digit zero": not re.match(r"O[A-Z]\d", name),
            "base of the basing": row["base"] == BASINGS[row["basing"]]["base"],
            "function": row["function"] in FUNCTIONS,
            "cut-off": row["cutoff"] in {"", "sharp", "remote", "semi"},
            "envelope": row["envelope"] in {"metal", "glass"},
            "heater": bool(row["heaters"]) == (row["heating"] != "cold"),
            "cautions": cautions <= CAUTIONS,
            "top cap": ("cap" in pins(row["basing"])) == ("top_cap" in cautions),
        }
        yield from (f"{name}: {what}" for what, good in checks.items() if not good)


def test_the_sections_on_the_pins_are_the_sections_of_the_type() -> None:
    assert list(wrong_sections()) == []


def wrong_sections() -> Iterator[str]:
    for name, row in TYPES.items():
        elements = {e for pin in pins(row["basing"]).values() for e in pin}
        on_pins = {element.partition(".")[0] for element in elements if element not in ALONE}
        rows = sections(name)
        if sorted(one["section"] for one in rows) != sorted(on_pins):
            yield f"{name}: {on_pins} on the pins"
        for one in rows:
            if one["function"] not in SECTION_FUNCTIONS or one["readable"] not in {"yes", "no"}:
                yield f"{name}: {one['function']}, {one['readable']}"
            if one["function"] != "indicator" and f"{one['section']}.plate" not in elements:
                yield f"{name}: no plate of {one['section']}"


def test_heaters_lie_on_heater_pins_and_each_arrangement_takes_the_same_watts() -> None:
    assert list(wrong_heaters()) == []


def wrong_heaters() -> Iterator[str]:
    for name, row in TYPES.items():
        on_pins = pins(row["basing"])
        kind = "filament" if row["heating"] == "filament" else "heater"
        watts = [volts * amperes for volts, amperes, _ in heaters(name)]
        if watts and max(watts) > 1.02 * min(watts):
            yield f"{name}: {watts} W"
        for volts, amperes, where in heaters(name):
            if not (1 <= volts <= 120 and 0.02 <= amperes <= 5):
                yield f"{name}: {volts} V {amperes} A"
            for pin in re.split(r"[+-]", where):
                if not {kind, f"{kind}.tap"} & set(on_pins[pin]):
                    yield f"{name}: pin {pin} is no {kind}"
        if row["heating"] == "cold" and HEATER & {e for pin in on_pins.values() for e in pin}:
            yield f"{name}: a cold cathode with a heater"


def test_equivalents_are_other_names_of_one_type_each() -> None:
    names = [row["name"] for row in EQUIVALENTS]
    assert [name for name, count in Counter(names).items() if count > 1] == []
    assert sorted(set(names) & set(TYPES)) == []
    assert {row["type"] for row in EQUIVALENTS} <= set(TYPES)
    assert {row["system"] for row in EQUIVALENTS} <= {
        *("RETMA", "Pro Electron", "CV", "military", "industrial", "other"),
    }


def test_substitutes_are_directed_pairs_listed_once() -> None:
    pairs = [(row["intended"], row["found"]) for row in SUBSTITUTES]
    assert [pair for pair, count in Counter(pairs).items() if count > 1] == []
    assert all(intended != found for intended, found in pairs)
    assert {row["grade"] for row in SUBSTITUTES} <= {"1", "2", "3"}
    assert [row for row in SUBSTITUTES if row["grade"] != "1" and not row["conditions"]] == []
