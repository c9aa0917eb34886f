"""What the table says of a type."""

from dataclasses import dataclass

from tubeshelf.domain.catalog import Catalog
from tubeshelf.domain.types import TubeType
from tubeshelf.store.shipped import load_catalog


@dataclass(frozen=True, slots=True)
class TypeAnswer:
    """The type that was asked for, or names that look like it where the table has none."""

    asked: str
    tube: TubeType | None
    near: tuple[str, ...] = ()


def shipped_catalog() -> Catalog:
    """The types the program came with; about 20 ms, so keep it. Raises UserError if they are damaged."""
    return load_catalog()


def describe_type(*, catalog: Catalog, asked: str) -> TypeAnswer:
    """The type by any of its names or a marking; near misses where there is none."""
    tube = catalog.find(asked)
    return TypeAnswer(asked, tube, () if tube else catalog.near(asked))
