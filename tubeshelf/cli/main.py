"""The command line: reads the arguments, calls the verb, gives the exit status."""

import argparse
import io
import os
import sys
from collections.abc import Callable, Sequence
from contextlib import suppress

from tubeshelf import __version__
from tubeshelf.cli.verbs import module_of, wanted
from tubeshelf.domain.errors import UserError

EXAMPLES = """examples:
  tubeshelf                        opens the window
  tubeshelf demo                   builds an invented workshop and opens the window on it
  tubeshelf fit 12AX7 ECC83        may an ECC83 stand in a 12AX7 socket?
  tubeshelf substitutes 5Y3GT      what else may go into a 5Y3GT socket?
  tubeshelf type 5Y3GT             what the table says of a type
  tubeshelf job 214 --json         one job, socket by socket
  tubeshelf heaters 214            its heaters as designed, as found and as planned
  tubeshelf retube 214 --to r.pdf  its retube list on paper
  tubeshelf shelf --type 12AX7     the spares of a type

The program advises. Tubes work at lethal voltages: follow your local codes, and where the law
asks for a qualified or licensed person, that person decides."""


def main(
    argv: Sequence[str], *, open_window: Callable[[str | None], int], has_display: Callable[[], bool]
) -> int:
    """Runs one command: 0 answered, 1 for what the user can put right, said in one sentence on stderr.

    Without a verb it opens the window on the named record. Raises SystemExit as argparse does: 2 for bad
    usage, 0 after help and version.
    """
    _never_choke_on_a_character()
    try:
        args = _parser(argv).parse_args(argv)
        args.open_window, args.has_display = open_window, has_display
        status = open_window(args.record) if args.verb is None else module_of(args.verb).run(args)
        if sys.stdout is not None:  # closed by the caller, or a program without a console
            sys.stdout.flush()
    except UserError as error:
        print(f"tubeshelf: {error.sentence}", file=sys.stderr)
        return 1
    except OSError as error:
        _keep_python_from_flushing_again()
        if not isinstance(error, BrokenPipeError):  # the reader (such as head) has seen enough
            print(f"tubeshelf: {_refused(error)}", file=sys.stderr)
        return 1
    except KeyboardInterrupt:
        return 130
    return status


def _refused(error: OSError) -> str:
    """What the system refused: mostly an answer that goes to a full disk."""
    what = f"{error.strerror or error}{f' ({error.filename})' if error.filename else ''}"
    return f"The system refused what was asked, so the answer is not complete: {what}."


def _keep_python_from_flushing_again() -> None:
    with suppress(OSError, ValueError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def _parser(argv: Sequence[str]) -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="tubeshelf",
        description="Bench records for people who service vacuum-tube equipment.",
        epilog=EXAMPLES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("--version", action="version", version=f"tubeshelf {__version__}")
    record = "the shop's record, where it is not the usual one"
    parser.add_argument("--record", metavar="PATH", help=record)
    verbs = parser.add_subparsers(dest="verb", metavar="VERB", title="verbs")
    for verb in wanted(argv):
        module_of(verb).add_parser(verbs)
        # Without a default, so that what stands before the verb is kept.
        verbs.choices[verb].add_argument("--record", metavar="PATH", default=argparse.SUPPRESS, help=record)
    return parser


def _never_choke_on_a_character() -> None:
    """On a terminal without µ print a question mark instead of failing."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="replace")
