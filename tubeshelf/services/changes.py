"""What a service call changed, so that the window can show it without asking again."""

from dataclasses import dataclass
from enum import StrEnum


class Kind(StrEnum):
    """The kinds of thing that a page may show."""

    JOB = "job"
    ITEM = "item"
    TYPE = "type"
    TESTER = "tester"
    CUSTOMER = "customer"
    MODEL = "model"
    SETTING = "setting"


@dataclass(frozen=True, slots=True)
class Changes:
    """Which things one act changed, in words for the status line, and which page began it.

    ``act_id`` is what take-back refers to. An empty ``things`` means that nothing was written.
    """

    act_id: int
    said: str
    things: frozenset[tuple[Kind, int]] = frozenset()
    origin: str = ""

    def touches(self, kind: Kind, thing_id: int | None = None) -> bool:
        """Whether a thing of this kind (that one, if an id is given) changed."""
        return any(k is kind and thing_id in (None, i) for k, i in self.things)
