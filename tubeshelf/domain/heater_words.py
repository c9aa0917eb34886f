"""The one place where notes on heaters become sentences."""

from collections.abc import Mapping

from tubeshelf.domain.fitting import Fact
from tubeshelf.domain.heater_notes import Note
from tubeshelf.domain.numbers import format_number

_SENTENCES: Mapping[str, str] = {
    "winding": "takes {amperes} A{lamps}{unknown}; the winding's rating is not known",
    "winding_rated": "takes {amperes} A{lamps} of {rating_a} A, {percent} %{unknown}",
    "winding_designed": (
        "takes {amperes} A{lamps} where {designed_a} A was designed, {percent} %{unknown}; "
        "the winding's rating is not known"
    ),
    "winding_over_rated": (
        "too much for the winding: {amperes} A{lamps} from one rated {rating_a} A, {percent} %{unknown}"
    ),
    "winding_over_designed": (
        "too much for the winding: {amperes} A{lamps} where {designed_a} A was designed, {percent} %{unknown}"
        "; its rating is not known, and over 115 % is not trusted"
    ),
    "winding_volts": "{position} {type}: {volts} V across a {rated} V heater, {percent} %",
    "cold": "{position} {type}: its heater stays cold as this socket is wired",
    "empty": "{position} is empty",
    "assumed": "{positions} {was} not looked at and count{s} as intended",
    "string_open": "{position}{stands}: no current flows in the string{across}",
    "string_unknown": "nothing can be worked out: {unknown} not known",
    "string_current": "{amperes} A at {line} V{off}",
    "heaters_over": "{positions} run{s} at {percent} % of rated volts at {line} V",
    "heaters_under": "{positions} get{s} only {percent} % of rated volts at {line} V",
    "ballast_holds": (
        "the ballast holds {amperes} A: {volts} V are left for it ({high_volts} V at {high_line} V), "
        "within its range of {low} V to {high} V"
    ),
    "ballast_out": (
        "the ballast is out of its range of {low} V to {high} V: {volts} V across it at {line} V, "
        "and {flows} A flow instead of {amperes} A"
    ),
    "lamp_series": "the lamp in series gets {volts} V{rated}; open, it puts the whole string out",
    "lamp_dropper": "the lamp on the dropper gets {volts} V{rated}",
    "lamp_tap": (
        "the lamp on the heater tap of {position} lowers that heater by {less} V, gets {volts} V{rated}"
        " itself and carries plate current too"
    ),
    "lamp_open": (
        "with that lamp open the tap of {position} carries the plate current alone and overheats: "
        "check the lamp, it belongs on the retube list"
    ),
    "lamp_dark": "the lamp hangs on a heater tap that {position}{named} does not have: it stays dark",
    "check_winding": "{circuit}: check the lamps, {lamps_a} A in all",
    "check_series": "{circuit}: check the lamp{lamp_rated} in series; open, it puts the whole string out",
    "check_dropper": "{circuit}: check the lamp{lamp_rated} on the dropper{part}",
    "check_tap": (
        "{circuit}: check the lamp{lamp_rated} on the heater tap of {position}{named}; it carries plate "
        "current, and open it overheats the tap"
    ),
    "dropper": "the dropper of {ohms} Ω takes {volts} V and dissipates {watts} W",
    "dropper_right": "a dropper of {ohms} Ω ({volts} V, {watts} W) would bring the heaters to their rating",
    "estimate": "a first-order estimate: each hot heater counts as the resistor of its rating",
}


def say_note(note: Note) -> str:
    """One plain sentence for a note, figures to three digits with their units.

    Raises KeyError for a code without a sentence or a fact that its sentence needs: both are bugs.
    """
    facts = dict(note.facts)
    spoken = {name: _spoken(fact) for name, fact in facts.items()}
    return _SENTENCES[note.code].format_map({**spoken, **_parts(note.code, facts, spoken)})


def figure(value: float) -> str:
    """Three significant figures, as they can be checked by hand."""
    return format_number(value, 3)


def _spoken(fact: Fact) -> str:
    return fact if isinstance(fact, str) else figure(fact)


def _parts(code: str, facts: Mapping[str, Fact], spoken: Mapping[str, str]) -> dict[str, str]:
    """The parts of sentences that depend on what is known."""
    one = facts.get("count", 1) == 1
    unknown = spoken.get("unknown", "")
    is_are = "are" if " and " in unknown else "is"
    parts = {
        "lamps": f" ({spoken['lamps_a']} A of it lamps)" if "lamps_a" in facts else "",
        "unknown": f", and {unknown} {is_are} not known" if unknown else "",
        "s": "s" if one else "",
        "was": "was" if one else "were",
        "off": "",
        "rated": f" of {spoken['rated']} V" if "rated" in facts else "",
        "lamp_rated": f" ({spoken['lamp_v']} V, {spoken['lamp_a']} A)" if "lamp_v" in facts else "",
        "part": f", across {spoken['tap_ohm']} Ω" if "tap_ohm" in facts else "",
        "named": f" {spoken['type']}" if spoken.get("type") else "",
        "stands": " is empty" if facts.get("state") == "empty" else "",
        "across": ", and the supply stands across its heater pins" if one else "",
    }
    if code == "winding_volts":
        parts["rated"] = spoken["rated"]
    if code == "string_unknown":
        parts["unknown"] = f"{unknown} {is_are}"
    if facts.get("state") in ("stays cold", "no heater"):
        has = "has no heater" if facts["state"] == "no heater" else "stays cold as this socket is wired"
        parts["stands"] = f" {spoken['type']} {has}"
    if code == "string_current" and "rated_a" in facts:
        parts["off"] = f" where {spoken['rated_a']} A is rated{_off(facts)}"
    return parts


def _off(facts: Mapping[str, Fact]) -> str:
    """How far off the current is, to a tenth of a per cent as the trade says it."""
    tenths = round(float(facts["percent"]), 1)
    return f", {format_number(tenths)} % {facts['way']}" if tenths else ""
