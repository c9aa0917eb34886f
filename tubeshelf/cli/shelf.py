"""``tubeshelf shelf``: the spares on hand."""

import argparse
import json
from typing import TYPE_CHECKING, Any

from tubeshelf.cli.records import opened

if TYPE_CHECKING:
    from tubeshelf.cli.verbs import Verbs
    from tubeshelf.services.views.shelf import ItemView


def add_parser(verbs: "Verbs") -> None:
    """Adds the verb to the command line."""
    parser = verbs.add_parser(
        "shelf",
        help="the spares on hand",
        description="Lists the spares on hand with bin, readings and verdict.",
        epilog="examples:\n  tubeshelf shelf\n  tubeshelf shelf --type 12AX7 --json",
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("--type", default="", metavar="T", help="only spares of this type")
    parser.add_argument("--json", action="store_true", help="one JSON object a line")


def run(args: argparse.Namespace) -> int:
    """Prints the spares; 0 when answered."""
    from tubeshelf.domain.errors import UserError
    from tubeshelf.services.shelf_search import search

    with opened(args) as shop:
        wanted = shop.book.id_of(args.type) if args.type else None
        if args.type and wanted is None:
            near = ", ".join(shop.book.catalog.near(args.type))
            raise UserError(f"{args.type} is not in the type table{f'; near: {near}' if near else ''}.")
        rows = [row for row in search(shop).rows if wanted is None or row.type_id == wanted]
    for row in rows:
        print(json.dumps(_object(row)) if args.json else _line(row))
    if not rows and not args.json:
        print(f"No {args.type or 'spares'} on the shelf.")
    return 0


def _object(row: "ItemView") -> dict[str, Any]:
    return {
        "tag": row.tag or None,
        "type": row.designation,
        "marked": row.marked,
        "condition": row.condition,
        "bin": row.bin,
        "quantity": row.quantity,
        "promised": row.promised,
        "promised_to": row.promised_to,
        "readings": row.reads,
        "verdict": row.verdict,
        "sure": row.sure,
    }


def _line(row: "ItemView") -> str:
    name = row.tag or f"lot of {row.quantity}"
    return (
        f"{name:10} {row.designation:8} {row.marked:12.12} {row.condition:16.16} {row.bin:6} "
        f"{row.reads:16.16} {row.verdict:10} {row.promised_to}"
    ).rstrip()
