"""A type in words: its heaters, bogey values with their conditions, ratings, cautions."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from tubeshelf.domain.numbers import format_number
from tubeshelf.domain.types import HeaterArrangement, Ratings, Section, Substitute, TubeType
from tubeshelf.services.section_figures import BOGEY, CONDITIONS, LOSSES
from tubeshelf.services.views.types import TypeRow

RATINGS = (
    ("plate_v_max", "plate", "V"),
    ("screen_v_max", "screen", "V"),
    ("cathode_ma_max", "cathode", "mA"),
    ("heater_cathode_v_max", "heater to cathode", "V"),
    ("piv_v", "peak inverse", "V"),
    ("dc_ma", "direct current", "mA"),
)
FIELD_WORDS: Mapping[str, str] = {
    **{name: f"{words} rating" for name, words, _ in RATINGS},
    "heaters": "heater",
    "sections": "sections and bogey values",
    "rating_system": "rating system",
    "drop_v": "drop",
    "drop_ma": "current of the drop",
    "operating_v": "operating voltage",
    "cutoff": "cut-off",
    "equivalents": "other names",
    "retired": "retired",
}
GRADES = {1: "as good", 2: "serves", 3: "in a pinch"}

_TIED = "\N{NO-BREAK SPACE}"

Own = Mapping[tuple[str, str], float | None]
"""The shipped value of each figure that the shop changed, by section and name."""


def origin_word(row: TypeRow) -> str:
    """What sets a type apart from a shipped one, empty for a shipped one."""
    if row.retired:
        return "retired"
    return {"this shop": "own", "changed here": "changed"}.get(row.origin, "")


def field_words(names: Sequence[str]) -> str:
    """Fields as they are told: ``heater, other names``."""
    return ", ".join(FIELD_WORDS.get(name, name) for name in names)


def heater_words(heater: HeaterArrangement) -> str:
    """One way to wire a heater: ``6.3 V 0.3 A between pins 4+5 and 9``."""
    volts, amperes = format_number(heater.volts), format_number(heater.amperes)
    if not heater.pins:
        return f"{volts} V {amperes} A"
    return f"{volts} V {amperes} A between pins {' and '.join(heater.pins.split('-'))}"


def bogey_lines(tube: TubeType, own: Own) -> list[tuple[str, str, str]]:
    """Name, bogey values and conditions of each section; like sections are told once."""
    told: list[tuple[list[str], Section, str, str]] = []
    for section in tube.sections:
        values, held = _figures(section, BOGEY, own), _held(section, own)
        for names, other, *said in told:
            if replace(other, name=section.name) == section and said == [values, held]:
                names.append(section.name)
                break
        else:
            told.append(([section.name], section, values, held))
    return [(_name(names, section, tube), values, held) for names, section, values, held in told]


def rating_words(ratings: Ratings) -> str:
    """The ratings in one line, with the system by which they were stated."""
    parts = [
        f"{words} {format_number(value)} {unit}"
        for name, words, unit in RATINGS
        if (value := getattr(ratings, name)) is not None
    ]
    if ratings.drop_v is not None:
        at = "" if ratings.drop_ma is None else f" at {format_number(ratings.drop_ma)} mA"
        parts.append(f"drops {format_number(ratings.drop_v)} V{at}")
    if ratings.operating_v is not None:
        parts.append(f"holds {format_number(ratings.operating_v)} V")
    return " · ".join(parts)


def substitute_words(entry: Substitute) -> str:
    """How well it serves and under which conditions."""
    conditions = "; ".join(entry.conditions)
    grade = GRADES.get(entry.grade, "serves")
    return f"{grade}: {conditions}" if conditions else grade


def _name(names: Sequence[str], section: Section, tube: TubeType) -> str:
    if len(tube.sections) == 1:
        return section.function
    many = f"Sections {', '.join(names[:-1])} and {names[-1]}" if len(names) > 1 else f"Section {names[0]}"
    unread = "" if section.readable else ", not read by itself"
    return f"{many}, {section.function}{unread}"


def _held(section: Section, own: Own) -> str:
    held = _figures(section, CONDITIONS, own)
    losses = _figures(section, LOSSES, own)
    return " · ".join(part for part in (f"at {held}" if held else "", losses) if part)


def _figures(section: Section, figures: Sequence[tuple[str, str, str]], own: Own) -> str:
    told = []
    for name, words, unit in figures:
        value = getattr(section, name)
        if value is not None or (section.name, name) in own:
            said = "not known" if value is None else f"{format_number(value)} {unit}".strip()
            told.append(f"{words} {said}".replace(" ", _TIED) + _own(section, name, own))
    return ", ".join(told)


def _own(section: Section, name: str, own: Own) -> str:
    if (section.name, name) not in own:
        return ""
    shipped = own[section.name, name]
    return " (own)" if shipped is None else f" (own; shipped {format_number(shipped)})"
