"""Pins as they are typed at a tester, and shorts that are none because the tube ties the pins inside."""

import re

from tubeshelf.domain.errors import UserError
from tubeshelf.domain.types import Basing, TubeType

CAP = "cap"
PAIR = re.compile(r"([0-9]{1,2}|cap)-([0-9]{1,2}|cap)")
"""Two pins as they are stored."""

_TYPED = re.compile(r"([0-9]{1,2}|c|cap)(?:\s*[-–.,/+]\s*|\s+)([0-9]{1,2}|c|cap)")
_ONE = re.compile(r"[0-9]{1,2}|c|cap")
_HEATS = frozenset({"heater", "filament", "heater.tap", "filament.tap"})
_NOTHING = frozenset({"nc", "ic"})


def read_pins(text: str, basing: Basing | None) -> str:
    """Where something was found, as it is stored: two pins as ``2-5``, elements as they were typed.

    ``2.5``, ``2,5`` and ``2-5`` are all pins 2 and 5. Raises UserError for a pin that the base lacks, and
    for one pin twice; without ``basing`` every pin will do.
    """
    typed = " ".join(text.split()).casefold()
    pair = _TYPED.fullmatch(typed)
    if pair is None and not _ONE.fullmatch(typed):
        return " ".join(text.split())
    pins = tuple(
        CAP if pin == "c" else pin.lstrip("0") or "0" for pin in (pair.groups() if pair else (typed,))
    )
    known = {pin for pin, _ in basing.pins} if basing is not None else set()
    for pin in pins:
        if known and pin not in known:
            called = "top cap" if pin == CAP else f"pin {pin}"
            raise UserError(
                f"This base has no {called}: type two of its pins, such as 2.5, or leave it empty."
            )
    if len(pins) == 2 and pins[0] == pins[1]:
        raise UserError(f"That is pin {pins[0]} twice: type two pins, such as 2.5, or leave it empty.")
    return "-".join(pins)


def tied_inside(tube: TubeType | None, pins: str) -> str:
    """Why a short between two pins is none: the tube ties them inside; empty where it does not.

    ``Pins 4 and 7 are both the cathode in this type: no short.`` The same element is on both, or the heater
    is between them.
    """
    pair = PAIR.fullmatch(pins)
    if tube is None or pair is None:
        return ""
    one, other = pair.groups()
    on_one, on_other = frozenset(tube.basing.at(one)), frozenset(tube.basing.at(other))
    both = f"The top cap and pin {other if one == CAP else one}" if CAP in (one, other) else ""
    both = both or f"Pins {one} and {other}"
    if on_one & _HEATS and on_other & _HEATS:
        heats = "filament" if any(e.startswith("filament") for e in on_one) else "heater"
        return f"{both} are joined by the {heats} in this type: no short."
    shared = [element for element in sorted(on_one & on_other) if element not in _NOTHING]
    if shared:
        return f"{both} are both {element_words(tube, shared[0])} in this type: no short."
    return ""


def perhaps_tied(tube: TubeType | None, pins: str) -> str:
    """That a short may be none, since one of its pins has an internal connection, which may go anywhere."""
    pair = PAIR.fullmatch(pins)
    inner = [pin for pin in pair.groups() if "ic" in tube.basing.at(pin)] if tube and pair else []
    return f"Pin {inner[0]} has an internal connection in this type: perhaps no short." if inner else ""


def element_words(tube: TubeType, element: str) -> str:
    """An element in a sentence: ``the cathode``, ``the plate of section 2``."""
    section, dot, name = element.rpartition(".")
    said = re.sub(r"^grid([0-9])$", r"grid \1", name)
    article = "" if said.startswith("grid ") else "the "
    several = sum(s.readable for s in tube.sections) > 1
    return f"{article}{said}" + (f" of section {section}" if dot and several else "")
