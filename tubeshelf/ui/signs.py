"""The five keys of the number pad that drive the bench, and which key each of them is on this computer.

They are kept with the window and not in the record: which keys a pad has depends on the pad that lies there.
"""

from collections.abc import Mapping
from dataclasses import asdict, dataclass, fields

from PySide6.QtCore import QSettings, Qt
from PySide6.QtGui import QKeyEvent

from tubeshelf.domain.errors import UserError

ENTER = "Enter"
_NAMED: Mapping[int, str] = {
    Qt.Key.Key_Return: ENTER,
    Qt.Key.Key_Enter: ENTER,
    Qt.Key.Key_Insert: "Insert",
    Qt.Key.Key_Home: "Home",
    Qt.Key.Key_End: "End",
    Qt.Key.Key_PageUp: "Page Up",
    Qt.Key.Key_PageDown: "Page Down",
}
KEYS = ("+", "-", "*", "/", ENTER, "=", ";", "#", "'", "[", "]", *list(_NAMED.values())[2:])
"""What may drive the bench: neither figures nor point and comma, which are readings, nor letters."""

_GROUP = "signs"


@dataclass(frozen=True, slots=True)
class Signs:
    """Which key goes on, says as intended (or read again), goes back, takes back, opens the marks."""

    enter: str = ENTER
    plus: str = "+"
    minus: str = "-"
    slash: str = "/"
    star: str = "*"

    def check(self) -> None:
        """UserError with one sentence where two do not go together."""
        taken: dict[str, str] = {}
        for act, key in asdict(self).items():
            if key not in KEYS:
                raise UserError(f"{key} cannot be the key for “{ACTS[act]}”: choose one of those on offer.")
            if key in taken:
                other = ACTS[taken[key]]
                raise UserError(f"{shown(key)} is “{other}” already: choose another key for “{ACTS[act]}”.")
            taken[key] = act

    def act_of(self, event: QKeyEvent) -> str:
        """Which of the five a key press is, empty for none. Enter goes on unless it is another of them."""
        modifiers = event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier
        named = _NAMED.get(event.key(), "") if not modifiers else ""
        key = named or event.text()
        for act, own in asdict(self).items():
            if key and own == key:
                return act
        return "enter" if named == ENTER else ""


USUAL = Signs()
"""The five as they are printed on a number pad."""

ACTS: Mapping[str, str] = {
    "enter": "go on",
    "plus": "as intended, read again",
    "minus": "back one",
    "slash": "take back",
    "star": "marks",
}
"""What each of the five does, in words."""


def shown(key: str) -> str:
    """A key as a key cap shows it."""
    return "−" if key == "-" else key


def stored_signs(settings: QSettings) -> Signs:
    """The keys as they were chosen on this computer; the usual ones where those do not go together."""
    usual = asdict(Signs())
    chosen = Signs(**{act: str(settings.value(f"{_GROUP}/{act}", key)) for act, key in usual.items()})
    try:
        chosen.check()
    except UserError:
        return Signs()
    return chosen


def store_signs(settings: QSettings, signs: Signs) -> None:
    """Keep the keys with the window."""
    for field in fields(signs):
        settings.setValue(f"{_GROUP}/{field.name}", getattr(signs, field.name))
