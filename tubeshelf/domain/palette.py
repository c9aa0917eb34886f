"""The colours of the window and the charts, light and dark, in one place, and how contrast is measured."""

from collections.abc import Mapping
from dataclasses import asdict, dataclass
from functools import lru_cache
from types import MappingProxyType


@dataclass(frozen=True, slots=True)
class Palette:
    """Colours by what they are for, as ``#RRGGBB``.

    ``again`` is the tone of "read again"; the ``zone_*`` are grounds of the scale picture, never text, each
    lighter than the worse one, so that they differ in grey.
    """

    name: str
    bg: str
    panel: str
    ink: str
    soft: str
    line: str
    control: str
    selected: str
    accent: str
    accent_ground: str
    accent_deep: str
    on_accent: str
    good: str
    weak: str
    reject: str
    again: str
    zone_reject: str
    zone_weak: str
    zone_good: str

    def colours(self) -> Mapping[str, str]:
        """Name to hex string: what the style sheet and the charts take."""
        return _colours(self)

    def tone(self, name: str) -> str:
        """The colour of a named tone; the empty name is plain ink."""
        return self.colours()[name or "ink"]


@lru_cache(maxsize=8)
def _colours(palette: Palette) -> Mapping[str, str]:
    """Worked out once: a table asks for a tone in every cell it paints."""
    values = asdict(palette)
    del values["name"]
    return MappingProxyType(values)


LIGHT = Palette(
    name="light",
    bg="#F6F3EE",
    panel="#FFFFFF",
    ink="#22201D",
    soft="#655F57",
    line="#DDD6CB",
    control="#948B7E",
    selected="#FFF6E6",
    accent="#A8480C",
    accent_ground="#FBEBDD",
    accent_deep="#8F3C08",
    on_accent="#FFFFFF",
    good="#0A6B62",
    weak="#8A5A00",
    reject="#A3261C",
    again="#5B4B9A",
    zone_reject="#EDB9B0",
    zone_weak="#F4D9A0",
    zone_good="#DFF0EC",
)

DARK = Palette(
    name="dark",
    bg="#1C1A18",
    panel="#262320",
    ink="#EFE9E0",
    soft="#ADA498",
    line="#3D3833",
    control="#7D746A",
    selected="#33291F",
    accent="#F0A35E",
    accent_ground="#3A2A1C",
    accent_deep="#F6B983",
    on_accent="#1C1A18",
    good="#5CC7B8",
    weak="#E8B64C",
    reject="#FF8A7A",
    again="#B9A8F5",
    zone_reject="#4A2622",
    zone_weak="#54441E",
    zone_good="#2B645A",
)

_ON_EVERY_GROUND = ("ink", "soft", "accent", "good", "weak", "reject", "again")

TEXT_PAIRS: tuple[tuple[str, str], ...] = (
    *((text, ground) for text in _ON_EVERY_GROUND for ground in ("bg", "panel", "selected")),
    ("accent", "accent_ground"),
    ("ink", "accent_ground"),
    ("on_accent", "accent"),
    ("on_accent", "accent_deep"),
    ("ink", "zone_reject"),
    ("ink", "zone_weak"),
    ("ink", "zone_good"),
)
"""Every (text, ground) that the window may draw."""


def contrast(one: str, other: str) -> float:
    """The contrast ratio of two ``#RRGGBB`` colours, 1 to 21 (WCAG 2.2, relative luminance)."""
    lighter, darker = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def _luminance(colour: str) -> float:
    channels = (int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5))
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue
