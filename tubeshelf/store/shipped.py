"""The shipped tables of types as domain values; plain CSV, no database."""

import hashlib
from collections.abc import Collection, Iterator
from dataclasses import dataclass, field, fields
from functools import lru_cache
from math import inf
from pathlib import Path

from tubeshelf.domain.catalog import Catalog
from tubeshelf.domain.designations import fold
from tubeshelf.domain.types import (
    Basing,
    HeaterArrangement,
    Heating,
    Ratings,
    Section,
    Substitute,
    TubeType,
)
from tubeshelf.paths import root
from tubeshelf.store.tablefile import Row, read_table

TABLES = ("types", "sections", "basings", "equivalents", "substitutes")

_HEATER_ELEMENTS = frozenset({"heater", "filament", "heater.tap", "filament.tap"})
_ALONE = _HEATER_ELEMENTS | {"shield", "shell", "nc", "ic"}
_RATINGS = tuple(f.name for f in fields(Ratings) if f.name != "system")
_RATED = ("rating_system", *_RATINGS)
_FIGURES = (
    *("gm_umho", "mu", "rp_ohm", "plate_v", "screen_v"),
    *("plate_ma", "screen_ma", "plate_w_max", "screen_w_max"),
)
_HEATINGS = {str(heating): heating for heating in Heating}
_SECTION = ("section", "function", "readable", "grid_v", *_FIGURES)
_NEEDED = ("designation", "function", "base", "basing")
_TEXTS = (
    *("family", "heating", "heaters", "cutoff", "envelope", "rating_system"),
    *("note", "source", "confidence"),
)
_OF_FEW = ("warmup_s", "tap_v", "lamp_heater_v", "lamp_tap_v")
"""Figures that few types have; a table may lack their columns."""


@dataclass(frozen=True, slots=True)
class _Shape:
    """A basing, where it comes from, the sections on its pins, and the heaters read so far by their text."""

    basing: Basing
    source: str
    sections: frozenset[str]
    heaters: dict[str, tuple[HeaterArrangement, ...]] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class _Parts:
    """The sections of a type by name, and where they come from."""

    sections: dict[str, Section] = field(default_factory=dict)
    sources: list[str] = field(default_factory=list)


def table_version() -> str:
    """A short digest of the shipped tables: another one means other facts."""
    digest = hashlib.sha256()
    for name in TABLES:
        digest.update((root("data") / f"{name}.csv").read_bytes())
    return digest.hexdigest()[:16]


@lru_cache(maxsize=1)
def catalog_of(version: str) -> Catalog:
    """The shipped catalog, kept while ``version`` stays that of the tables: several records share it."""
    return load_catalog()


def load_catalog(folder: Path | None = None) -> Catalog:
    """The shipped types and substitutes, from ``data/`` or another folder with the same tables.

    Raises UserError with file, line and what is wrong there, if a row cannot be used.
    """
    folder = folder or root("data")
    types = load_types(folder)
    return Catalog(types, _substitutes(folder / "substitutes.csv", {tube.key for tube in types}))


def load_types(folder: Path | None = None) -> tuple[TubeType, ...]:
    """The shipped types, in the order of the table; errors as for ``load_catalog``."""
    folder = folder or root("data")
    shapes = dict(_shapes(folder / "basings.csv"))
    rows = {}
    for row in read_table(folder / "types.csv"):
        key = fold(row.need("designation"))
        if key in rows:
            raise row.error(f"the type {row.text('designation')} is listed twice")
        rows[key] = row
    parts = _parts(folder / "sections.csv", rows)
    names = _equivalents(folder / "equivalents.csv", rows)
    made: dict[tuple[str, ...], Ratings] = {}  # many types are rated alike
    return tuple(_type(key, row, shapes, parts[key], tuple(names[key]), made) for key, row in rows.items())


def _type(
    key: str,
    row: Row,
    shapes: dict[str, _Shape],
    parts: _Parts,
    equivalents: tuple[str, ...],
    made: dict[tuple[str, ...], Ratings],
) -> TubeType:
    designation, function, base, code = row.needs(_NEEDED)
    family, heating, heaters, cutoff, envelope, system, note, source, confidence = row.texts(_TEXTS)
    if code not in shapes:
        raise row.error(f"the basing {code} is not in basings.csv")
    shape = shapes[code]
    if shape.basing.base != base:
        raise row.error(f"the base is {base}, but the basing {code} is {shape.basing.base}")
    if heating not in _HEATINGS:
        raise row.error(f"heating is {heating or 'empty'}: heater, filament or cold is needed")
    rated = row.cut(_RATED)
    ratings = made.get(rated) or made.setdefault(rated, Ratings(system, *row.numbers(_RATINGS)))
    warmup_s, tap_v, lamp_heater_v, lamp_tap_v = _of_few(row)
    sources = (source, *parts.sources, shape.source)
    sections = tuple(parts.sections.values())
    _check_sections(row, designation, shape, sections)
    return TubeType(
        key=key,
        designation=designation,
        function=function,
        basing=shape.basing,
        heating=_HEATINGS[heating],
        heaters=_heaters(row, heaters, shape),
        sections=sections,
        ratings=ratings,
        family=family,
        cutoff=cutoff,
        envelope=envelope,
        equivalents=equivalents,
        cautions=row.list("cautions"),
        note=note,
        source="; ".join(dict.fromkeys(filter(None, sources))),
        confidence=confidence,
        warmup_s=warmup_s,
        tap_v=tap_v,
        lamp_heater_v=lamp_heater_v,
        lamp_tap_v=lamp_tap_v,
    )


def _of_few(row: Row) -> list[float | None]:
    if all(map(row.has, _OF_FEW)):
        return row.numbers(_OF_FEW)
    return [row.number(column) if row.has(column) else None for column in _OF_FEW]


def _heaters(row: Row, text: str, shape: _Shape) -> tuple[HeaterArrangement, ...]:
    """The arrangements of a row; those of one basing are read once, since hundreds of rows share a few."""
    if text not in shape.heaters:
        shape.heaters[text] = tuple(_arrangements(row, text, shape.basing))
    return shape.heaters[text]


def _arrangements(row: Row, text: str, basing: Basing) -> Iterator[HeaterArrangement]:
    """Arrangements such as ``6.3/0.3 4+5-9 | 12.6/0.15 4-5``; their pins have to be heater pins."""
    for arrangement in filter(None, (part.strip() for part in text.split("|"))):
        rating, _, pins = arrangement.partition(" ")
        volts, _, amperes = rating.partition("/")
        try:
            heater = HeaterArrangement(float(volts), float(amperes), pins.strip())
        except ValueError:
            raise row.error(f"heater '{arrangement}' is not like '6.3/0.3 4-5'") from None
        if not (0 < heater.volts < inf and 0 < heater.amperes < inf):
            raise row.error(f"heater '{arrangement}' needs volts and amperes above zero")
        for pin in filter(None, heater.pins.replace("+", "-").split("-")):
            if not _HEATER_ELEMENTS.intersection(basing.at(pin)):
                raise row.error(f"heater '{arrangement}': pin {pin} of basing {basing.code} is no heater pin")
        yield heater


def _check_sections(row: Row, designation: str, shape: _Shape, sections: tuple[Section, ...]) -> None:
    """Basing and sections have to speak of the same sections, or pins would be compared wrongly."""
    named = {section.name for section in sections}
    if shape.sections != named:
        on_pins = ", ".join(sorted(shape.sections))
        both = f"{on_pins} in the basing {shape.basing.code}, {', '.join(sorted(named))}"
        raise row.error(f"the sections of {designation} do not agree: {both} in sections.csv")


def _shapes(path: Path) -> Iterator[tuple[str, _Shape]]:
    seen: set[str] = set()
    for row in read_table(path):
        code = row.need("basing")
        if code in seen:
            raise row.error(f"the basing {code} is listed twice")
        seen.add(code)
        pins: list[tuple[str, tuple[str, ...]]] = []
        sections: set[str] = set()
        for part in row.need("pins").split():
            pin, colon, text = part.partition(":")
            if not (pin and colon and text):
                raise row.error(f"pin '{part}' is not like '3:1.cathode'")
            elements = tuple(text.split("+"))
            pins.append((pin, elements))
            sections.update(e.partition(".")[0] for e in elements if e not in _ALONE)
        if len(dict(pins)) < len(pins):
            raise row.error(f"the basing {code} has a pin twice")
        yield (
            code,
            _Shape(Basing(code, row.need("base"), tuple(pins)), row.text("source"), frozenset(sections)),
        )


def _parts(path: Path, types: dict[str, Row]) -> dict[str, _Parts]:
    parts = {key: _Parts() for key in types}
    made: dict[tuple[str, ...], Section] = {}  # half of them are like another's
    for row in read_table(path):
        designation, source = row.texts(("type", "source"))
        of_type = parts[_known(row, designation or row.need("type"), types)]
        cells = row.cut(_SECTION)
        section = made.get(cells) or made.setdefault(cells, _section(row))
        if section.name in of_type.sections:
            raise row.error(f"section {section.name} of {designation} is listed twice")
        of_type.sections[section.name] = section
        of_type.sources.append(source)
    return parts


def _section(row: Row) -> Section:
    name, function = row.needs(("section", "function"))
    gm_umho, mu, rp_ohm, plate_v, screen_v, plate_ma, screen_ma, plate_w, screen_w = row.numbers(_FIGURES)
    return Section(
        name=name,
        function=function,
        readable=row.text("readable") != "no",
        gm_umho=gm_umho,
        mu=mu,
        rp_ohm=rp_ohm,
        plate_v=plate_v,
        screen_v=screen_v,
        grid_v=row.number("grid_v", negative=True),
        plate_ma=plate_ma,
        screen_ma=screen_ma,
        plate_w_max=plate_w,
        screen_w_max=screen_w,
    )


def _equivalents(path: Path, types: dict[str, Row]) -> dict[str, list[str]]:
    names: dict[str, list[str]] = {key: [] for key in types}
    seen: set[str] = set()
    for row in read_table(path):
        designation, name = row.needs(("type", "name"))
        key, folded = _known(row, designation, types), fold(name)
        if folded in types and folded != key:
            raise row.error(f"{name} is a type of its own and cannot be a name of {designation}")
        if folded in seen:
            raise row.error(f"the name {name} is listed twice")
        seen.add(folded)
        names[key].append(name)
    return names


def _substitutes(path: Path, types: set[str]) -> Iterator[Substitute]:
    seen: set[tuple[str, str]] = set()
    for row in read_table(path):
        intended, found = row.needs(("intended", "found"))
        pair = _known(row, intended, types), _known(row, found, types)
        if pair in seen or pair[0] == pair[1]:
            raise row.error("this pair is listed twice or is one type")
        seen.add(pair)
        grade, source = row.texts(("grade", "source"))
        if grade not in ("1", "2", "3"):
            raise row.error("grade has to be 1, 2 or 3")
        yield Substitute(*pair, int(grade), row.list("conditions"), source)


def _known(row: Row, name: str, types: Collection[str]) -> str:
    """The key of the type that the row names."""
    key = fold(name)
    if key not in types:
        raise row.error(f"the type {name} is not in types.csv")
    return key
