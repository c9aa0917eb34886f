"""The list of types: what each is, its heater, how many are on hand."""

from collections.abc import Sequence

from tubeshelf.services.views.types import TypeRow
from tubeshelf.ui.models.cells import NOTHING, Cell, Column
from tubeshelf.ui.pages.types_words import origin_word
from tubeshelf.ui.parts.listsheet import ListSheet

NONE_FOUND = (
    "No type has all the words typed above among its names, function or base. Type fewer, or add it as one "
    "of your own."
)


class TypeList(ListSheet[TypeRow]):
    """The types; a figure typed begins a designation."""

    searched_by_figures = True

    def __init__(self) -> None:
        super().__init__(
            "Types", _COLUMNS, lambda row: row.type_id, nothing=NONE_FOUND, new="New type", icon="types"
        )
        self.counts = self.with_counts()

    def show_types(self, rows: Sequence[TypeRow], total: int) -> None:
        """Show these rows of so many types."""
        kinds = sum(row.on_hand > 0 for row in rows)
        shown = (len(rows), f"of {total:,} types") if len(rows) < total else (total, "types")
        self.counts.show_counts(shown, (kinds, "of them on hand"))
        self.show_rows(rows)
        self.table.setColumnHidden(_ORIGIN, not any(origin_word(row) for row in rows))
        self.table.allot()
        self.table.scrollTo(self.table.currentIndex())


def _name(row: TypeRow) -> Cell:
    return Cell(row.designation, ", ".join(row.equivalents), bold=True)


def _function(row: TypeRow) -> Cell:
    return Cell(row.function, row.base)


def _heater(row: TypeRow) -> Cell:
    first, _, rest = row.heater.partition(" or ")
    return Cell(first, f"or {rest}" if rest else "") if first else NOTHING


def _on_hand(row: TypeRow) -> Cell:
    words = f"{row.on_hand:,} on hand, {row.free:,} free"
    if not row.on_hand:
        return Cell("–", align="right", tone="soft", tip="none on hand")
    sub = "all free" if row.free == row.on_hand else f"{row.free:,} free"
    return Cell(f"{row.on_hand:,}", sub, align="right", bold=True, tip=words)


def _table(row: TypeRow) -> Cell:
    word = origin_word(row)
    return Cell(word, tone="soft" if row.retired else "accent", small=True)


_COLUMNS = (
    Column[TypeRow]("Type", 96, _name, stretch=True, sort=lambda r: r.designation),
    Column[TypeRow]("Function", 110, _function, stretch=True, sort=lambda r: (r.function, r.designation)),
    Column[TypeRow]("Heater", 96, _heater, sort=lambda r: r.heater),
    Column[TypeRow]("On hand", 72, _on_hand, align="right", sort=lambda r: r.on_hand),
    Column[TypeRow]("", 64, _table, keep=True, sort=origin_word, tip="Own, changed here, or retired"),
)
_ORIGIN = len(_COLUMNS) - 1
