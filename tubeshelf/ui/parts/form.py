"""Forms: a label that names its field, and the error beside the field that caused it."""

from collections.abc import Sequence

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QWheelEvent
from PySide6.QtWidgets import (
    QAbstractSpinBox,
    QCheckBox,
    QComboBox,
    QGridLayout,
    QLabel,
    QLineEdit,
    QPlainTextEdit,
    QStyle,
    QStyleOptionButton,
    QWidget,
)

from tubeshelf.ui import icons, tokens
from tubeshelf.ui.parts.text import label, restyle


class Choice(QComboBox):
    """A choice among a few; does not change when the wheel merely passes over it."""

    def __init__(
        self, options: Sequence[tuple[str, object]] = (), *, name: str = "", frame: bool = False
    ) -> None:
        super().__init__()
        self.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        if frame:
            self.setProperty("role", "frame")
        if name:
            self.setAccessibleName(name)
            self.setToolTip(name)
        self.offer(options)

    def offer(self, options: Sequence[tuple[str, object]]) -> None:
        """Offer these (words, value); keeps the chosen value if it is still among them, and tells nobody."""
        chosen = self.currentData()
        self.blockSignals(True)
        self.clear()
        for words, value in options:
            self.addItem(words, value)
        self.choose(chosen)
        self.blockSignals(False)

    def choose(self, value: object) -> None:
        """Choose by value; an unknown value leaves the first."""
        for i in range(self.count()):
            if self.itemData(i) == value:
                self.setCurrentIndex(i)
                return

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Leave the wheel to the page unless the field is in use."""
        if self.hasFocus():
            super().wheelEvent(event)
        else:
            event.ignore()

    def paintEvent(self, event: QPaintEvent) -> None:
        """The style's frame and words, our arrow."""
        super().paintEvent(event)
        with QPainter(self) as painter:
            box = QRectF(self.width() - 23, (self.height() - 14) / 2, 14, 14)
            icons.paint_mark(painter, box, "chevron-down", tokens.palette_now().soft)


class Tick(QCheckBox):
    """A box to tick; the frame is the style's, the tick ours."""

    def paintEvent(self, event: QPaintEvent) -> None:
        """Frame, words, tick."""
        super().paintEvent(event)
        if self.isChecked():
            option = QStyleOptionButton()
            self.initStyleOption(option)
            box = self.style().subElementRect(QStyle.SubElement.SE_CheckBoxIndicator, option, self)
            with QPainter(self) as painter:
                inside = box.toRectF().adjusted(2, 2, -2, -2)
                icons.paint_mark(painter, inside, "check", tokens.palette_now().on_accent)


class Lines(QPlainTextEdit):
    """A field of several lines, in which Tab goes on to the next field."""

    def __init__(self, lines: int = 4, hint: str = "") -> None:
        super().__init__()
        self._lines = lines
        self.setTabChangesFocus(True)
        self.setPlaceholderText(hint)

    def sizeHint(self) -> QSize:
        """So many lines."""
        return QSize(300, self._lines * self.fontMetrics().lineSpacing() + 24)

    def minimumSizeHint(self) -> QSize:
        """Not fewer."""
        return QSize(120, self.sizeHint().height())


class _Name(QLabel):
    """The name of a field: its underlined letter is not kerned, but Qt measures it as if it were."""

    def sizeHint(self) -> QSize:
        """With a little room at the end."""
        return super().sizeHint() + QSize(3, 0)

    def minimumSizeHint(self) -> QSize:
        """The whole name."""
        return self.sizeHint()


class Form(QWidget):
    """Rows of label and field, with the error sentence of a field under it."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(tokens.MARGIN)
        self._grid.setVerticalSpacing(2)
        self._grid.setColumnStretch(1, 1)
        self._errors: dict[QWidget, QLabel] = {}
        self._beside: dict[QWidget, list[QWidget]] = {}

    def row(self, words: str, field: QWidget, hint: str = "") -> QWidget:
        """Add a field under its label (``&`` marks the key that leads to it); gives the field back."""
        at = self._grid.rowCount()
        name = _Name(words)
        name.setTextFormat(Qt.TextFormat.PlainText)
        name.setBuddy(field)
        name.setMinimumHeight(30)
        below = label("", "error", wrap=True)
        below.hide()
        self._errors[field] = below
        top = (
            Qt.AlignmentFlag.AlignTop if isinstance(field, QPlainTextEdit) else Qt.AlignmentFlag.AlignVCenter
        )
        self._grid.addWidget(name, at, 0, top)
        self._grid.addWidget(field, at, 1)
        self._grid.addWidget(below, at + 1, 1)
        self._beside[field] = [name]
        if hint:
            said = label(hint, "small", wrap=True)
            self._grid.addWidget(said, at + 2, 1)
            self._beside[field].append(said)
        self._grid.setRowMinimumHeight(at + 3, 6)
        field.setAccessibleName(words.replace("&", ""))
        if isinstance(field, QLineEdit):
            field.textEdited.connect(lambda: self._forgive(field))
        elif isinstance(field, QAbstractSpinBox) and (inner := field.findChild(QLineEdit)) is not None:
            # The style sheet's padding does not reach the line within.
            inner.setTextMargins(8, 0, 0, 0)
            inner.textEdited.connect(lambda: self._forgive(field))
        elif isinstance(field, QPlainTextEdit):
            field.textChanged.connect(lambda: self._forgive(field))
        return field

    def show_row(self, field: QWidget, shown: bool) -> None:
        """Show or hide a field with all that belongs to it; a hidden one has no complaint."""
        for widget in (field, *self._beside[field]):
            widget.setVisible(shown)
        if not shown:
            self._forgive(field)

    def complain(self, field: QWidget, sentence: str) -> None:
        """Say beside the field what is wrong, and go there."""
        below = self._errors[field]
        below.setText(sentence)
        below.show()
        restyle(field, "wrong", True)
        field.setAccessibleDescription(sentence)
        field.setFocus()

    def complaint(self, field: QWidget) -> str:
        """What is said beside the field now."""
        return self._errors[field].text()

    def clear(self) -> None:
        """Take back all complaints."""
        for field in self._errors:
            self._forgive(field)

    def _forgive(self, field: QWidget) -> None:
        below = self._errors[field]
        if below.text():
            below.clear()
            below.hide()
            restyle(field, "wrong", False)
            field.setAccessibleDescription("")
