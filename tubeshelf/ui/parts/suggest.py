"""A field that offers what the record knows while one types."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QStringListModel, Qt, Signal
from PySide6.QtWidgets import QCompleter, QLineEdit


@dataclass(frozen=True, slots=True)
class Offer:
    """One suggestion: how it is listed, what it writes into the field, and the thing itself."""

    words: str
    text: str
    value: object


Finder = Callable[[str], Sequence[Offer]]
"""From the text typed so far to what is on offer."""


class Suggest(QLineEdit):
    """A line to type in; ``chosen`` carries the value of the offer that was taken.

    Down and Enter take one; otherwise the text stays as typed.
    """

    chosen = Signal(object)

    def __init__(self, find: Finder, hint: str = "") -> None:
        super().__init__()
        self._find = find
        self._completer = _Completer(self)
        self._completer.setCompletionMode(QCompleter.CompletionMode.UnfilteredPopupCompletion)
        self._completer.setCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
        self.setCompleter(self._completer)
        self.setPlaceholderText(hint)
        self.textEdited.connect(self._look)
        # The stubs know nothing of overloaded signals.
        self._completer.activated[QModelIndex].connect(self._take)  # type: ignore[index]

    @property
    def offered(self) -> tuple[str, ...]:
        """The words on offer now."""
        return tuple(offer.words for offer in self._completer.offers)

    def _look(self, text: str) -> None:
        self._completer.show_offers(self._find(text.strip()) if text.strip() else ())

    def _take(self, index: QModelIndex) -> None:
        if 0 <= index.row() < len(self._completer.offers):
            self.chosen.emit(self._completer.offers[index.row()].value)


class _Completer(QCompleter):
    def __init__(self, parent: QLineEdit) -> None:
        self._words = QStringListModel()
        super().__init__(self._words, parent)
        self.offers: tuple[Offer, ...] = ()

    def show_offers(self, offers: Sequence[Offer]) -> None:
        self.offers = tuple(offers)
        self._words.setStringList([offer.words for offer in offers])
        popup = self.popup()
        if not offers and popup is not None:
            popup.hide()

    def pathFromIndex(self, index: QModelIndex | QPersistentModelIndex) -> str:
        """What goes into the field: not the words of the list, which say more."""
        row = index.row()
        return self.offers[row].text if 0 <= row < len(self.offers) else ""
