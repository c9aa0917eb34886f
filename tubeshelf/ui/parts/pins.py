"""Where the pins of a base stand, seen from below, and what is on them in words."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import islice

from tubeshelf.domain.types import Basing

CAP = "cap"
SCHEMATIC = "schematic"
"""The word under a drawing whose distances are not the true ones."""

_RING_OF_EIGHT = tuple(22.5 + 45 * i for i in range(8))
_NINE_AND_A_GAP = tuple(36.0 * i for i in range(1, 10))


@dataclass(frozen=True, slots=True)
class Shape:
    """A base: degrees of each pin clockwise from the bottom, where key or gap is; ``thick`` pins; its mark.

    Counting goes clockwise from key or gap, seen from below (RETMA/EIA practice). ``reach`` is how far from
    the centre a pin stands, as a share of the ring, where not all stand on it. ``schematic`` where the
    drawing tells which pin is which, but not the true distances between them.
    """

    angles: tuple[float, ...]
    mark: str
    thick: frozenset[int] = frozenset()
    reach: tuple[float, ...] = ()
    schematic: bool = False

    def places(self, count: int) -> Iterator[tuple[float, float]]:
        """Degrees and share of the ring of each of the first ``count`` pins."""
        reach = self.reach or (1.0,) * len(self.angles)
        return islice(zip(self.angles, reach, strict=True), count)


_CROSS = (180.0, 0.0, 90.0, 270.0)
"""The British and Continental cross of four: the plate, the grid facing it, the filament at both sides."""

_CROSS_REACH = (1.0, 0.66, 0.66, 0.66)
"""The plate pin of the cross is set apart, so that the tube goes in one way only."""

_CROSS_OF_FOUR = Shape(_CROSS, "", reach=_CROSS_REACH, schematic=True)
_CROSS_OF_FIVE = Shape((*_CROSS, 45.0), "", reach=(*_CROSS_REACH, 0.0), schematic=True)

_SHAPES: Mapping[str, Shape] = {
    "octal": Shape(_RING_OF_EIGHT, "key"),
    "lock-in": Shape(_RING_OF_EIGHT, "lock"),
    "rimlock": Shape(_RING_OF_EIGHT, "pip"),
    "noval": Shape(_NINE_AND_A_GAP, "gap"),
    "novar": Shape(_NINE_AND_A_GAP, "gap"),
    "magnoval": Shape(_NINE_AND_A_GAP, "gap"),
    "7-pin miniature": Shape(tuple(45.0 * i for i in range(1, 8)), "gap"),
    "compactron": Shape(tuple(360 / 13 * i for i in range(1, 13)), "gap"),
    "4-pin": Shape((45.0, 135.0, 225.0, 315.0), "thick", frozenset({1, 4})),
    "5-pin": Shape((30.0, 90.0, 180.0, 270.0, 330.0), "thick"),
    "6-pin": Shape(tuple(30.0 + 60 * i for i in range(6)), "thick", frozenset({1, 6})),
    "small 7-pin": Shape(tuple(360 / 14 + 360 / 7 * i for i in range(7)), "thick", frozenset({1, 7})),
    "medium 7-pin": Shape(tuple(360 / 14 + 360 / 7 * i for i in range(7)), "thick", frozenset({1, 7})),
    "british 4-pin": _CROSS_OF_FOUR,
    "british 5-pin": _CROSS_OF_FIVE,
    "european 4-pin": _CROSS_OF_FOUR,
    "european 5-pin": _CROSS_OF_FIVE,
}

_WORDS = {
    "nc": "no conn.",
    "ic": "int. conn.",
    "grid1": "grid 1",
    "grid2": "grid 2",
    "grid3": "grid 3",
    "grid4": "grid 4",
    "grid5": "grid 5",
    "beam": "beam plates",
    "heater.tap": "heater tap",
    "filament.tap": "filament tap",
}
_SHARED = ("heater", "filament", "shield", "shell", "nc", "ic")


@dataclass(frozen=True, slots=True)
class BaseView:
    """A base to draw: each pin with its words, and the pins to mark because they differ."""

    base: str
    pins: tuple[tuple[str, str], ...]
    marked: frozenset[str] = frozenset()

    def spoken(self) -> str:
        """The picture in words."""
        pins = "; ".join(f"{pin} {words}" for pin, words in self.pins)
        return f"{self.base} base from below: {pins}{f'; {SCHEMATIC}' if self.shape.schematic else ''}"

    @property
    def shape(self) -> Shape:
        """How its numbered pins stand."""
        return shape_of(self.base, sum(pin != CAP for pin, _ in self.pins))


def base_view(basing: Basing, other: Basing | None = None) -> BaseView:
    """The view of a basing; pins on which ``other`` has something else are marked."""
    sections = {e.split(".")[0] for _, on in basing.pins for e in on if not e.startswith(_SHARED)}
    pins = tuple((pin, pin_words(on, several=len(sections) > 1)) for pin, on in basing.pins)
    return BaseView(basing.base, pins, differing_pins(basing, other) if other else frozenset())


def differing_pins(one: Basing, other: Basing) -> frozenset[str]:
    """The pins that do not carry the same in both; one that the tube does not use differs from a used one."""
    pins = {pin for pin, _ in (*one.pins, *other.pins)}
    return frozenset(pin for pin in pins if _used(one.at(pin)) != _used(other.at(pin)))


def pin_words(elements: tuple[str, ...], *, several: bool) -> str:
    """What is on a pin: ``plate 2``, ``cathode, grid 3``; the section is told where there are several."""
    return ", ".join(dict.fromkeys(_element(e, several=several) for e in elements)) or "–"


def shape_of(base: str, pins: int) -> Shape:
    """The drawing of a base; one we have none of is an even ring, and schematic."""
    ring = tuple(360 / (2 * pins) + 360 / pins * i for i in range(pins))
    return _SHAPES.get(base) or Shape(ring, "", schematic=True)


def _element(element: str, *, several: bool) -> str:
    if element.startswith(_SHARED):
        return _WORDS.get(element, element)
    section, _, name = element.partition(".")
    words = _WORDS.get(name, name)
    return f"{words} ({section})" if several else words


def _used(elements: tuple[str, ...]) -> frozenset[str]:
    """What is on a pin for the set; nothing where it has no connection, or one inside the tube only."""
    return frozenset(elements) - {"nc", "ic"}
