"""What stands in the row in hand: the field one types into, the sentence in the line, the names on offer."""

from collections.abc import Callable, Sequence

from PySide6.QtCore import QPoint, QRect, QSize, Qt, Signal
from PySide6.QtGui import QAccessible, QAccessibleEvent, QColor, QKeyEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QFrame, QLineEdit, QListWidget, QVBoxLayout, QWidget

from tubeshelf.domain.catalog import Catalog
from tubeshelf.domain.designations import fold
from tubeshelf.paper.fonts import tabular
from tubeshelf.ui import tokens
from tubeshelf.ui.parts.text import restyle
from tubeshelf.ui.signs import Signs

_ACTS = {Qt.Key.Key_Escape: "escape", Qt.Key.Key_Up: "up", Qt.Key.Key_Down: "down"}
_CONTROL = Qt.KeyboardModifier.ControlModifier
_REDO = ((_CONTROL, Qt.Key.Key_Y), (_CONTROL | Qt.KeyboardModifier.ShiftModifier, Qt.Key.Key_Z))
_MOST_NAMES = 6


class EntryField(QLineEdit):
    """The one field of the page. ``key`` carries what is no typing: enter, plus, star, minus, slash, …

    ``signs_now`` says on which keys these are. While a type is ``naming``, the signs that may be part of a
    name are letters like any other once something is typed.
    """

    key = Signal(str)

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.naming = False
        self.signs_now: Callable[[], Signs] = Signs
        self.setMaxLength(40)
        self.setContextMenuPolicy(Qt.ContextMenuPolicy.NoContextMenu)

    @property
    def signs(self) -> Signs:
        """The five keys as they are now."""
        return self.signs_now()

    def dress(self, *, naming: bool, small: bool) -> None:
        """Look like a field for a type or for a reading; ``small`` leaves room for other readings."""
        self.naming = naming
        restyle(self, "role", "reading" if naming or small else "inhand")
        size = tokens.BODY + 1 if naming else tokens.READING + 1 if small else tokens.READING_IN_HAND - 4
        self.setFont(tabular(self.font(), pixels=size))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Keys of the bench; everything else is typing."""
        act = self._act(event)
        if act:
            self.key.emit(act)
        else:
            super().keyPressEvent(event)

    def _act(self, event: QKeyEvent) -> str:
        modifiers = event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier
        if modifiers == _CONTROL and event.key() == Qt.Key.Key_Z:
            return "undo"
        if (modifiers, event.key()) in _REDO:
            return "redo"
        if modifiers & ~Qt.KeyboardModifier.ShiftModifier:
            return ""
        if not modifiers and event.key() in _ACTS:
            return _ACTS[Qt.Key(event.key())]
        if not self.text() and event.key() in (Qt.Key.Key_Left, Qt.Key.Key_Right):
            return "minus" if event.key() == Qt.Key.Key_Left else "right"
        if self.naming and self.text() and event.text() in ("-", "/"):
            return ""
        return self.signs.act_of(event)


class LineNote(QWidget):
    """A question or a refusal, in the line it is about: covers the rest of the row in hand."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._tone = ""
        self.text = ""
        self.hide()

    def ask(self, question: str) -> None:
        """A question that Enter answers with yes."""
        self._say(question, "accent")

    def fail(self, sentence: str) -> None:
        """Why the entry was not taken."""
        self._say(sentence, "reject")

    def tell(self, sentence: str) -> None:
        """Something to know."""
        self._say(sentence, "soft")

    def clear(self) -> None:
        """Nothing to say any more."""
        self.text = ""
        self.hide()

    def fit_into(self, row: QRect, left: int) -> None:
        """Cover the row from ``left`` on; a long sentence reaches below it."""
        width = row.right() - left
        box = self.fontMetrics().boundingRect(QRect(0, 0, width - 24, 400), _FLOW, self.text)
        height = max(row.height() - 2, box.height() + 10)
        self.setGeometry(left, row.top() + 1, width, height)

    def paintEvent(self, event: QPaintEvent) -> None:
        """The ground of the row in hand, an edge in the tone, the words."""
        palette = tokens.palette_now()
        with QPainter(self) as painter:
            painter.fillRect(self.rect(), QColor(palette.selected))
            painter.fillRect(QRect(4, 8, 3, self.height() - 16), QColor(palette.tone(self._tone)))
            painter.setPen(QColor(palette.reject if self._tone == "reject" else palette.ink))
            painter.drawText(self.rect().adjusted(16, 2, -8, -2), _FLOW, self.text)

    def _say(self, sentence: str, tone: str) -> None:
        self.text, self._tone = sentence, tone
        font = self.font()
        font.setPixelSize(tokens.SMALL + 1)
        self.setFont(font)
        self.setAccessibleName(sentence)
        self.show()
        self.raise_()
        self.update()
        QAccessible.updateAccessibility(QAccessibleEvent(self, QAccessible.Event.Alert))


_FLOW = int(Qt.AlignmentFlag.AlignVCenter | Qt.TextFlag.TextWordWrap)


class NameList(QFrame):
    """Names from the type table below the field; never takes the focus. Nothing is chosen until asked for."""

    picked = Signal(str)

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._over = parent
        self.setProperty("role", "popup")
        self._list = QListWidget()
        self._list.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._list.setAccessibleName("Names from the type table")
        self._list.itemClicked.connect(lambda item: self.picked.emit(item.data(Qt.ItemDataRole.UserRole)))
        column = QVBoxLayout(self)
        column.setContentsMargins(4, 4, 4, 4)
        column.addWidget(self._list)
        self.hide()

    @property
    def names(self) -> tuple[str, ...]:
        """What is on offer now."""
        return tuple(self._list.item(i).data(Qt.ItemDataRole.UserRole) for i in range(self._list.count()))

    @property
    def chosen(self) -> str:
        """The name that Down or Up has come to; empty for none."""
        item = self._list.currentItem() if self.isVisible() else None
        return "" if item is None else str(item.data(Qt.ItemDataRole.UserRole))

    def offer(self, names: Sequence[tuple[str, str]], below: QWidget) -> None:
        """Offer (name, what it is) under a field, or above it where there is no room; none hides the list."""
        self._list.clear()
        for name, what in names:
            self._list.addItem(f"{name}   {what}")
            self._list.item(self._list.count() - 1).setData(Qt.ItemDataRole.UserRole, name)
        self._list.setCurrentRow(-1)
        self.setVisible(bool(names))
        if not names:
            return
        rows = len(names) * max(self._list.sizeHintForRow(0), 1) + 12
        self.resize(QSize(max(self._list.sizeHintForColumn(0) + 24, below.width()), rows))
        at = below.mapTo(self._over, QPoint(0, below.height() + 2))
        if at.y() + rows > self._over.height():
            at = below.mapTo(self._over, QPoint(0, -rows - 2))
        self.move(at)
        self.raise_()

    def step(self, by: int) -> None:
        """Down or up among the names."""
        count = self._list.count()
        row = self._list.currentRow()
        self._list.setCurrentRow((row + by) % count if row >= 0 else (0 if by > 0 else count - 1))


def offered(catalog: Catalog, typed: str) -> list[tuple[str, str]]:
    """Names to offer for what is typed so far: those that begin so, else those that look like it."""
    begun = fold(typed)
    if not begun:
        return []
    names = sorted(
        (name, tube.function)
        for tube in catalog.types()
        if not tube.retired
        for name in (tube.designation, *tube.equivalents)
        if fold(name).startswith(begun)
    )
    if not names and len(begun) > 2:
        found = [(name, catalog.find(name)) for name in catalog.near(typed)]
        names = [(name, tube.function) for name, tube in found if tube is not None]
    names.sort(key=lambda pair: len(pair[0]))
    return names[:_MOST_NAMES]
