"""``tubeshelf heaters``: the heaters of a job's set as designed, as found and as planned."""

import argparse
import json
from typing import TYPE_CHECKING

from tubeshelf.cli.records import opened

if TYPE_CHECKING:
    from tubeshelf.cli.verbs import Verbs

EPILOG = """examples:
  tubeshelf heaters 214
  tubeshelf heaters 214 --json

With --json one object: job, title, circuits, loose, warnings. A circuit has name, circuit (parallel or
series), supply_v, rating_a (null where not written down) and the states designed, found and planned.
  of a winding  amperes, share (of the rating, else of the designed load; 1 is all of it), overloaded (null
                where what is unknown could decide), unknown, loads (position, type, state, amperes, percent
                of rated volts), sentences, warnings
  of a string   amperes (null where something is unknown, 0 where it is open), dropper_v, dropper_w,
                ballast_v, ballast_holds, lamp (at, rated_v, volts), tubes (position, type, rated_v, volts,
                percent_off), high_line (line_v, and the same at the highest line), dropper (volts, ohms,
                watts that would be right), unknown, open_at, sentences, warnings
loose are sockets without a written circuit, by volts: positions, designed_a, found_a, planned_a, unknown.
warnings name circuit and state (found or planned). All is a first-order estimate."""


def add_parser(verbs: "Verbs") -> None:
    """Adds the verb to the command line."""
    parser = verbs.add_parser(
        "heaters",
        help="the heaters of a job's set as designed, found and planned",
        description="Shows what each heater winding and string of a job's set has to deliver, and what each "
        "tube gets: as designed, as found and as planned.",
        epilog=EPILOG,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("number", type=int, metavar="NUMBER", help="the job's number")
    parser.add_argument("--json", action="store_true", help="one JSON object")


def run(args: argparse.Namespace) -> int:
    """Prints the heaters; 0 when answered."""
    from tubeshelf.services.heaters import job_heaters

    with opened(args) as shop:
        heaters = job_heaters(shop, number=args.number)
    if args.json:
        from tubeshelf.cli.heaters_json import as_object

        print(json.dumps(as_object(heaters), ensure_ascii=False))
        return 0
    from tubeshelf.cli.heaters_text import as_text

    print(as_text(heaters))
    return 0
