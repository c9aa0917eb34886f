"""The setting lines of one tester as a table that can be edited: each cell is kept as it is entered."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from PySide6.QtCore import QModelIndex, QObject, Qt, Signal

from tubeshelf.domain.errors import UserError
from tubeshelf.domain.judging import Scale
from tubeshelf.services.changes import Changes
from tubeshelf.services.field_errors import FieldErrors
from tubeshelf.services.figures import figure_words
from tubeshelf.services.limit_form import limit_fields, read_limit
from tubeshelf.services.setting_lines import save_line, setting_lines
from tubeshelf.services.views.types import SettingLineView, TesterDetail
from tubeshelf.ui.models.cells import Cell, Column, Index, RowsModel

if TYPE_CHECKING:
    from tubeshelf.services.shop import Shop

TITLES = {
    "bogey": "Bogey",
    "good_from": "Good",
    "reject_below": "Reject",
    "above": "Above",
    "source": "Source",
}
_TIPS = {
    "good_from": "Good from this figure on",
    "reject_below": "Rejected below this figure",
    "above": "Remarked on above this figure",
}
_LIMIT = ("bogey", "good_from", "reject_below", "above", "source")
_NEW = 0
_NO_FIGURE = "A source belongs to a limit: type good from or reject below first."


@dataclass(frozen=True, slots=True)
class LineRow:
    """A setting line, or the one that is being begun and has no type yet."""

    line: SettingLineView | None

    @property
    def key(self) -> int:
        """What tells the row again."""
        return _NEW if self.line is None else self.line.id


@dataclass(frozen=True)  # without slots, as Column is
class LineColumn(Column[LineRow]):
    """A column with the name under which its cell is kept; one of the tester's own fields is a ``dial``."""

    name: str = ""
    dial: bool = False


class LinesModel(RowsModel[LineRow]):
    """``wrote`` carries the Changes of a cell, ``refused`` the sentence that says why one was not taken."""

    wrote = Signal(object)
    refused = Signal(str)

    def __init__(self, shop: "Shop", tester: TesterDetail, parent: QObject | None = None) -> None:
        super().__init__(columns_for(tester), key=lambda row: row.key, parent=parent)
        self._shop, self.tester = shop, tester

    def show_lines(self, lines: Sequence[SettingLineView]) -> None:
        """Show these lines; one that was being begun goes."""
        self.replace([LineRow(line) for line in sorted(lines, key=lambda x: (x.designation, x.position))])

    def begin_line(self) -> QModelIndex:
        """Add a row without a type, once, and give the cell for it."""
        row = self.row_of(_NEW)
        if row is None:
            row = len(self._rows)
            self.beginInsertRows(QModelIndex(), row, row)
            self._rows.append(LineRow(None))
            self.endInsertRows()
        return self.index(row, 0)

    def drop_begun(self) -> None:
        """Take away a row that has got no type."""
        row = self.row_of(_NEW)
        if row is not None:
            self.beginRemoveRows(QModelIndex(), row, row)
            del self._rows[row]
            self.endRemoveRows()

    def flags(self, index: Index) -> Qt.ItemFlag:
        """The type of a line stays; of one that is begun it comes first."""
        row = self.row_at(index)
        flags = super().flags(index)
        if row is not None and (row.line is None) == (index.column() == 0):
            flags |= Qt.ItemFlag.ItemIsEditable
        return flags

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """Also the text to edit."""
        if role == Qt.ItemDataRole.EditRole:
            row = self.row_at(index)
            column = self.columns[index.column()]
            assert isinstance(column, LineColumn)
            return "" if row is None or row.line is None else cell_text(row.line, column, self.tester.scale)
        return super().data(index, role)

    def setData(self, index: Index, value: object, role: int = Qt.ItemDataRole.EditRole) -> bool:
        """Keep what was typed in a cell; False, with a sentence, if it was not taken."""
        row, typed = self.row_at(index), str(value).strip()
        if role != Qt.ItemDataRole.EditRole or row is None:
            return False
        column = self.columns[index.column()]
        assert isinstance(column, LineColumn)
        if row.line is not None and typed == cell_text(row.line, column, self.tester.scale):
            self.refused.emit("")
            return True
        try:
            line_id, changes = self._begin(typed) if row.line is None else self._keep(row.line, column, typed)
        except FieldErrors as errors:
            self.refused.emit(_sentence(errors, column))
            return False
        except UserError as error:
            self.refused.emit(error.sentence)
            return False
        self._read_again(index.row(), line_id)
        self.refused.emit("")
        self.wrote.emit(changes)
        return True

    def _begin(self, typed: str) -> tuple[int, Changes]:
        type_id = self._shop.book.id_of(typed) if typed else None
        if type_id is None:
            near = ", ".join(self._shop.book.catalog.near(typed)) if typed else ""
            more = f": near it are {near}" if near else ": add it on the Types page first"
            raise UserError(
                f"{typed} is not in the type table{more}." if typed else "Type the type, such as 12AX7."
            )
        quantity = "" if self.tester.scale.words else self.tester.method
        return save_line(
            self._shop, tester_id=self.tester.id, type_id=type_id, quantity=quantity, origin="testers"
        )

    def _keep(self, line: SettingLineView, column: LineColumn, typed: str) -> tuple[int, Changes]:
        scale = self.tester.scale
        texts = limit_fields(line.limit, scale)
        if column.name in _LIMIT and not column.dial:
            texts |= {column.name: typed, "dated": self._shop.today.isoformat()}
        limit = read_limit(texts, scale)
        if limit is None and texts["source"] and column.name == "source":
            raise FieldErrors({"source": _NO_FIGURE})
        own = {} if column.dial else {column.name: typed}
        return save_line(
            self._shop,
            line_id=line.id,
            label=own.get("label", line.label),
            section=own.get("section", line.section),
            quantity=line.quantity,
            fields={**dict(line.fields), **({column.name: typed} if column.dial else {})},
            limit=limit,
            expected_version=line.version,
            origin="testers",
        )

    def _read_again(self, row: int, line_id: int) -> None:
        lines = setting_lines(self._shop, tester_id=self.tester.id)
        self._rows[row] = LineRow(next(line for line in lines if line.id == line_id))
        self.dataChanged.emit(self.index(row, 0), self.index(row, len(self.columns) - 1))


def columns_for(tester: TesterDetail) -> tuple[LineColumn, ...]:
    """Type, label and section, what is dialled in, the limit."""
    scale = tester.scale

    def column(name: str, title: str, width: int, *, dial: bool = False, right: bool = False) -> LineColumn:
        made: LineColumn = LineColumn(
            title,
            width,
            lambda row: _cell(row, made, scale),
            align="right" if right else "left",
            stretch=name == "source" and not dial,
            keep=name == "type",
            tip=title if dial else _TIPS.get(name, ""),
            name=name,
            dial=dial,
        )
        return made

    return (
        column("type", "Type", 72),
        column("label", "Label", 64),
        column("section", "Section", 44),
        *(column(name, name, 48, dial=True) for name in tester.field_names),
        *(column(name, TITLES[name], 52, right=not scale.words) for name in _LIMIT[:-1]),
        column("source", "Source", 84),
    )


def cell_text(line: SettingLineView, column: LineColumn, scale: Scale) -> str:
    """What a cell holds, as it is edited; nothing for what the default rule made."""
    if column.dial:
        return dict(line.fields).get(column.name, "")
    if column.name in _LIMIT:
        return limit_fields(line.limit, scale)[column.name]
    return {"type": line.designation, "label": line.label, "section": line.section}[column.name]


def _cell(row: LineRow, column: LineColumn, scale: Scale) -> Cell:
    if row.line is None:
        return Cell("type …" if column.name == "type" else "", tone="soft")
    line, limit = row.line, row.line.limit
    text = cell_text(line, column, scale)
    if column.dial or column.name not in _LIMIT:
        return Cell(text, bold=column.name == "type")
    derived = limit is not None and limit.derived
    if column.name == "source":
        none = "default rule" if derived else "no limit" if limit is None else ""
        return Cell(text, tone="") if text else Cell(none, tone="soft", small=True)
    value = None if limit is None else getattr(limit, column.name)
    if limit is None or value is None:
        return Cell("", align=column.align)
    said = figure_words(value, limit, scale)
    tip = f"{said}, from the default rule" if derived else ""
    return Cell(said, align=column.align, tone="soft" if derived else "", tip=tip)


def _sentence(errors: FieldErrors, column: LineColumn) -> str:
    if column.name in errors.fields:
        return errors.fields[column.name]
    name, said = next(iter(errors.fields.items()))
    return f"{TITLES.get(name, name)}: {said}"
