"""The shipped tables of types as domain values; plain CSV, no database."""

import hashlib
from collections.abc import Iterator
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

_HEATER_ELEMENTS = {"heater", "filament", "heater.tap", "filament.tap"}
_ALONE = _HEATER_ELEMENTS | {"shield", "shell", "nc", "ic"}


def table_version() -> str:
    """A short digest of the shipped tables: another one means other facts."""
    digest = hashlib.sha256()
    for name in TABLES:
        digest.update((root("data") / f"{name}.csv").read_bytes())
    return digest.hexdigest()[:16]


def load_catalog(folder: Path | None = None) -> Catalog:
    """The shipped types and substitutes, from ``data/`` or another folder with the same tables.

    Raises UserError with file, line and what is wrong there, if a row cannot be used.
    """
    folder = folder or root("data")
    types = load_types(folder)
    return Catalog(types, _substitutes(folder / "substitutes.csv", {tube.key for tube in types}))


def load_substitutes() -> tuple[Substitute, ...]:
    """The shipped substitutes alone, of whatever types; errors as for ``load_catalog``."""
    return tuple(_substitutes(root("data") / "substitutes.csv"))


def load_types(folder: Path | None = None) -> tuple[TubeType, ...]:
    """The shipped types, in the order of the table; errors as for ``load_catalog``."""
    folder = folder or root("data")
    basings = dict(_basings(folder / "basings.csv"))
    rows = {}
    for row in read_table(folder / "types.csv"):
        key = fold(row.need("designation"))
        if key in rows:
            raise row.error(f"the type {row.text('designation')} is listed twice")
        rows[key] = row
    sections, sources = _sections(folder / "sections.csv", rows)
    names = _equivalents(folder / "equivalents.csv", rows)
    return tuple(
        _type(key, row, basings, tuple(sections[key]), tuple(names[key]), sources[key])
        for key, row in rows.items()
    )


def _type(
    key: str,
    row: Row,
    basings: dict[str, tuple[Basing, str]],
    sections: tuple[Section, ...],
    equivalents: tuple[str, ...],
    section_sources: list[str],
) -> TubeType:
    code = row.need("basing")
    if code not in basings:
        raise row.error(f"the basing {code} is not in basings.csv")
    basing, basing_source = basings[code]
    if basing.base != row.need("base"):
        raise row.error(f"the base is {row.text('base')}, but the basing {code} is {basing.base}")
    heating = row.text("heating")
    if heating not in list(Heating):
        raise row.error(f"heating is {heating or 'empty'}: heater, filament or cold is needed")
    tube = TubeType(
        key=key,
        designation=row.need("designation"),
        function=row.need("function"),
        basing=basing,
        heating=Heating(heating),
        heaters=tuple(_heaters(row, basing)),
        sections=sections,
        ratings=_ratings(row),
        family=row.text("family"),
        cutoff=row.text("cutoff"),
        envelope=row.text("envelope"),
        equivalents=equivalents,
        cautions=row.list("cautions"),
        note=row.text("note"),
        source="; ".join(dict.fromkeys(filter(None, (row.text("source"), *section_sources, basing_source)))),
        confidence=row.text("confidence"),
        warmup_s=_may(row, "warmup_s"),
        tap_v=_may(row, "tap_v"),
        lamp_heater_v=_may(row, "lamp_heater_v"),
        lamp_tap_v=_may(row, "lamp_tap_v"),
    )
    _check_sections(row, tube)
    return tube


def _may(row: Row, column: str) -> float | None:
    """A figure that few types have; a table may lack its column."""
    return row.number(column) if column in row.cells else None


def _ratings(row: Row) -> Ratings:
    return Ratings(
        system=row.text("rating_system"),
        plate_v_max=row.number("plate_v_max"),
        screen_v_max=row.number("screen_v_max"),
        cathode_ma_max=row.number("cathode_ma_max"),
        heater_cathode_v_max=row.number("heater_cathode_v_max"),
        piv_v=row.number("piv_v"),
        dc_ma=row.number("dc_ma"),
        drop_v=row.number("drop_v"),
        drop_ma=row.number("drop_ma"),
        operating_v=row.number("operating_v"),
    )


def _heaters(row: Row, basing: Basing) -> Iterator[HeaterArrangement]:
    """Arrangements such as ``6.3/0.3 4+5-9 | 12.6/0.15 4-5``; their pins have to be heater pins."""
    for arrangement in filter(None, (part.strip() for part in row.text("heaters").split("|"))):
        rating, _, pins = arrangement.partition(" ")
        volts, _, amperes = rating.partition("/")
        try:
            heater = HeaterArrangement(float(volts), float(amperes), pins.strip())
        except ValueError:
            raise row.error(f"heater '{arrangement}' is not like '6.3/0.3 4-5'") from None
        if heater.volts <= 0 or heater.amperes <= 0:
            raise row.error(f"heater '{arrangement}' needs volts and amperes above zero")
        for pin in filter(None, heater.pins.replace("+", "-").split("-")):
            if not _HEATER_ELEMENTS.intersection(basing.at(pin)):
                raise row.error(f"heater '{arrangement}': pin {pin} of basing {basing.code} is no heater pin")
        yield heater


def _check_sections(row: Row, tube: TubeType) -> None:
    """Basing and sections have to speak of the same sections, or pins would be compared wrongly."""
    on_pins = {
        e.partition(".")[0] for _pin, elements in tube.basing.pins for e in elements if e not in _ALONE
    }
    named = {section.name for section in tube.sections}
    if on_pins != named:
        both = f"{', '.join(sorted(on_pins))} in the basing {tube.basing.code}, {', '.join(sorted(named))}"
        raise row.error(f"the sections of {tube.designation} do not agree: {both} in sections.csv")


def _basings(path: Path) -> Iterator[tuple[str, tuple[Basing, str]]]:
    seen: set[str] = set()
    for row in read_table(path):
        code = row.need("basing")
        if code in seen:
            raise row.error(f"the basing {code} is listed twice")
        seen.add(code)
        pins = []
        for part in row.need("pins").split():
            pin, colon, elements = part.partition(":")
            if not (pin and colon and elements):
                raise row.error(f"pin '{part}' is not like '3:1.cathode'")
            pins.append((pin, tuple(elements.split("+"))))
        if len(dict(pins)) < len(pins):
            raise row.error(f"the basing {code} has a pin twice")
        yield code, (Basing(code, row.need("base"), tuple(pins)), row.text("source"))


def _sections(path: Path, types: dict[str, Row]) -> tuple[dict[str, list[Section]], dict[str, list[str]]]:
    """The sections of each type and where they come from."""
    sections: dict[str, list[Section]] = {key: [] for key in types}
    sources: dict[str, list[str]] = {key: [] for key in types}
    for row in read_table(path):
        key = _known(row, "type", types)
        name = row.need("section")
        if any(section.name == name for section in sections[key]):
            raise row.error(f"section {name} of {row.text('type')} is listed twice")
        sections[key].append(_section(row, name))
        sources[key].append(row.text("source"))
    return sections, sources


def _section(row: Row, name: str) -> Section:
    return Section(
        name=name,
        function=row.need("function"),
        readable=row.text("readable") != "no",
        gm_umho=row.number("gm_umho"),
        mu=row.number("mu"),
        rp_ohm=row.number("rp_ohm"),
        plate_v=row.number("plate_v"),
        screen_v=row.number("screen_v"),
        grid_v=row.number("grid_v", negative=True),
        plate_ma=row.number("plate_ma"),
        screen_ma=row.number("screen_ma"),
        plate_w_max=row.number("plate_w_max"),
        screen_w_max=row.number("screen_w_max"),
    )


def _equivalents(path: Path, types: dict[str, Row]) -> dict[str, list[str]]:
    names: dict[str, list[str]] = {key: [] for key in types}
    seen: set[str] = set()
    for row in read_table(path):
        key, name = _known(row, "type", types), row.need("name")
        if fold(name) in types and fold(name) != key:
            raise row.error(f"{name} is a type of its own and cannot be a name of {row.text('type')}")
        if fold(name) in seen:
            raise row.error(f"the name {name} is listed twice")
        seen.add(fold(name))
        names[key].append(name)
    return names


def _substitutes(path: Path, types: set[str] | None = None) -> Iterator[Substitute]:
    seen: set[tuple[str, str]] = set()
    for row in read_table(path):
        pair = _known(row, "intended", types), _known(row, "found", types)
        if pair in seen or pair[0] == pair[1]:
            raise row.error("this pair is listed twice or is one type")
        seen.add(pair)
        if row.text("grade") not in ("1", "2", "3"):
            raise row.error("grade has to be 1, 2 or 3")
        yield Substitute(*pair, int(row.text("grade")), row.list("conditions"), row.text("source"))


def _known(row: Row, column: str, types: dict[str, Row] | set[str] | None) -> str:
    key = fold(row.need(column))
    if types is not None and key not in types:
        raise row.error(f"the type {row.text(column)} is not in types.csv")
    return key
