"""``tubeshelf retube``: the retube list of a job as PDF."""

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

from tubeshelf.cli.records import opened
from tubeshelf.domain.errors import UserError

if TYPE_CHECKING:
    from tubeshelf.cli.verbs import Verbs


def add_parser(verbs: "Verbs") -> None:
    """Adds the verb to the command line."""
    parser = verbs.add_parser(
        "retube",
        help="the retube list of a job as PDF",
        description="Writes the retube list of a job as PDF. A PDF of that name is replaced.",
        epilog="examples:\n  tubeshelf retube 9 --to r.pdf\n"
        "  tubeshelf retube 9 --to r.pdf --page Letter --map both",
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("number", type=int, metavar="NUMBER", help="the job's number")
    parser.add_argument("--to", type=Path, required=True, metavar="FILE.pdf", help="where to write it")
    parser.add_argument(
        "--map",
        choices=("above", "below", "both"),
        default="above",
        help="from where the chassis is drawn; from below left and right are exchanged",
    )
    parser.add_argument("--page", choices=("A4", "Letter"), default="A4", help="the size of the paper")


def run(args: argparse.Namespace) -> int:
    """Writes the paper; 0 when it is written.

    Raises UserError for a name that no paper has: a file already there is replaced, and nothing but a paper
    should be.
    """
    from tubeshelf.paper.output import to_pdf
    from tubeshelf.paper.retube import retube_document
    from tubeshelf.paper.socketmap import Side
    from tubeshelf.services.jobs import open_job
    from tubeshelf.services.papers import retube_list

    to = args.to.expanduser()
    if to.suffix.lower() != ".pdf":
        raise UserError(
            f"The paper is a PDF: name a file that ends in .pdf, such as {to.stem or 'retube'}.pdf."
        )
    with opened(args) as shop:
        job = open_job(shop, number=args.number)
        paper = retube_list(shop, job_id=job.id)
    to_pdf(retube_document(paper, Side[args.map.upper()]), to, args.page)
    print(f"Retube list of job {args.number} written to {to}")
    return 0
