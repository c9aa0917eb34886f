"""What somebody writes down of a socket beside its type, and its words, such as ``plate=300 fixed``."""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from tubeshelf.domain.errors import UserError
from tubeshelf.domain.fitting import Bias
from tubeshelf.domain.numbers import parse_number, plain_number


@dataclass(frozen=True, slots=True)
class WrittenFacts:
    """Electrical facts of one socket, in volts; empty and ``None`` where nothing was written down.

    ``heater_pins`` is the wiring as in the type table (``4+5-9``), ``plate_v`` and ``screen_v`` are the
    supplies (at a rectifier the B+ behind it), ``bias_v`` the grid bias, never above zero, ``capacitor_v``
    what the first filter capacitor stands, ``ties`` pins that the set uses as tie points.
    """

    heater_pins: str = ""
    plate_v: float | None = None
    screen_v: float | None = None
    bias: Bias | None = None
    bias_v: float | None = None
    capacitor_v: float | None = None
    ties: tuple[str, ...] = ()

    def __bool__(self) -> bool:
        """Whether anything was written down."""
        return self != NOTHING_WRITTEN


NOTHING_WRITTEN = WrittenFacts()

_BIASES = {str(bias): bias for bias in Bias}
_NUMBERS = {"plate": "plate_v", "screen": "screen_v", "bias": "bias_v", "capacitor": "capacitor_v"}
_PIN = r"(?:[1-9][0-9]?|cap)"
_WIRING = re.compile(rf"{_PIN}(?:\+{_PIN})*-{_PIN}(?:\+{_PIN})*")
_TIES = re.compile(rf"{_PIN}(?:[,\s]+{_PIN})*")
WORDS = "heater=, plate=, screen=, bias=, fixed, cathode, capacitor=, ties="
"""The words as they are named to the user."""


def is_fact(word: str) -> bool:
    """Whether a word is one of those that ``read_facts`` takes, or is meant to be one."""
    name = word.partition("=")[0].casefold()
    return name in _BIASES or ("=" in word and bool(name))


def read_facts(words: Iterable[str]) -> WrittenFacts:
    """The facts in words such as ``heater=4+5-9``, ``plate=300``, ``bias=-14``, ``fixed``, ``ties=1,6``.

    Numbers are read as everywhere (point or comma, ``V`` may follow). Raises UserError for the first word
    that is not known, cannot be read or stands there twice.
    """
    read: dict[str, Any] = {}
    for word in words:
        column, value = _read(word)
        if column in read:
            raise UserError(f"“{word}” says again what stands there already; keep one of the two.")
        read[column] = value
    return WrittenFacts(**read)


def _read(word: str) -> tuple[str, object]:
    name, equals, typed = word.partition("=")
    name = name.casefold()
    if name in _BIASES and not equals:
        return "bias", _BIASES[name]
    if not typed:
        raise UserError(f"“{word}” says nothing; type the figure behind it, or leave it out.")
    if name == "heater":
        return "heater_pins", wiring(typed)
    if name == "ties":
        return "ties", pins(typed)
    if name not in _NUMBERS:
        raise UserError(f"“{word}” is not known; behind the type may stand {WORDS}, =A, series, parallel.")
    return _NUMBERS[name], (bias_volts if name == "bias" else volts)(typed)


def wiring(text: str) -> str:
    """A heater wiring such as ``4+5-9`` or ``2-7``; UserError for anything else."""
    folded = "".join(text.split()).casefold()
    if not _WIRING.fullmatch(folded):
        raise UserError(f"“{text}” is no heater wiring; type its pins such as 4+5-9 or 2-7.")
    return folded


def pins(text: str) -> tuple[str, ...]:
    """Pins with commas or blanks between them, such as ``1, 6``, each once; UserError for anything else."""
    folded = text.strip().casefold()
    if not _TIES.fullmatch(folded):
        raise UserError(f"“{text}” is no list of pins; type them such as 1,6.")
    return tuple(dict.fromkeys(re.split(r"[,\s]+", folded)))


def volts(text: str) -> float:
    """Volts above zero; UserError for anything else."""
    number = parse_number(text, "V")
    if number <= 0:
        raise UserError(f"“{text}” is not above zero; leave it out if it is not known.")
    return number


def bias_volts(text: str) -> float:
    """Grid bias: zero or below; UserError for anything else."""
    number = parse_number(text, "V")
    if number > 0:
        raise UserError(f"“{text}” is above zero; type the grid bias as a negative number, such as −14.")
    return number


def fact_words(facts: WrittenFacts) -> tuple[str, ...]:
    """The words that ``read_facts`` reads back."""
    numbers: Mapping[str, float | None] = {name: getattr(facts, column) for name, column in _NUMBERS.items()}
    words = {name: f"{name}={plain_number(x)}" for name, x in numbers.items() if x is not None}
    words["heater"] = f"heater={facts.heater_pins}" if facts.heater_pins else ""
    words["kind"] = str(facts.bias or "")
    words["ties"] = f"ties={','.join(facts.ties)}" if facts.ties else ""
    order = ("heater", "plate", "screen", "bias", "kind", "capacitor", "ties")
    return tuple(filter(None, (words.get(name, "") for name in order)))
