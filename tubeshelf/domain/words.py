"""The one place where rule codes and facts become sentences."""

import re
from collections.abc import Mapping
from math import floor, log10

from tubeshelf.domain.fitting import Fact, Outcome, Reason

# ---- Numbers


def number(value: float) -> str:
    """Three significant figures, thousands with a comma: 2600 is ``2,600``, 0.365 is ``0.365``."""
    if value == 0:
        return "0"
    decimals = 2 - floor(log10(abs(value)))
    text = f"{round(value, decimals):,.{max(decimals, 0)}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return text.replace("-", "−")


# ---- Names of things

_OUTCOMES = {
    Outcome.RIGHT_TYPE: "right type",
    Outcome.ACCEPTED_SUBSTITUTE: "accepted substitute",
    Outcome.UNKNOWN: "unknown",
    Outcome.WRONG_TYPE: "wrong type",
    Outcome.CANNOT_SEAT: "cannot seat",
    Outcome.HARMFUL: "harmful",
}

_ELEMENTS = {
    "plate": "plate",
    "grid1": "control grid",
    "grid2": "screen grid",
    "grid3": "suppressor grid",
    "beam": "beam plates",
    "cathode": "cathode",
    "target": "target",
    "ray": "ray-control electrode",
    "starter": "starter",
    "heater": "heater",
    "heater.tap": "heater tap",
    "filament": "filament",
    "filament.tap": "filament tap",
    "nc": "not connected",
    "ic": "internal connection, leave free",
}

_SECTIONS = {
    "t": "triode",
    "p": "pentode",
    "h": "hexode",
    "i": "indicator",
    "d1": "first diode",
    "d2": "second diode",
}

_RATINGS = {
    "plate_v_max": ("plate voltage", "V"),
    "screen_v_max": ("screen voltage", "V"),
    "cathode_ma_max": ("cathode current", "mA"),
    "piv_v": ("peak inverse voltage", "V"),
    "dc_ma": ("direct current", "mA"),
    "plate_w_max": ("plate dissipation", "W"),
    "screen_w_max": ("screen dissipation", "W"),
}


_GRADES = {1: "as good", 2: "serves under its conditions", 3: "in a pinch"}


def outcome_word(outcome: Outcome) -> str:
    """The outcome of a fit as it is shown, such as ``accepted substitute``."""
    return _OUTCOMES[outcome]


def element(code: str) -> str:
    """An element for the reader: ``2.grid1`` is ``control grid of section 2``, ``g3`` is ``No. 3 grid``."""
    if code in _ELEMENTS:
        return _ELEMENTS[code]
    section, dot, name = code.rpartition(".")
    spoken = _ELEMENTS.get(name, f"No. {name[1:]} grid" if re.fullmatch(r"g\d", name) else name)
    if not dot:
        return spoken
    return f"{spoken} of {_section(section)}"


def _section(name: str) -> str:
    return f"the {_SECTIONS[name]}" if name in _SECTIONS else f"section {name}"


# ---- Sentences: facts in braces; a part in square brackets is left out where one of its facts is missing

_FIT = {
    "not_in_table": "{name} is not in the type table[; near it: {near}]",
    "same_tube": "the designed type[ under another name: {found} for {intended}]",
    "base_differs": "has a base of another kind: {found}, where the socket is {designed}",
    "pins_unknown": "the pins of {name} are not in the table: compare them before inserting it",
    "electrode_moved": "pin {pin} carries the {element} where the socket has the {expected}",
    "element_on_unused_pin": "the {element} is on pin {pin}, which the socket does not use",
    "element_missing": "has no {element}, which the socket has on pin {pin}",
    "tie_missing": "the {element} is not on pin {pin} as well: check which of its pins the set is wired to",
    "tied_inside": "pin {pin}, which the socket leaves free, carries the {element} as well",
    "heater_moved": "the heater is on pin {pin}, where the socket has the {expected}",
    "heater_unknown": "the heater of {name} is not in the table: compare it before powering",
    "heater_cold": "the heater stays cold[ where the socket is wired for {volts} V on pins {pins}]",
    "heater_half_cold": "half of the heater stays cold where the socket is wired for {volts} V",
    "heater_over": (
        "{volts} V across a {rated} V heater, {percent} %[, where the socket is wired on pins {pins}]"
    ),
    "heater_under": (
        "{volts} V across a {rated} V heater, only {percent} %[, where the socket is wired on pins {pins}]"
    ),
    "winding_overloaded": (
        "takes {found_a} A[ where {designed_a} A was designed, {total_a} A in all,] "
        "from a winding rated {winding_a} A"
    ),
    "winding_load_high": (
        "takes {found_a} A where {designed_a} A was designed, {total_a} A in all from a winding that was "
        "to carry {load_a} A, {percent} %"
    ),
    "heater_current_harm": "takes {found_a} A from a winding made for {designed_a} A",
    "heater_current": "the heater takes {found_a} A where {designed_a} A was designed",
    "string_over": (
        "{found_v} V {found_a} A heater in a string for {designed_v} V {designed_a} A: at {high_line} V line "
        "it runs at {found_high_percent} % and the others at {others_high_percent} % of rated current "
        "(at {line} V: {found_percent} % and {others_percent} %), a first-order estimate"
    ),
    "string_differs": (
        "{found_v} V {found_a} A heater in a string for {designed_v} V {designed_a} A: at {line} V line it "
        "runs at {found_percent} % and the others at {others_percent} % of rated current "
        "(at {high_line} V: {found_high_percent} % and {others_high_percent} %), a first-order estimate"
    ),
    "supply_over_rating": "the supply of {supply_v} V is above its plate voltage rating of {found} V",
    "rating_lower": "{rating} rating {found} {unit} where {designed} {unit} was designed[ ({section})]",
    "rectifier_current": "rated for {found_ma} mA where {designed_ma} mA was designed",
    "rectifier_drop": "drops {found_v} V at {at_ma} mA where {designed_v} V was designed",
    "regulator_volts": "holds {found_v} V where {designed_v} V was designed",
    "function_differs": "{found} where {designed} was designed",
    "cutoff_differs": "{found} cut-off where {designed} cut-off was designed",
    "mu_differs": "µ {found} where {designed} was designed[ ({section})]",
    "gm_differs": "gm {found} µmho where {designed} µmho was designed[ ({section})]",
    "figures_missing": "the table lacks the figures of {name} to compare the two types",
    "listed_substitute": "listed as a substitute: {grade}",
    "one_way": "one way only: a {designed} may replace a {found}, not the other way",
    "output_not_listed": "an output tube not listed for this one: load and bias differ",
    "no_difference": "the table shows no difference that matters",
}

_CONDITIONS = {
    "not_listed": (
        "no listed substitute: the table shows no difference that matters, compare before relying on it"
    ),
    "check_tied_pin": "check that the socket has nothing tied to pin {pin}: it carries the {element} as well",
    "glass_for_metal": "mind shielding: glass for metal",
    "shield_missing": "mind shielding: pin {pin} is a shield in the designed tube only",
    "shield_added": "mind shielding: pin {pin} is its {shield}, check what the socket has there",
    "check_winding": "takes {found_a} A where {designed_a} A was designed: check the winding",
    "check_winding_rating": "check what the winding is rated for",
    "takes_less": "takes {found_a} A where {designed_a} A was designed: the heater volts rise a little",
    "supply_within": "the supply of {supply_v} V is within its plate voltage rating of {found} V",
    "check_rating": "check that the {rating} stays within {found} {unit} ({designed} {unit} was designed)",
    "check_capacitors": "check the filter capacitors' voltage rating: B+ rises",
    "expect_less_b_plus": "expect a lower B+",
    "warms_up_sooner": "warms up sooner: B+ is there before the other tubes draw current",
    "warms_up_later": "warms up later: B+ comes up more slowly",
    "rebias": "rebias: {found_v} V grid bias in the data where {designed_v} V was designed",
}

_TEMPLATES: Mapping[str, str] = {**_FIT, **_CONDITIONS}


def say(reason: Reason) -> str:
    """One plain sentence for a reason, with its figures and units.

    Raises KeyError for a rule without a sentence or a fact that its sentence needs: both are bugs.
    """
    return _fill(_TEMPLATES[reason.rule], dict(reason.facts))


def _fill(template: str, facts: Mapping[str, Fact]) -> str:
    spoken = {name: _spoken(name, fact) for name, fact in facts.items()}
    if "rating" in facts:
        spoken["rating"], spoken["unit"] = _RATINGS[str(facts["rating"])]
    optional = re.sub(r"\[([^\]]*)\]", lambda part: _if_known(part[1], spoken), template)
    return optional.format_map(spoken)


def _if_known(part: str, facts: Mapping[str, str]) -> str:
    return part if all(facts.get(name) for name in re.findall(r"{(\w+)}", part)) else ""


def _spoken(name: str, fact: Fact) -> str:
    if name == "grade":
        return _GRADES[int(fact)]
    if not isinstance(fact, str):
        return number(fact)
    if name in ("element", "expected"):
        return " and ".join(element(code) for code in fact.split("+"))
    return _section(fact) if name == "section" else fact
