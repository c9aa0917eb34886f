"""``tubeshelf substitutes``: what may go into a socket?"""

import argparse
import json
import textwrap
from collections.abc import Iterator
from typing import TYPE_CHECKING

from tubeshelf.cli.socket_options import add_socket_options, facts_of
from tubeshelf.domain import words
from tubeshelf.domain.ranking import Candidate, Standing
from tubeshelf.services import fitting
from tubeshelf.services.types_lookup import shipped_catalog

if TYPE_CHECKING:
    from tubeshelf.cli.verbs import Verbs

EXAMPLES = """examples:
  tubeshelf substitutes 12AX7
  tubeshelf substitutes 50L6GT --circuit series --json
  tubeshelf substitutes 6L6GC --bias fixed --supply 400

--json gives for each: intended, type, standing, outcome, grade (null where it is not listed),
conditions, and reasons with rule and text."""
WIDTH = 96
"""Columns of a terminal that a line may take."""
_LEGEND = """right: the type itself · as good, serves, in a pinch: listed as a substitute
compare: not listed, no difference that matters in the table · with a check: a wrong type until checked"""


def add_parser(verbs: "Verbs") -> None:
    """Adds the verb to the command line."""
    parser = verbs.add_parser(
        "substitutes",
        help="what may go into a socket for that type?",
        description="Lists the types of the table that may go into a socket, best first, and on what terms.",
        epilog=EXAMPLES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("type", metavar="TYPE", help="the type the socket is meant for, by any of its names")
    parser.add_argument("--json", action="store_true", help="one JSON object a line")
    add_socket_options(parser)
    parser.set_defaults(refuse=parser.error)


def run(args: argparse.Namespace) -> int:
    """Prints the candidates; 0, or UserError where the table has no such type. No name ends with 2."""
    if not args.type.strip():
        args.refuse("name the type that the socket is meant for")
    found = fitting.candidates(catalog=shipped_catalog(), intended=args.type, facts=facts_of(args))
    if args.json:
        for candidate in found:
            print(json.dumps(_facts(args.type, candidate)))
        return 0
    print(f"What may go into a socket for {args.type}, heaters in {_WIRED[args.circuit]}:\n")
    for candidate in found:
        print("\n".join(_lines(candidate)))
    print(f"\n{_LEGEND}")
    return 0


_WIRED = {"parallel": "parallel", "series": "a series string"}


def _facts(intended: str, candidate: Candidate) -> dict[str, object]:
    judgement = candidate.judgement
    return {
        "intended": intended,
        "type": candidate.tube.designation,
        "standing": str(candidate.standing),
        "outcome": str(judgement.outcome),
        "grade": candidate.grade,
        "conditions": list(judgement.conditions),
        "reasons": [{"rule": r.rule, "text": words.say(r)} for r in judgement.reasons],
    }


def _lines(candidate: Candidate) -> Iterator[str]:
    """Standing and type, and behind them, broken where they are long, reasons and conditions."""
    head = f"{candidate.standing:14}{candidate.tube.designation:10}"
    told = "; ".join(_told(candidate)) or "-"
    for number, line in enumerate(textwrap.wrap(told, WIDTH - len(head))):
        yield f"{head if number == 0 else ' ' * len(head)}{line}"


def _told(candidate: Candidate) -> Iterator[str]:
    if candidate.standing is Standing.RIGHT:
        also = ", ".join(candidate.tube.equivalents)
        yield f"also called {also}" if also else "the designed type"
    if candidate.standing is Standing.WITH_A_CHECK:
        yield from map(words.say, candidate.judgement.reasons[:1])
    yield from candidate.judgement.conditions
