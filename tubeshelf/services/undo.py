"""Taking back the last act, and doing it again."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tubeshelf.domain.errors import UserError
from tubeshelf.services.changes import Changes, Kind
from tubeshelf.store.journal import last_act, last_taken_back
from tubeshelf.store.journal import take_back as reverse

if TYPE_CHECKING:
    from tubeshelf.services.shop import Shop

EVERYTHING = frozenset((kind, 0) for kind in Kind)
"""A reversing act may touch any kind of thing; pages that show one of them read it again."""


def take_back(shop: Shop, *, origin: str = "") -> Changes:
    """Take back the last act that still stands, and say which comes next; UserError if there is none."""
    return _reverse(shop, origin, again=False)


def do_again(shop: Shop, *, origin: str = "") -> Changes:
    """Do again what was taken back last; UserError if nothing was, or something new was done since."""
    return _reverse(shop, origin, again=True)


def _reverse(shop: Shop, origin: str, *, again: bool) -> Changes:
    with shop.record.act("take back") as journal:
        act = (last_taken_back if again else last_act)(journal.connection, shop.record.bench)
        if act is None:
            raise UserError("There is nothing to do again." if again else "There is nothing to take back.")
        words = reverse(journal, act.id)
        act_id = journal.act_id
        following = last_act(journal.connection, shop.record.bench)
    if not again:
        words += f". Next to take back: {following.said}" if following else ". Nothing left to take back"
    shop.forget_types()
    shop.forget_settings()
    return Changes(act_id, words, EVERYTHING, origin)
