"""``tubeshelf demo``: an invented workshop to look at, in the window or on paper."""

import argparse
import os
import tempfile
from collections.abc import Iterator
from contextlib import suppress
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from tubeshelf.cli.records import opened
from tubeshelf.domain.errors import UserError
from tubeshelf.paper.machine import check_libraries

if TYPE_CHECKING:
    from tubeshelf.cli.verbs import Verbs
    from tubeshelf.services.shop import Shop

NAME = "demo.tubeshelf"


def add_parser(verbs: "Verbs") -> None:
    """Adds the verb to the command line."""
    parser = verbs.add_parser(
        "demo",
        help="an invented workshop to look at",
        description="Builds the record of an invented workshop and opens the window on it.\n"
        "Without a display it writes the papers of the open jobs beside the record\n"
        "and prints their retube lists.",
        epilog="examples:\n  tubeshelf demo\n  tubeshelf demo --to workshop --no-window",
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument(
        "--to", type=Path, metavar="DIR", help="the folder to build it in; a new temporary one if not said"
    )
    parser.add_argument("--no-window", action="store_true", help="write the papers, open no window")
    parser.add_argument("--page", choices=("A4", "Letter"), default="A4", help="the size of the paper")


def run(args: argparse.Namespace) -> int:
    """Builds the demo and shows it; 0 when it was shown.

    Raises UserError where there is a demo already or the folder cannot be written.
    """
    if args.record:
        raise UserError("The demo makes a record of its own: say with --to DIR in which folder.")
    check_libraries()  # of Qt, for window and papers: not told after the demo has been built
    record = _folder(args.to) / NAME
    if record.exists():
        raise UserError(f"{record} is there already: delete it, or choose another folder with --to.")
    print(f"Building the demo in {record} …", flush=True)
    _build(record)
    args.record = str(record)
    if not args.no_window and args.has_display():
        return int(args.open_window(args.record))
    with opened(args) as shop:
        _on_paper(shop, record.parent, args.page)
    if not args.no_window:
        print("There is no display here, so no window was opened.")
    print(f"The record is {record}; open it with: tubeshelf --record {record}")
    return 0


def _folder(asked: Path | None) -> Path:
    """The folder to build in, which exists from now on."""
    if asked is None:
        return Path(tempfile.mkdtemp(prefix="tubeshelf-demo-"))
    folder = asked.expanduser().absolute()
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        why = error.strerror or "no reason given"
        raise UserError(f"The folder {folder} cannot be made ({why}): choose another with --to.") from error
    if not os.access(folder, os.W_OK | os.X_OK):
        raise UserError(f"The folder {folder} is read-only for you: choose another with --to.")
    return folder


def _build(record: Path) -> None:
    from tubeshelf.bootstrap import open_record
    from tubeshelf.services.demo.build import build_demo

    try:
        build_demo(
            lambda clock: open_record(str(record), clock=clock, lasting=False),
            today=date.today(),
        )
    except BaseException:  # half a workshop would only be in the way of the next try
        for part in ("", "-wal", "-shm"):
            with suppress(OSError):
                record.with_name(record.name + part).unlink()
        raise


def _on_paper(shop: "Shop", folder: Path, page: str) -> None:
    """Writes the papers of all open jobs, prints the retube lists, and says where the papers are."""
    from tubeshelf.cli.retube_text import retube_text
    from tubeshelf.services.jobs import list_jobs
    from tubeshelf.services.papers import retube_list

    numbers = {head.number: head.id for head in list_jobs(shop)}
    for number in sorted(numbers):
        print(f"\n{retube_text(retube_list(shop, job_id=numbers[number]))}\n")
    print("\nThe papers:")
    for path in _papers(shop, numbers, folder, page):
        print(f"  {path}")


def _papers(shop: "Shop", numbers: dict[int, int], folder: Path, page: str) -> Iterator[Path]:
    """Each paper's file, once it is written."""
    from tubeshelf.paper.orders import order_document
    from tubeshelf.paper.output import to_pdf
    from tubeshelf.paper.retube import retube_document
    from tubeshelf.paper.statement import statement_document
    from tubeshelf.services.papers import order_paper, retube_list, statement

    documents = {"order-list": order_document(order_paper(shop))}
    for number, job_id in sorted(numbers.items()):
        documents[f"retube-list-{number}"] = retube_document(retube_list(shop, job_id=job_id))
        documents[f"statement-{number}"] = statement_document(statement(shop, job_id=job_id))
    for name, document in documents.items():
        path = folder / f"{name}.pdf"
        to_pdf(document, path, page)
        yield path
