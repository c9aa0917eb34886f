"""Numbers as people type and read them, the same in every locale."""

import math
import re
import unicodedata
from decimal import Decimal

from tubeshelf.domain.errors import UserError

LONGEST = 40
"""Characters a number with its unit may have; more is a pasted text, not a reading."""


def _folded(unit: str) -> str:
    """One spelling for a unit: two micro signs and two ohm signs are in use, and look alike."""
    return unicodedata.normalize("NFKC", unit.strip()).casefold()


_SAME_UNITS = tuple(
    frozenset(map(_folded, names))
    for names in (
        ("µmho", "umho", "micromho", "micromhos", "µS", "uS"),
        ("mS", "mA/V", "mmho"),
        ("Ω", "ohm", "ohms"),
        ("kΩ", "kohm", "kohms"),
        ("MΩ", "Mohm", "Mohms", "megohm", "megohms"),
        ("µA", "uA"),
        ("%", "per cent", "percent"),
    )
)
_OTHER_UNITS = frozenset({"mho", "s", "v", "mv", "kv", "a", "ma", "w", "mw", "h", "min", "hz", "db"})
_UNITS = _OTHER_UNITS.union(*_SAME_UNITS)

_SHAPE = re.compile(r"([+-]?)\s*([0-9]*)([.,]?)([0-9]*)\s*([^0-9.,\s+-].*)?")


def same_unit(one: str, other: str) -> bool:
    """Whether two units are the same under different names (µmho and µS); unnamed ones never are.

    mS and µmho are not the same: nothing is converted here. 1 µmho = 1 µS and 1 mS = 1 mA/V by the
    definition of the siemens (SI brochure, 9th edition, table 4).
    """
    a, b = _folded(one), _folded(other)
    return bool(a) and (a == b or any(a in names and b in names for names in _SAME_UNITS))


def parse_number(text: str, unit: str = "") -> float:
    """The number somebody typed; point and comma both are the decimal sign, whatever the locale.

    There is no grouping: ``1.234`` is 1.234 and ``6,900`` is 6.9 (``likely_slip`` asks about it).
    A unit behind the number is dropped, never converted; with ``unit``, that of the field, a typed
    unit has to be the same. Raises ``UserError`` for everything that is not one plain number.
    """
    typed = " ".join(text.split())
    shown = typed if len(typed) <= 20 else f"{typed[:20]}…"
    if not typed:
        raise UserError("Type a number.")
    if len(typed) > LONGEST:
        raise UserError(f"“{shown}” is too long for a number: type the figures only.")
    if any(c.isdigit() and not c.isascii() for c in typed):
        raise UserError(f"“{shown}” cannot be read: type the number with the figures 0 to 9.")
    match = _SHAPE.fullmatch(typed.replace("\N{MINUS SIGN}", "-"))
    if match is None:
        raise UserError(_what_is_wrong(typed, shown))
    sign, whole, _, decimals, typed_unit = match.groups(default="")
    if not whole + decimals:
        raise UserError(f"“{shown}” is not a number: type figures, such as 62 or 0.35.")
    _check_unit(typed_unit, unit, shown)
    return float(f"{sign}{whole or '0'}.{decimals or '0'}") + 0.0  # + 0.0 turns -0.0 into 0.0


def _what_is_wrong(typed: str, shown: str) -> str:
    """The sentence for figures that make no single number."""
    number = re.match(r"[+-]?[0-9][0-9.,]*", typed)
    if number is not None and len(re.findall(r"[.,]", number.group())) > 1:
        return f"“{shown}” has several separators: type it without one for thousands, such as 1234.5."
    if re.match(r"[+-]?[0-9]+ [0-9]", typed):
        return f"“{shown}” has a gap in it: type one number without spaces between the figures."
    return f"“{shown}” is not a number: type figures, such as 62 or 0.35."


def _check_unit(typed_unit: str, unit: str, shown: str) -> None:
    """Refuse what is no unit (12AX7 is not 12) and a unit other than that of the field."""
    folded = _folded(typed_unit)
    if not folded or same_unit(folded, unit):
        return
    if folded not in _UNITS:
        raise UserError(f"“{shown}” is not a number: type figures, such as 62 or 0.35.")
    if unit:
        raise UserError(f"“{shown}” is in another unit: this field takes {unit}.")


def format_number(x: float, digits: int = 10) -> str:
    """A number for screen and paper: ``6,900``, ``0.35``, ``−3``, to ``digits`` significant figures.

    Thousands are grouped to be legible at a metre, so it is not for a field to be edited: a field is
    filled by ``plain_number``, which ``parse_number`` reads back.
    """
    return _positional(Decimal(f"{x:.{digits - 1}e}"), ",").replace("-", "\N{MINUS SIGN}")


def plain_number(x: float) -> str:
    """A number for a field to be edited or a file: exact, no grouping, ``parse_number`` gives it back."""
    return _positional(Decimal(repr(float(x))), "")


def _positional(number: Decimal, grouping: str) -> str:
    """Figures without exponent, trailing zeros or a negative zero."""
    if not math.isfinite(number):
        raise ValueError("only a finite number can be written")
    if not number:
        return "0"
    text = f"{number:{grouping}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text
