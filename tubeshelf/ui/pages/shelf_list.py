"""The list of the shelf: tubes and lots, where each lies, what it read, for whom it is kept."""

from collections.abc import Sequence
from dataclasses import replace

from PySide6.QtCore import Signal
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QAbstractItemView

from tubeshelf.domain.money import format_money
from tubeshelf.services.views.shelf import ItemView, ShelfView
from tubeshelf.ui.marks import mark_cell, verdict_look
from tubeshelf.ui.models.cells import NOTHING, Cell, Column
from tubeshelf.ui.parts.buttons import Link
from tubeshelf.ui.parts.listsheet import ListSheet

FIRST = (
    "Nothing is on the shelf yet. Receive tubes one by one or as a counted lot, and they stand here with "
    "their bin, reading and price."
)
NONE_FOUND = "Nothing on the shelf has all the words typed above. Type fewer, or receive what came in."

_NOT_READ = "not read"
_CLAIMED = "Its condition as somebody claimed it, which is no reading"


class ShelfList(ListSheet[ItemView]):
    """The shelf; a figure typed begins a tag, and ``all_wanted`` asks for the rest of the rows."""

    all_wanted = Signal()

    searched_by_figures = True

    def __init__(self) -> None:
        super().__init__(
            "Tubes and lots", _COLUMNS, lambda item: item.id, nothing=FIRST, new="Receive", icon="shelf"
        )
        self.folded = False
        self.table.setSelectionMode(QAbstractItemView.SelectionMode.ExtendedSelection)
        self._all = Link("Show all")
        self._all.clicked.connect(self.all_wanted)
        self.counts = self.with_counts(self._all)

    def show_shelf(self, view: ShelfView, *, searched: bool) -> None:
        """Show these rows."""
        self.empty.say(NONE_FOUND if searched else FIRST)
        self._count(view)
        self.show_rows(view.rows)
        self.table.setColumnHidden(_PROMISED, not any(row.promised for row in view.rows))
        self.table.allot()

    def chosen(self) -> Sequence[ItemView]:
        """Every row that is selected, in the order of the list."""
        rows = sorted(index.row() for index in self.table.selectionModel().selectedRows())
        return tuple(self.model.rows[row] for row in rows)

    def showEvent(self, event: QShowEvent) -> None:
        """In a narrow window the keys are those of the half that is on show."""
        super().showEvent(event)
        if self.folded:
            self.table.setFocus()

    def _count(self, view: ShelfView) -> None:
        shown = len(view.rows)
        cut = shown < view.total
        if cut:
            self.counts.show_counts((shown, f"of {view.total:,} shown, narrow the search"))
        else:
            lots = [row.quantity for row in view.rows if row.lot]
            tubes = shown - len(lots)
            self.counts.show_counts((tubes, "tube" if tubes == 1 else "tubes"), *_lots(lots))
        self._all.setVisible(cut)


def _lots(quantities: list[int]) -> list[tuple[int, str]]:
    if not quantities:
        return []
    word = "lot" if len(quantities) == 1 else "lots"
    return [(len(quantities), f"{word} of {sum(quantities):,} together")]


def _tag(item: ItemView) -> Cell:
    if item.lot:
        return Cell("lot", f"{item.quantity:,} tubes" if item.quantity != 1 else "1 tube", bold=True)
    return Cell(item.tag, "" if item.matched_set is None else f"set {item.matched_set}", bold=True)


def _marked(item: ItemView) -> Cell:
    date = item.date_code and f"date {item.date_code}"
    if item.marked and item.marked != item.designation:
        return Cell(item.marked, ", ".join(filter(None, (item.brand, date))))
    return (
        Cell(item.brand or date, date if item.brand else "", tone="soft") if item.brand or date else NOTHING
    )


def _condition(item: ItemView) -> Cell:
    return Cell(item.condition, "premium" if item.premium else "", tone="soft")


def _reads(item: ItemView) -> Cell:
    if not item.reads:
        return Cell("–", align="right", tone="soft")
    return Cell(item.reads, align="right", big=True)


def _verdict(item: ItemView) -> Cell:
    if item.verdict == _NOT_READ:
        return Cell("not all read" if item.reads else "not read yet", tone="soft")
    look = verdict_look(item.verdict, item.doubt)
    if not item.doubt:
        return mark_cell(look, item.verdict_note)
    # In two lines, for which the column has the room.
    word = verdict_look(item.verdict).word
    return mark_cell(replace(look, word=word), item.doubt, tip=f"{item.verdict}, {item.verdict_note}")


def _place(item: ItemView) -> Cell:
    return Cell(item.bin) if item.bin else Cell(item.place, tone="soft")


def _promise(item: ItemView) -> Cell:
    if not item.promised:
        return NOTHING
    job, _, position = item.promised_to.partition(", ")
    several = f"{item.promised} of {item.quantity}" if item.lot else ""
    return Cell(job, position or several, tip=f"promised to {item.promised_to}")


def _price(item: ItemView) -> Cell:
    if item.price is None:
        return Cell("–", align="right", tone="soft")
    each = "each" if item.lot else ""
    return Cell(format_money(item.price), each, align="right")


_COLUMNS = (
    Column[ItemView]("Tag", 64, _tag, keep=True, sort=lambda i: (i.lot, len(i.tag), i.tag, i.id)),
    Column[ItemView]("Type", 68, lambda i: Cell(i.designation), keep=True, sort=lambda i: i.designation),
    Column[ItemView]("Marked", 84, _marked, stretch=True, sort=lambda i: i.marked.casefold()),
    Column[ItemView]("Claimed", 92, _condition, stretch=True, sort=lambda i: i.condition, tip=_CLAIMED),
    Column[ItemView]("Last reading", 104, _reads, align="right", tip="Section by section"),
    Column[ItemView]("Verdict", 120, _verdict, keep=True, sort=lambda i: i.verdict),
    Column[ItemView]("Bin", 48, _place, keep=True, sort=lambda i: i.bin.casefold()),
    Column[ItemView]("Promised", 76, _promise, keep=True, sort=lambda i: i.promised_to),
    Column[ItemView]("Price", 64, _price, align="right", sort=lambda i: -1 if i.price is None else i.price),
)
_PROMISED = next(at for at, column in enumerate(_COLUMNS) if column.title == "Promised")
