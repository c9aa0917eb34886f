"""A type as text, field by field: how its facts are kept in the record and edited in a form.

The fields are the columns of the shipped table, plus ``equivalents`` and ``cautions`` as lists with
semicolons, ``pins`` as in the table of basings, ``sections`` as a JSON list, ``retired`` as yes or no.
"""

import json
from collections.abc import Mapping
from dataclasses import fields as fields_of
from typing import Any

from tubeshelf.domain.errors import UserError
from tubeshelf.domain.numbers import parse_number, plain_number
from tubeshelf.domain.types import Basing, Heating, Ratings, Section, TubeType
from tubeshelf.services.field_errors import Form
from tubeshelf.services.section_figures import figure_name
from tubeshelf.services.type_syntax import (
    format_heaters,
    format_pins,
    parse_heaters,
    parse_list,
    parse_pins,
)

TEXTS = ("family", "cutoff", "envelope", "note", "source", "confidence")
LISTS = ("equivalents", "cautions")
RATINGS = tuple(f.name for f in fields_of(Ratings) if f.name != "system")
HEATER_FIGURES = ("warmup_s", "tap_v", "lamp_heater_v", "lamp_tap_v")
FIELDS = (
    *("designation", "function", "base", "basing", "pins", "heating", "heaters", *HEATER_FIGURES, "sections"),
    *("rating_system", *RATINGS, *TEXTS, *LISTS, "retired"),
)
"""Every field of a type that can be edited, by name; ``origin`` comes on top of them."""

_SECTION_NUMBERS = tuple(f.name for f in fields_of(Section) if f.name not in ("name", "function", "readable"))
_MAY_BE_NEGATIVE = ("grid_v",)


def to_fields(tube: TubeType) -> dict[str, str]:
    """Every field of a type as text, empty where nothing is known; ``from_fields`` gives the type back."""
    texts = {name: str(getattr(tube, name)) for name in TEXTS}
    lists = {name: "; ".join(getattr(tube, name)) for name in LISTS}
    ratings = {name: _number_text(getattr(tube.ratings, name)) for name in RATINGS}
    return {
        "origin": tube.origin,
        "designation": tube.designation,
        "function": tube.function,
        "base": tube.basing.base,
        "basing": tube.basing.code,
        "pins": format_pins(tube.basing.pins),
        "heating": str(tube.heating),
        "heaters": format_heaters(tube.heaters),
        **{name: _number_text(getattr(tube, name)) for name in HEATER_FIGURES},
        "sections": json.dumps([_section_facts(s) for s in tube.sections], ensure_ascii=False),
        "rating_system": tube.ratings.system,
        **ratings,
        **texts,
        **lists,
        "retired": "yes" if tube.retired else "no",
    }


def _number_text(value: float | None) -> str:
    return "" if value is None else plain_number(value)


def _section_facts(section: Section) -> dict[str, str | bool | float]:
    facts = {f.name: getattr(section, f.name) for f in fields_of(Section)}
    return {name: value for name, value in facts.items() if value is not None}


def from_fields(key: str, fields: Mapping[str, str]) -> TubeType:
    """The type that the fields describe; a field that is missing or empty is not known.

    Raises ``FieldErrors`` with a sentence for each field that cannot be read.
    """
    form = Form(fields)
    tube = TubeType(
        key=key,
        designation=form.need("designation", "Type the designation, such as 12AX7."),
        function=form.need("function", "Type what it is, such as dual triode."),
        basing=Basing(
            code=form.text("basing"),
            base=form.need("base", "Type its base, such as noval."),
            pins=form.read("pins", parse_pins, ()),
        ),
        heating=form.read("heating", _heating, Heating.HEATER),
        heaters=form.read("heaters", parse_heaters, ()),
        sections=form.read("sections", parse_sections, ()),
        ratings=Ratings(
            system=form.text("rating_system"),
            **{name: form.read(name, _not_negative, None) for name in RATINGS},
        ),
        family=form.text("family"),
        cutoff=form.text("cutoff"),
        envelope=form.text("envelope"),
        equivalents=parse_list(form.text("equivalents")),
        cautions=parse_list(form.text("cautions")),
        note=form.text("note"),
        source=form.text("source"),
        confidence=form.text("confidence"),
        origin=form.text("origin") or "shipped",
        retired=form.text("retired") == "yes",
        **{name: form.read(name, _not_negative, None) for name in HEATER_FIGURES},
    )
    form.check()
    return tube


def _heating(text: str) -> Heating:
    if text not in list(Heating):
        raise UserError(f"“{text}” is no heating: type heater, filament or cold.")
    return Heating(text)


def _not_negative(text: str) -> float:
    number = parse_number(text)
    if number < 0:
        raise UserError(f"“{text}” is below zero: a rating is not.")
    return number


def parse_sections(text: str) -> tuple[Section, ...]:
    """The sections of a JSON list of objects with the names and units of ``Section``."""
    try:
        listed = json.loads(text)
    except json.JSONDecodeError:
        raise UserError("The sections cannot be read: enter them again.") from None
    if not isinstance(listed, list) or not all(isinstance(facts, dict) for facts in listed):
        raise UserError("The sections cannot be read: enter them again.")
    sections = tuple(_section(facts) for facts in listed)
    if len({s.name for s in sections}) < len(sections):
        raise UserError("Two sections have the same name: name them 1 and 2, or t and p.")
    return sections


def _section(facts: Mapping[str, Any]) -> Section:  # what JSON holds is checked here, value by value
    name, function = str(facts.get("name", "")).strip(), str(facts.get("function", "")).strip()
    if not name or not function:
        raise UserError("A section needs a name, such as 1, and what it is, such as triode.")
    figures = {figure: _figure(name, figure, facts.get(figure)) for figure in _SECTION_NUMBERS}
    return Section(name, function, readable=facts.get("readable", True) is not False, **figures)


def _figure(section: str, name: str, value: object) -> float | None:
    if value is None or value == "":
        return None
    try:
        number = float(value) if isinstance(value, int | float) else parse_number(str(value))
    except UserError as error:
        raise UserError(f"Section {section}, {figure_name(name)}: {error.sentence}") from None
    if number < 0 and name not in _MAY_BE_NEGATIVE:
        raise UserError(f"Section {section}, {figure_name(name)}: {plain_number(number)} is below zero.")
    return number
