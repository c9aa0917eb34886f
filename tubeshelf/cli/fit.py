"""``tubeshelf fit``: may this type stand in that socket?"""

import argparse
import json
from pathlib import Path
from typing import TYPE_CHECKING

from tubeshelf.cli.socket_options import add_socket_options, facts_of
from tubeshelf.domain import words
from tubeshelf.domain.errors import shortened
from tubeshelf.domain.fitting import FitJudgement
from tubeshelf.services import fitting
from tubeshelf.services.types_lookup import shipped_catalog

if TYPE_CHECKING:
    from tubeshelf.cli.verbs import Verbs

EXAMPLES = """examples:
  tubeshelf fit 12AX7 ECC83
  tubeshelf fit 50L6GT 35L6GT --circuit series
  tubeshelf fit 12AX7 6DJ8 --heater-pins 4+5-9
  tubeshelf fit 5Y3GT 5AR4 --supply 350 --capacitor 450
  tubeshelf fit --pairs sockets.csv --json     (columns intended, found and, if you like, circuit)"""


def add_parser(verbs: "Verbs") -> None:
    """Adds the verb to the command line."""
    parser = verbs.add_parser(
        "fit",
        help="may this type stand in that socket?",
        description="Judges a type found in a socket against the type the socket is meant for.",
        epilog=EXAMPLES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("intended", nargs="?", metavar="INTENDED", help="the type the socket is meant for")
    parser.add_argument("found", nargs="?", metavar="FOUND", help="the type that is in it")
    parser.add_argument("--pairs", type=Path, metavar="FILE.csv", help="judge every row of a CSV file")
    parser.add_argument("--json", action="store_true", help="one JSON object a line")
    add_socket_options(parser)
    parser.set_defaults(refuse=parser.error)


def run(args: argparse.Namespace) -> int:
    """Judges and prints; 0 when answered. Two types or a file: anything else ends with status 2."""
    if args.pairs is not None and args.intended is not None:
        args.refuse("name two types or a file of pairs, not both")
    if args.pairs is None and not ((args.intended or "").strip() and (args.found or "").strip()):
        args.refuse("name the intended and the found type, or a file with --pairs")
    catalog, facts = shipped_catalog(), facts_of(args)
    if args.pairs is None:
        judgement = fitting.judge_pair(catalog=catalog, intended=args.intended, found=args.found, facts=facts)
        print(_as_json(judgement) if args.json else as_text(judgement))
        return 0
    rows = fitting.read_pairs(path=args.pairs)
    for judgement in fitting.judge_pairs(catalog=catalog, rows=rows, facts=facts):
        print(_as_json(judgement) if args.json else _as_line(judgement))
    return 0


def _as_json(judgement: FitJudgement) -> str:
    return json.dumps(
        {
            "intended": judgement.intended,
            "found": judgement.found,
            "outcome": str(judgement.outcome),
            "decided_by": str(judgement.decided_by),
            "conditions": list(judgement.conditions),
            "reasons": [{"rule": r.rule, "text": words.say(r)} for r in judgement.reasons],
        }
    )


def _as_line(judgement: FitJudgement) -> str:
    """One line of a list: the pair, the outcome and the worst reason."""
    pair = f"{judgement.found} for {judgement.intended}"
    worst = words.say(judgement.reasons[0])
    return f"{pair:24} {words.outcome_word(judgement.outcome):20} {worst}"


def as_text(judgement: FitJudgement) -> str:
    """The judgement for a reader: the outcome, its reasons, what to mind."""
    outcome = words.outcome_word(judgement.outcome)
    lines = [
        f"{shortened(judgement.found)} in a socket for {shortened(judgement.intended)}: {outcome}",
        f"decided by: {judgement.decided_by}",
    ]
    lines += [f"  - {shortened(words.say(reason))}" for reason in judgement.reasons]
    if judgement.conditions:
        lines += ["conditions:", *(f"  - {condition}" for condition in judgement.conditions)]
    return "\n".join(lines)
