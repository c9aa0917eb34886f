"""The sentences of the rules of fit. ``words`` fills them in.

Facts stand in braces; a part in square brackets is left out where one of its facts is missing. In a
sentence about a pin, ``{pin}`` is spoken as ``pin 9`` or ``top cap``, and ``{then}`` as what follows.
"""

from collections.abc import Mapping
from types import MappingProxyType

_PIN = "{pin}: {expected} in this socket, {element} in the found tube: {then}"
_FREE = "{pin}: not used in this socket, {element} in the found tube: {then}"
_GAP = "{pin}: {element} in this socket, {here} in the found tube: "
_DESIGNED_BIAS = "{found_v} V grid bias in the data where {designed_v} V was designed"

_FIT = {
    "not_in_table": "{name} is not in the type table[; near it: {near}]",
    "same_tube": "the designed type[ under another name: {found} for {intended}]",
    "base_differs": "has a base of another kind: {found}, where the socket is {designed}",
    "pins_unknown": "the pins of {name} are not in the table: compare them before inserting it",
    "electrode_moved": _PIN,
    "element_on_unused_pin": _FREE,
    "element_missing": f"{_GAP}it has no {{element}}",
    "tie_missing": f"{_GAP}check which of its pins the set is wired to",
    "tied_inside": (
        "{pin}: not used in this socket, {element} in the found tube as well: "
        "high voltage on whatever is tied there"
    ),
    "heater_moved": _PIN,
    "tap_missing": (
        "{pin}: heater tap in this socket, {here} in the found tube: a lamp or plate fed from the tap gets "
        "no current"
    ),
    "on_tie_point": (
        "{pin}: tie point of other wires in this socket, {element} in the found tube: "
        "those wires are joined to its {element}"
    ),
    "heater_unknown": "the heater of {name} is not in the table: compare it before powering",
    "heater_cold": (
        "[{pin}: {expected} in this socket, {here} in the found tube: ]the heater stays cold"
        "[ at {volts} V wiring][, and with it the whole string of {string_v} V]"
    ),
    "heater_half_cold": "half of the heater stays cold where the socket is wired for {volts} V",
    "heater_over": (
        "{volts} V across a {rated} V heater, {percent} %[, where the socket is wired on pins {pins}]"
    ),
    "heater_under": (
        "{volts} V across a {rated} V heater, only {percent} %[, where the socket is wired on pins {pins}]"
        "[; {tap}: {expected} in this socket, heater centre tap in the found tube]"
    ),
    "heater_tap_earthed": (
        "{pin}: {expected} in this socket, heater centre tap in the found tube: with both the shield and the "
        "winding earthed half of its heater gets {volts} V for {rated} V, {percent} %"
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
    "screen_supply_over": "the screen supply of {supply_v} V is above its screen voltage rating of {found} V",
    "rating_lower": "{rating} rating {found} {unit} where {designed} {unit} was designed[ ({section})]",
    "bias_over": (
        "about {found_ma} mA at {bias_v} V bias and {supply_v} V, {watts} W on a plate rated {rated} W, "
        "a first-order estimate"
    ),
    "rectifier_current": "rated for {found_ma} mA where {designed_ma} mA was designed",
    "rectifier_drop": "drops {found_v} V at {at_ma} mA where {designed_v} V was designed",
    "capacitor_over": (
        "drops {drop_v} V less than the designed type: B+ rises from {supply_v} V to {total_v} V "
        "on a capacitor rated {capacitor_v} V"
    ),
    "regulator_volts": "holds {found_v} V where {designed_v} V was designed",
    "function_differs": "{found} where {designed} was designed",
    "plate_class": "its figures hold at {found} V on the plate, those of the designed type at {designed} V",
    "cutoff_differs": "{found} cut-off where {designed} cut-off was designed",
    "mu_differs": "µ {found} where {designed} was designed[ ({section})]",
    "gm_differs": "gm {found} µmho where {designed} µmho was designed[ ({section})]",
    "figures_missing": "the table lacks the figures of {name} to compare the two types",
    "listed_substitute": "listed as a substitute: {grade}",
    "one_way": "one way only: {a_designed} may replace {a_found}, not the other way",
    "version_not_listed": "{designed} is a selected or special version, and {found} is not listed for it",
    "output_not_listed": "an output tube not listed for this one: load and bias differ",
    "within_facts": "what differs stays within what is known of the socket",
    "no_difference": "the table shows no difference that matters",
}

_CONDITIONS = {
    "not_listed": (
        "no listed substitute: the table shows no difference that matters, compare before relying on it"
    ),
    "not_listed_within": "no listed substitute: compare before relying on it",
    "check_better": "check whether this place needs what {a_designed} has over {a_found}",
    "check_tied_pin": "check that the socket has nothing tied to {pin}: it carries the {element} as well",
    "check_tie_point": (
        "{pin} is a tie point in this socket and carries the {element} of the found tube: free it or check it"
    ),
    "glass_for_metal": "mind shielding: glass for metal",
    "shield_missing": "mind shielding: {pin} is a shield in the designed tube only",
    "shield_added": "mind shielding: {pin} is its {shield}, check what the socket has there",
    "heater_off": "{volts} V across a {rated} V heater, {percent} %",
    "check_winding": "takes {found_a} A where {designed_a} A was designed: check the winding",
    "check_winding_rating": "check what the winding is rated for",
    "takes_less": "takes {found_a} A where {designed_a} A was designed: the heater volts rise a little",
    "warms_up_uncontrolled": (
        "warm-up: the designed type is made to warm up in {seconds} s with the rest of the string, "
        "this one is not"
    ),
    "warms_up_alone": (
        "warm-up: made to warm up in {seconds} s, which the designed type is not: "
        "mind the string when it is switched on"
    ),
    "supply_within": "the supply of {supply_v} V is within its plate voltage rating of {found} V",
    "screen_supply_within": (
        "the screen supply of {supply_v} V is within its screen voltage rating of {found} V"
    ),
    "check_rating": "check that the {rating} stays within {found} {unit} ({designed} {unit} was designed)",
    "bias_within": (
        "about {found_ma} mA at {bias_v} V bias and {supply_v} V, {watts} W of {rated} W on the plate, "
        "a first-order estimate: measure it"
    ),
    "check_capacitors": (
        "check the filter capacitors' voltage rating: B+ rises[ by about {drop_v} V to {total_v} V]"
    ),
    "capacitor_within": (
        "B+ rises by about {drop_v} V to {total_v} V, within the {capacitor_v} V of the capacitor"
    ),
    "expect_less_b_plus": "expect a lower B+",
    "warms_up_sooner": "warms up sooner: B+ is there before the other tubes draw current",
    "warms_up_later": "warms up later: B+ comes up more slowly",
    "rebias": f"rebias: {_DESIGNED_BIAS}",
    "rebias_fixed": f"rebias: set the fixed bias before B+ comes on[ ({_DESIGNED_BIAS})]",
    "rebias_cathode": f"rebias: check the cathode resistor[ ({_DESIGNED_BIAS})]",
}

TEMPLATES: Mapping[str, str] = MappingProxyType({**_FIT, **_CONDITIONS})

_FEEDS = {
    "plate": "the plate supply",
    "ac": "the high alternating voltage",
    "b_plus": "B+",
    "grid2": "the screen supply",
    "target": "the target supply",
}
"""What a pin with this element brings onto whatever lands there."""

_WIRES = {
    "grid1": "the grid circuit",
    "signal": "the signal grid's circuit",
    "cathode": "the cathode's pin",
    "diode": "the detector's pin",
    "grid3": "the suppressor's pin",
    "heater": "the heater wiring",
    "filament": "the filament wiring",
    "shield": "the shield's pin, mostly ground,",
}
"""Where an element lands on a pin that brings no high voltage."""

_LANDING = {
    "plate": "the plate",
    "ac": "the rectifier's plate",
    "diode": "the diode plate",
    "target": "the target",
    "grid1": "the control grid",
    "grid2": "the screen grid",
    "signal": "the signal grid",
    "cathode": "the cathode",
    "b_plus": "the cathode",
    "heater": "the heater",
    "grid3": "the suppressor grid",
}

_WITHOUT = {
    **dict.fromkeys(("plate", "ac", "target", "grid2"), "and gets no supply"),
    **dict.fromkeys(("grid1", "signal"), "and has neither drive nor bias"),
    "cathode": "and loses its return and bias",
    "diode": "and gets no signal",
    "b_plus": "and delivers no B+",
    "heater": "and joins the two",
    "grid3": "and not on the cathode's",
}
"""What an element lacks on the wrong pin."""

_OPEN = {
    **dict.fromkeys(("plate", "ac", "target", "grid2"), "it gets no supply"),
    **dict.fromkeys(
        ("grid1", "signal"), "it is left without drive and bias, and the plate current runs away"
    ),
    "cathode": "it is left open and no current flows",
    "b_plus": "it is left open and delivers no B+",
    "diode": "it gets no signal",
    "grid3": "it is left open unless the set ties it to the cathode",
}
"""What follows for an element on a pin that the socket does not use."""


def consequence(code: str) -> str:
    """What follows where one thing lands on another's pin: ``grid1>plate``, or ``plate>free``.

    The words before and behind the arrow are the roles of ``fit_pinning.Namer.role``.
    """
    what, _, where = code.partition(">")
    if where == "free":
        return _OPEN.get(what, "check what the set has there")
    if what == where:
        return "the wires of two sections are crossed"
    element = _LANDING.get(what, "the element")
    if where not in _FEEDS:
        wire = _WIRES.get(where, "another element's pin")
        return f"{element} lands on {wire} {_WITHOUT.get(what, '')}".rstrip()
    feed = _FEEDS[where]
    if what in ("cathode", "b_plus"):
        return f"{feed} lifts the cathode far above the heater"
    if what == "plate" and where != "ac":
        return f"the plate is on {feed} without its load"
    return f"{feed} comes onto {element}"
