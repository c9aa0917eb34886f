"""The verbs of the command line. A verb's module is imported only when it is called (or help asks for it)."""

import argparse
from collections.abc import Sequence
from importlib import import_module
from typing import Protocol, TypeAlias, cast

Verbs: TypeAlias = "argparse._SubParsersAction[argparse.ArgumentParser]"

_VERBS = ("demo", "job", "heaters", "retube", "shelf", "fit", "substitutes", "type")
MODULES = {verb: f"tubeshelf.cli.{verb}" for verb in _VERBS}
"""The module of each verb, in the order in which help lists them."""


class Verb(Protocol):
    """A verb of the command line.

    Besides its own arguments it finds ``record``, ``open_window`` and ``has_display`` in ``args``.
    """

    def add_parser(self, verbs: Verbs) -> None:
        """Adds the verb to the command line."""

    def run(self, args: argparse.Namespace) -> int:
        """Does it; gives the exit status."""


def module_of(verb: str) -> Verb:
    """The verb's module, imported now."""
    return cast(Verb, import_module(MODULES[verb]))


def wanted(argv: Sequence[str]) -> list[str]:
    """The verb that the arguments call; all for help or a word that is no verb; none for the window."""
    words = [
        word
        for word, before in zip(argv, ("", *argv), strict=False)
        if not word.startswith("-") and before != "--record"
    ]
    if words and words[0] in MODULES:
        return [words[0]]
    return list(MODULES) if words or not {"-h", "--help"}.isdisjoint(argv) else []
