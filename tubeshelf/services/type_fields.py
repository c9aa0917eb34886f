"""A type for a form: what came with the program, and what the shop says over it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields
from typing import TYPE_CHECKING

from tubeshelf.domain.errors import UserError
from tubeshelf.domain.types import Section
from tubeshelf.services.type_codec import parse_sections, to_fields
from tubeshelf.store.queries import types

if TYPE_CHECKING:
    from tubeshelf.services.shop import Shop


@dataclass(frozen=True, slots=True)
class TypeFields:
    """The fields of a type as texts: ``now`` as the shop has them, ``shipped`` as they came.

    ``shipped`` is empty for a type that the shop added.
    """

    key: str
    now: Mapping[str, str]
    shipped: Mapping[str, str]

    def own_figures(self) -> dict[tuple[str, str], float | None]:
        """The shipped value of each figure that differs, by section and name of the figure."""
        shipped = {section.name: section for section in parse_sections(self.shipped.get("sections") or "[]")}
        names = [f.name for f in fields(Section) if f.name not in ("name", "function", "readable")]
        return {
            (section.name, name): getattr(shipped[section.name], name)
            for section in parse_sections(self.now.get("sections") or "[]")
            if section.name in shipped
            for name in names
            if getattr(section, name) != getattr(shipped[section.name], name)
        }


def type_fields(shop: Shop, *, type_id: int) -> TypeFields:
    """The fields of a type, to be changed with ``save_type``; UserError if the type is gone."""
    tube = shop.book.type(type_id)
    if tube is None:
        raise UserError("That type is gone from the table; reload the page.")
    with shop.record.reading() as connection:
        shipped = types.shipped_facts(connection, type_id)
    return TypeFields(tube.key, to_fields(tube), shipped)
