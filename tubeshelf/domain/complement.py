"""A complement typed as text: one socket a line, such as ``V1 input 12AX7``."""

import re
from dataclasses import dataclass

from tubeshelf.domain.errors import UserError
from tubeshelf.domain.fitting import Circuit
from tubeshelf.domain.written_facts import (
    NOTHING_WRITTEN,
    WrittenFacts,
    fact_words,
    is_fact,
    read_facts,
)

LONGEST_LINE = 300
"""Characters a line may have; a longer one is a pasted text."""

_TOKEN = re.compile(
    r"(?:plate|screen|bias|capacitor)=[^\s,;]*,[0-9]+[a-zA-Z]*(?![^\s,;])"  # 12,5 has a decimal comma
    r"|ties=[^\s,;]*(?:,(?:[0-9]+|cap)(?![^\s,;]))*"
    r"|[^\s,;]+",
    re.IGNORECASE,
)
_CIRCUITS = {str(circuit): circuit for circuit in Circuit}


@dataclass(frozen=True, slots=True)
class ComplementLine:
    """A socket as typed; the type's name may be unknown to the type table.

    ``circuit`` is ``None`` where the line does not say how the heater is fed.
    """

    position: str
    role: str
    type_name: str
    circuit: Circuit | None = None
    match_group: str = ""
    facts: WrittenFacts = NOTHING_WRITTEN


@dataclass(frozen=True, slots=True)
class Complement:
    """What could be read of a typed complement, and a sentence for each line that could not."""

    lines: tuple[ComplementLine, ...]
    errors: tuple[str, ...] = ()


class _BadLineError(ValueError):
    """A line that is no socket; its message goes behind the line number."""


def parse_complement(text: str) -> Complement:
    """Read sockets from lines of position, role (any number of words, or none) and type.

    Spaces, tabs, commas and semicolons separate. Behind the type may stand ``=A`` (match group A),
    ``series`` or ``parallel`` (the heater circuit), and facts of the socket such as ``heater=4+5-9
    plate=300 bias=-14 fixed ties=1,6``. Empty lines are skipped; nothing raises.
    """
    lines: list[ComplementLine] = []
    errors: list[str] = []
    first_seen: dict[str, int] = {}
    for number, typed in enumerate(text.splitlines(), start=1):
        try:
            line = _parse_line(typed)
            if line is None:
                continue
            earlier = first_seen.setdefault(line.position.casefold(), number)
            if earlier != number:
                raise _BadLineError(
                    f"{line.position} is already in line {earlier}; give each socket one line."
                )
            lines.append(line)
        except _BadLineError as bad:
            errors.append(f"Line {number}: {bad}")
        except UserError as bad:  # a fact of the socket that cannot be read
            errors.append(f"Line {number}: {bad.sentence}")
    return Complement(tuple(lines), tuple(errors))


def _parse_line(typed: str) -> ComplementLine | None:
    if len(typed) > LONGEST_LINE:
        raise _BadLineError("too long for a socket; type a line such as V1 input 12AX7.")
    tokens = list(_TOKEN.finditer(typed))
    if not tokens:
        return None
    circuit: Circuit | None = None
    group = ""
    facts: list[str] = []
    while len(tokens) > 1:
        word = tokens[-1].group()
        if word.startswith("="):
            group = word[1:].upper()
        elif word.casefold() in _CIRCUITS:
            circuit = _CIRCUITS[word.casefold()]
        elif is_fact(word):
            facts.insert(0, word)
        else:
            break
        tokens.pop()
    for early in (token.group() for token in tokens if "=" in token.group()):
        raise _BadLineError(f"“{early}” stands before the type; type it behind, as in V1 input 12AX7 =A.")
    first, last = tokens[0], tokens[-1]
    if len(tokens) == 1:
        raise _BadLineError(f"“{first.group()}” stands alone; type a line such as V1 input 12AX7.")
    if not any(c.isdigit() for c in last.group()):
        raise _BadLineError(
            f"the type is missing behind “{last.group()}”; type a line such as V1 input 12AX7."
        )
    return ComplementLine(
        position=first.group(),
        role=_role(typed[first.end() : last.start()]),
        type_name=last.group(),
        circuit=circuit,
        match_group=group,
        facts=read_facts(facts),
    )


def _role(between: str) -> str:
    """The words between position and type; commas within them are the user's own."""
    parts = (" ".join(part.split()) for part in re.split(r"[,;]", between))
    return ", ".join(part for part in parts if part)


def format_complement(lines: tuple[ComplementLine, ...]) -> str:
    """The text that ``parse_complement`` reads back, one socket a line."""
    return "".join(f"{_format_line(line)}\n" for line in lines)


def _format_line(line: ComplementLine) -> str:
    group = f"={line.match_group}" if line.match_group else ""
    facts = " ".join(fact_words(line.facts))
    parts = (line.position, line.role, line.type_name, facts, group, line.circuit or "")
    return " ".join(part for part in parts if part)


def natural_key(text: str) -> tuple[tuple[int, int, str], ...]:
    """A sort key that puts V2 before V10, and letters without regard to case."""
    parts = re.findall(r"[0-9]+|[^0-9]+", text.casefold())
    return tuple((0, int(part), "") if part[0] in "0123456789" else (1, 0, part) for part in parts)
