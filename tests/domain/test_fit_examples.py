"""Pairs that every bench knows, judged by the shipped table."""

import pytest

from tubeshelf.domain.catalog import Catalog
from tubeshelf.domain.fit import judge_fit
from tubeshelf.domain.fitting import Circuit, SocketFacts
from tubeshelf.domain.words import say
from tubeshelf.store.shipped import load_catalog


@pytest.fixture(scope="module")
def catalog() -> Catalog:
    return load_catalog()


SERIES = SocketFacts(circuit=Circuit.SERIES)

EXAMPLES = [
    ("12AX7", "ECC83", "right_type", "same_tube", "the same tube under another name"),
    ("12AX7", "12AU7", "wrong_type", "mu_differs", "µ far lower"),
    ("12AX7", "7025", "accepted_substitute", "listed_substitute", "a low-noise version serves"),
    ("12AX7", "5751", "accepted_substitute", "heater_current", "a little more heater current, less gain"),
    ("5Y3GT", "5U4GB", "harmful", "heater_current_harm", "3 A from a 2 A winding"),
    ("80", "5Z3", "harmful", "heater_current_harm", "3 A from a 2 A winding"),
    (
        "41",
        "42",
        "wrong_type",
        "heater_current",
        "0.7 A where 0.4 A was designed, not over half an ampere more",
    ),
    ("6BA6", "6AU6", "wrong_type", "cutoff_differs", "sharp for remote: the AVC stage overloads"),
    ("12AX7", "6DJ8", "harmful", "heater_over", "200 % where the socket is wired for 12.6 V"),
    (
        "6SN7GT",
        "6SN7GTB",
        "accepted_substitute",
        "listed_substitute",
        "a later letter replaces an earlier one",
    ),
    ("0A2", "0B2", "wrong_type", "regulator_volts", "150 V and 108 V"),
    ("0A2", "OB2", "wrong_type", "regulator_volts", "written with the letter O"),
    ("6V6GT", "6L6GC", "wrong_type", "heater_current", "0.45 A more"),
    ("6L6GC", "6CA7", "harmful", "heater_current_harm", "0.6 A more"),
    ("6SK7", "6SJ7", "wrong_type", "cutoff_differs", "sharp for remote"),
    ("12AX7", "6SN7GT", "cannot_seat", "base_differs", "octal in a noval socket"),
    ("5U4GB", "5Y3GT", "harmful", "rectifier_current", "125 mA where the set may draw 275 mA"),
    ("5Y3GT", "5AR4", "wrong_type", "rectifier_drop", "B+ rises"),
    ("6SK7", "6K7", "harmful", "electrode_moved", "another basing, grid on the cap"),
    ("12AX7", "6BQ5", "harmful", "electrode_moved", "plate on a grid pin"),
    ("7025", "12AX7", "wrong_type", "one_way", "the plain version in the place of the selected one"),
    ("12AX7A", "12AX7", "wrong_type", "one_way", "an earlier version"),
    ("5814A", "12AU7", "wrong_type", "one_way", "the plain version of a ruggedised tube"),
    ("6922", "6DJ8", "wrong_type", "rating_lower", "130 V where 220 V was designed"),
    ("7189", "6BQ5", "wrong_type", "rating_lower", "300 V where 400 V was designed"),
    ("5U4GB", "5U4G", "wrong_type", "rating_lower", "225 mA where 275 mA was designed"),
    ("6L6GC", "5881", "wrong_type", "rating_lower", "23 W where 30 W was designed"),
    ("5881", "6L6GC", "accepted_substitute", "listed_substitute", "the 6L6GC stands more"),
    ("6550", "KT88", "accepted_substitute", "listed_substitute", "the KT88 stands more"),
    ("6CA7", "KT88", "wrong_type", "output_not_listed", "another load and bias, and nothing for pin 1"),
    ("6BQ5", "6CW5", "wrong_type", "output_not_listed", "made for 170 V and twice the current"),
    ("6V6GT", "6V6", "accepted_substitute", "listed_substitute", "metal for glass"),
    ("6SL7GT", "6SN7GT", "wrong_type", "mu_differs", "µ 20 where 70 was designed"),
    ("6L6GC", "7027A", "wrong_type", "tied_inside", "screen and grid on pins that sets tie other wires to"),
    ("2A3", "300B", "wrong_type", "heater_under", "2.5 V across a 5 V filament"),
    ("300B", "2A3", "harmful", "heater_over", "5 V across a 2.5 V filament"),
    ("12AX7", "12DW7", "wrong_type", "mu_differs", "one section is that of a 12AU7"),
    ("6BE6", "6BA6", "harmful", "electrode_moved", "neighbours in every table radio, swapped"),
]


@pytest.mark.parametrize(("intended", "found", "outcome", "rule", "why"), EXAMPLES)
def test_trade_knowledge(
    catalog: Catalog, intended: str, found: str, outcome: str, rule: str, why: str
) -> None:
    judgement = judge_fit(catalog, intended, found)
    assert judgement.outcome == outcome, why
    assert rule in [reason.rule for reason in judgement.reasons], why


def test_a_35_volt_output_tube_in_the_50_volt_place_of_a_string_is_harmful(catalog: Catalog) -> None:
    judgement = judge_fit(catalog, "50L6GT", "35L6GT", SERIES)
    assert judgement.outcome == "harmful"
    facts = dict(next(r.facts for r in judgement.reasons if r.rule == "string_over"))
    assert float(facts["others_high_percent"]) >= 116


def test_a_5751_is_no_tube_for_a_string(catalog: Catalog) -> None:
    assert judge_fit(catalog, "12AX7", "5751", SERIES).outcome in ("wrong_type", "harmful")


def test_a_6sn7gt_for_its_better_version_is_the_wrong_way_round(catalog: Catalog) -> None:
    judgement = judge_fit(catalog, "6SN7GTB", "6SN7GT")
    assert judgement.outcome == "wrong_type"
    assert say(judgement.reasons[0]) == ("one way only: a 6SN7GTB may replace a 6SN7GT, not the other way")
    assert "check that the plate voltage stays within 300 V (450 V was designed)" in judgement.conditions


def test_a_known_six_volt_socket_leaves_a_6dj8_cold_not_burnt(catalog: Catalog) -> None:
    judgement = judge_fit(catalog, "12AX7", "6DJ8", SocketFacts(heater_v=6.3))
    assert judgement.outcome == "wrong_type"
    assert (
        "pin 9: heater centre tap in this socket, internal shield in the found tube: "
        "the heater stays cold at 6.3 V wiring"
    ) in map(say, judgement.reasons)


def test_a_2_ampere_winding_says_what_it_would_have_to_carry(catalog: Catalog) -> None:
    judgement = judge_fit(catalog, "5Y3GT", "5U4GB", SocketFacts(winding_a=2.0, winding_load_a=2.0))
    assert say(judgement.reasons[0]) == "takes 3 A from a winding rated 2 A"
