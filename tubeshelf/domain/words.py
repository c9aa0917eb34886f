"""The one place where rule codes and facts become sentences; their templates are in ``fit_words``."""

import re
from collections.abc import Mapping
from math import floor, log10

from tubeshelf.domain.fit_words import TEMPLATES, consequence
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
    "heater.centre": "heater centre tap",
    "filament": "filament",
    "filament.tap": "filament tap",
    "shield": "internal shield",
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

_IN_A_SENTENCE = {"ic": "an internal connection", "none": "nothing"}

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


# ---- Sentences


def say(reason: Reason) -> str:
    """One plain sentence for a reason, with its figures and units.

    Raises KeyError for a rule without a sentence or a fact that its sentence needs: both are bugs.
    """
    return _fill(TEMPLATES[reason.rule], dict(reason.facts))


def _fill(template: str, facts: Mapping[str, Fact]) -> str:
    spoken = {name: _spoken(name, fact) for name, fact in facts.items()}
    for name in ("found", "designed"):
        spoken[f"a_{name}"] = _with_article(spoken.get(name, ""))
    if "rating" in facts:
        spoken["rating"], spoken["unit"] = _RATINGS[str(facts["rating"])]
    optional = re.sub(r"\[([^\]]*)\]", lambda part: _if_known(part[1], spoken), template)
    return optional.format_map(spoken)


def _with_article(designation: str) -> str:
    """A designation as it is read aloud: an 83, an EL84, an 11-volt one; but a 12AX7 and a 6V6."""
    an = re.match(r"8|1[18](?!\d)|[AEFHILMNORSX]", designation)
    return f"{'an' if an else 'a'} {designation}"


def _if_known(part: str, facts: Mapping[str, str]) -> str:
    return part if all(facts.get(name) for name in re.findall(r"{(\w+)}", part)) else ""


def _spoken(name: str, fact: Fact) -> str:
    if name == "grade":
        return _GRADES[int(fact)]
    if not isinstance(fact, str):
        return number(fact)
    if name in ("element", "expected", "here"):
        return " and ".join(_IN_A_SENTENCE.get(code) or element(code) for code in fact.split("+"))
    if name in ("pin", "tap"):
        return f"pin {fact}" if fact.isdecimal() else f"top {fact}"
    if name == "then":
        return consequence(fact)
    if name == "section":
        return _section(fact)
    return "semi-remote" if fact == "semi" else fact
