"""A field for a type's name that offers what the type table has."""

from collections.abc import Sequence

from tubeshelf.domain.designations import fold
from tubeshelf.domain.types import TubeType
from tubeshelf.services.shop import Shop
from tubeshelf.ui.parts.suggest import Offer, Suggest

_MOST = 8


def type_field(shop: Shop) -> Suggest:
    """A field for a type; names that begin as typed are offered, else those that look like it."""
    return Suggest(lambda text: offers(shop, text), "such as 12AX7")


def offers(shop: Shop, text: str) -> Sequence[Offer]:
    """The names to offer for what is typed so far, the shortest first."""
    begun = fold(text)
    if not begun:
        return ()
    found = sorted(
        (
            (name, tube)
            for tube in shop.book.catalog.types()
            if not tube.retired
            for name in (tube.designation, *tube.equivalents)
            if fold(name).startswith(begun)
        ),
        key=lambda pair: (len(pair[0]), pair[0]),
    )
    made = [Offer(f"{name}   {_what(name, tube)}", name, tube.key) for name, tube in found[:_MOST]]
    return made or [Offer(name, name, name) for name in shop.book.catalog.near(text)]


def _what(name: str, tube: TubeType) -> str:
    return tube.function if name == tube.designation else f"{tube.designation}, {tube.function}"
