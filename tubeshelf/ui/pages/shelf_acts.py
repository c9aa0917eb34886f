"""What can be done on the shelf, with which key, and of what."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from tubeshelf.services.views.shelf import ItemView


@dataclass(frozen=True, slots=True)
class ShelfAct:
    """An act: its name, words, the key that does it on the list, and of what it can be done."""

    name: str
    words: str
    key: str
    can: Callable[[ItemView], bool]


def _here(item: ItemView) -> bool:
    return item.place in ("shelf", "reference")


def _single(item: ItemView) -> bool:
    return not item.lot


def _lot(item: ItemView) -> bool:
    return item.lot and _here(item)


def _typed(item: ItemView) -> bool:
    return item.type_id is not None


ACTS = (
    ShelfAct("read", "Read", "R", _single),
    ShelfAct("tag", "Tag from lot", "T", _lot),
    ShelfAct("move", "Move", "M", _here),
    ShelfAct("promise", "Promise", "P", _here),
    ShelfAct("install", "Install in job", "I", _here),
    ShelfAct("edit", "Edit", "E", lambda item: True),
    ShelfAct("count", "Count", "C", _here),
    ShelfAct("scrap", "Scrap", "X", _here),
    ShelfAct("sell", "Sell", "S", _here),
    ShelfAct("par", "Par", "A", _typed),
    ShelfAct("set", "Matched set", "K", lambda item: _single(item) and _here(item)),
    ShelfAct("give", "Give back", "G", lambda item: bool(item.owner)),
)
FIRST = ("read", "tag", "move", "promise", "install", "edit")
"""The acts with a button of their own; the others are in the menu beside them."""

_NOT = {
    "read": "Tag a tube of this lot first (T): a reading belongs to one tube.",
    "tag": "Only a lot on the shelf is tagged: this tube has its tag already.",
    "par": "Say first what type it is (E): a par belongs to a type.",
    "set": "A matched set is made of single tubes on the shelf: tag tubes of the lot first (T).",
    "give": "This is the shop’s own: nobody to give it back to.",
}


def why_not(act: ShelfAct, item: ItemView) -> str:
    """Why an act cannot be done of this, in a sentence."""
    return _NOT.get(act.name, f"It is not on the shelf now, but {item.place}: look at its time line.")


def keys_for(item: ItemView) -> Sequence[tuple[str, str]]:
    """The (key, words) that work on this."""
    return [(act.key, act.words.lower()) for act in ACTS if act.can(item)]
