"""The verbs of the command line. A verb's module is imported only when it is called (or help asks for it)."""

import argparse
from collections.abc import Sequence
from importlib import import_module
from typing import Protocol, TypeAlias, cast

from tubeshelf.domain.catalog import Catalog

Verbs: TypeAlias = "argparse._SubParsersAction[argparse.ArgumentParser]"

MODULES = {"fit": "tubeshelf.cli.fit", "type": "tubeshelf.cli.type"}
"""The module of each verb, in the order in which help lists them."""


class CatalogVerb(Protocol):
    """A verb that needs the table of types and no record."""

    def add_parser(self, verbs: Verbs) -> None:
        """Adds the verb to the command line."""

    def run(self, args: argparse.Namespace, catalog: Catalog) -> int:
        """Does it; gives the exit status."""


def module_of(verb: str) -> CatalogVerb:
    """The verb's module, imported now."""
    return cast(CatalogVerb, import_module(MODULES[verb]))


def wanted(argv: Sequence[str]) -> list[str]:
    """The verb that the arguments call, or all of them where they call none."""
    return next(([argument] for argument in argv if argument in MODULES), list(MODULES))
