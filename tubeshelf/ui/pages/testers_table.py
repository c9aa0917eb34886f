"""Entry in the cells of a table: Return keeps a cell and goes on to the next, what is refused stays open."""

from PySide6.QtCore import QEvent, QModelIndex, QObject, QPersistentModelIndex, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QAbstractItemDelegate,
    QAbstractItemView,
    QLineEdit,
    QStyleOptionViewItem,
    QWidget,
)

from tubeshelf.ui.models.cells import Index
from tubeshelf.ui.parts.tableview import CellDelegate, Table
from tubeshelf.ui.parts.text import restyle

_Hint = QAbstractItemDelegate.EndEditHint
_Move = QAbstractItemView.CursorAction
_STEPS = {
    Qt.Key.Key_Return: _Hint.EditNextItem,
    Qt.Key.Key_Enter: _Hint.EditNextItem,
    Qt.Key.Key_Tab: _Hint.EditNextItem,
    Qt.Key.Key_Backtab: _Hint.EditPreviousItem,
}


class CellEditor(QLineEdit):
    """The field that stands in a cell while it is edited."""

    def __init__(self, parent: QWidget, index: Index) -> None:
        super().__init__(parent)
        self.index = QPersistentModelIndex(index)
        self.kept = False
        self.setProperty("role", "cell")
        self.setAccessibleName(str(index.model().headerData(index.column(), Qt.Orientation.Horizontal)))

    def keep(self) -> bool:
        """Hand the text to the model; False if that refused it."""
        model = self.index.model()
        self.kept = self.kept or model is None or model.setData(self.index, self.text())
        restyle(self, "wrong", not self.kept)
        return self.kept


class EntryDelegate(CellDelegate):
    """Edits cells. ``left`` when an editor was left by Escape."""

    left = Signal()

    def createEditor(self, parent: QWidget, option: QStyleOptionViewItem, index: Index) -> QWidget:
        """The field."""
        return CellEditor(parent, index)

    def setEditorData(self, editor: QWidget, index: Index) -> None:
        """What the cell holds, once: what is typed is not overwritten."""
        if isinstance(editor, CellEditor) and not editor.isModified():
            editor.setText(str(index.data(Qt.ItemDataRole.EditRole) or ""))

    def updateEditorGeometry(self, editor: QWidget, option: QStyleOptionViewItem, index: Index) -> None:
        """The whole cell."""
        editor.setGeometry(option.rect.adjusted(1, 1, -1, -2))

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Return and Tab keep and go on; losing the focus keeps; what is refused stays as it was typed."""
        if not isinstance(watched, CellEditor):
            return super().eventFilter(watched, event)
        if isinstance(event, QKeyEvent) and event.type() == QEvent.Type.KeyPress:
            if event.key() in _STEPS and watched.keep():
                self.closeEditor.emit(watched, _STEPS[Qt.Key(event.key())])
            elif event.key() == Qt.Key.Key_Escape:
                watched.kept = True
                self.closeEditor.emit(watched, _Hint.RevertModelCache)
                self.left.emit()
            return event.key() in (*_STEPS, Qt.Key.Key_Escape)
        if event.type() == QEvent.Type.FocusOut:
            if not watched.kept and watched.keep():
                self.closeEditor.emit(watched, _Hint.NoHint)
            return False
        return super().eventFilter(watched, event)


class EntryTable(Table):
    """A table whose cells are typed into. Walking on passes over cells that stay as they are."""

    def __init__(self, name: str) -> None:
        super().__init__(name, compact=True, cell_focus=True)
        self.entry = EntryDelegate(self)
        self.setItemDelegate(self.entry)
        trigger = QAbstractItemView.EditTrigger
        self.setEditTriggers(trigger.AnyKeyPressed | trigger.EditKeyPressed | trigger.DoubleClicked)
        self.opened.connect(lambda: self.edit(self.currentIndex()))

    def editor(self) -> CellEditor | None:
        """The field that is open."""
        return next((x for x in self.viewport().findChildren(CellEditor) if not x.kept), None)

    def moveCursor(self, action: _Move, modifiers: Qt.KeyboardModifier) -> QModelIndex:
        """Next and previous are cells that can be typed into, row after row; at the end there is none."""
        if action not in (_Move.MoveNext, _Move.MovePrevious):
            return super().moveCursor(action, modifiers)
        model, at = self.model(), self.currentIndex()
        wide = model.columnCount()
        step = 1 if action is _Move.MoveNext else -1
        cells = range(at.row() * wide + at.column() + step, model.rowCount() * wide if step > 0 else -1, step)
        found = (model.index(cell // wide, cell % wide) for cell in cells)
        return next((i for i in found if i.flags() & Qt.ItemFlag.ItemIsEditable), QModelIndex())
