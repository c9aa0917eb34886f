"""Names of tube types as people write them: one key for all spellings of a name."""

import re
import unicodedata
from string import ascii_uppercase, digits

_JAN = re.compile(r"^JAN(?:C[A-Z]{2}(?=[0-9O]))?(?=.)")
_O_FOR_ZERO = re.compile(r"^O(?=[A-Z0-9])|(?<=[0-9])O(?=O*[0-9])")
_BETWEEN_NAMES = re.compile(r"[/=|,;()]+")
_BEFORE = re.compile(r"^(?:TYPE|TUBE|VALVE|U[VXY]|C[XY])(?=.*[0-9])")
"""A word for the thing itself, or the letters of the twenties for the maker's base (``UX-201A``)."""

_LOOKS = {
    **dict(zip((0x410, 0x412, 0x415, 0x417, 0x41A, 0x41C, 0x41D), "ABE3KMH", strict=True)),
    **dict(zip((0x41E, 0x420, 0x421, 0x422, 0x423, 0x425), "OPCTYX", strict=True)),
}
"""Cyrillic capitals by the Latin ones they look like."""

_SOUNDS = dict(enumerate((*"ABVGDE", "ZH", *"ZIJKLMNOPRSTUF", "KH", "TS", "CH", "SH", "SHCH"), 0x410))
"""The Cyrillic capitals in order, in Latin letters as they are spoken; names have none of the last ones."""

_RUGGED = re.compile(r"(?<=[0-9A-Z])W[ABC]?$")


def fold(name: str) -> str:
    """The key under which a name is searched and compared: ``"6sn7 - gtb"`` gives ``6SN7GTB``.

    Upper case, letters and digits only; the military prefix JAN (with its three-letter maker code)
    goes; a letter O that can only be a zero is read as one (``OA2`` is the cold-cathode ``0A2``).
    Two names on one marking are run together: see ``candidates``. Folding twice changes nothing.
    """
    if name.isascii() and name.isalnum():  # as most names are kept
        upper = name.upper()
        if "O" not in upper and not upper.startswith("JAN"):
            return upper
    if not name.isascii():
        name = unicodedata.normalize("NFKC", name)
    folded = "".join(filter(str.isalnum, name.upper()))
    while (bare := _JAN.sub("", folded)) != folded:
        folded = bare
    return _O_FOR_ZERO.sub("0", folded)


def zeroed(folded: str) -> str:
    """A folded name with every letter O read as a zero: ``E8OCC`` gives ``E80CC``.

    For a name that is not found as it stands: the American numbering leaves the letter out (as it looks
    like the zero), and few others have it.
    """
    return folded.replace("O", "0")


def stem(folded: str) -> str:
    """A folded name without the letters behind its last digit: ``6SN7GTB`` gives ``6SN7``."""
    bare = folded.rstrip(ascii_uppercase)
    return bare if bare and bare[-1] in digits else folded


def candidates(marking: str) -> tuple[str, ...]:
    """The names that a marking gives, folded, in the order in which they stand on the glass.

    ``12AX7/ECC83`` gives both; ``6V6GT/G`` gives ``6V6GT`` and ``6V6G``, since the second half is
    only another ending. A suffix such as W or WA is part of a name and stays: a ruggedised tube is
    not silently its plain type (``plain`` gives that, for a suggestion).
    """
    names: list[str] = []
    for part in filter(None, map(fold, _BETWEEN_NAMES.split(marking))):
        only_an_ending = names and part.isascii() and part.isalpha() and len(part) <= 3
        name = stem(names[0]) + part if only_an_ending else part
        if name not in names:
            names.append(name)
    return tuple(names)


def only_endings_differ(marking: str) -> bool:
    """Whether a marking is one name with several endings (``6V6GT/G``), not two names."""
    parts = [fold(part) for part in _BETWEEN_NAMES.split(marking)]
    return len(parts) > 1 and all(part.isascii() and part.isalpha() and len(part) <= 3 for part in parts[1:])


def readings(folded: str) -> tuple[str, ...]:
    """What else a folded name that is not found may be meant as: ``TYPE80`` as ``80``, ``UX280`` as ``280``.

    Cyrillic letters are read by their look (a keyboard left in that layout) and by their sound (``6П14П`` is
    written 6P14P elsewhere). To offer to the reader, never to take for the name.
    """
    latin = {folded, *(folded.translate(table) for table in (_LOOKS, _SOUNDS) if not folded.isascii())}
    bare = {_BEFORE.sub("", name) for name in latin}
    return tuple(sorted((latin | bare) - {folded}))


def plain(name: str) -> str | None:
    """The folded name without a ruggedised suffix (W, WA, WB, WC), or ``None`` if it has none.

    To suggest the plain type to the reader, never to take it for the marked one.
    """
    folded = fold(name)
    bare = _RUGGED.sub("", folded)
    return bare if bare != folded and any(map(str.isdigit, bare)) else None
