"""The sheet: paper with a hairline and rounded corners, on which everything stands."""

from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QScrollArea, QVBoxLayout, QWidget

from tubeshelf.ui import tokens
from tubeshelf.ui.parts.text import label, rule


class Sheet(QFrame):
    """A sheet with an optional title line, a body, and an optional foot below a hairline.

    ``flush`` lets the body reach the hairline, as tables do; ``scrolls`` is for details that may be
    longer than the window.
    """

    def __init__(self, title: str = "", *, flush: bool = False, scrolls: bool = False) -> None:
        super().__init__()
        self.setProperty("role", "sheet")
        self._frame = QVBoxLayout(self)
        self._frame.setContentsMargins(1, 1, 1, 1)
        self._frame.setSpacing(0)
        self.title = label(title, "heading", wrap=True)
        if not title:
            self.title.hide()
        inside = _Inside() if scrolls else QWidget()
        inside.setProperty("role", "clear")
        self.body = QVBoxLayout(inside)
        margin = 0 if flush else tokens.MARGIN
        self.body.setContentsMargins(margin, margin - 2 if margin else 0, margin, margin)
        self.body.setSpacing(tokens.GAP)
        self.body.addWidget(self.title)
        self._frame.addWidget(_scrolling(inside) if scrolls else inside, 1)

    def foot(self) -> QHBoxLayout:
        """The foot of the sheet, made on first use: counts at the left, the next step at the right."""
        self._frame.addWidget(rule())
        row = QHBoxLayout()
        row.setContentsMargins(tokens.MARGIN - 2, tokens.GAP, tokens.MARGIN - 2, tokens.GAP)
        row.setSpacing(tokens.MARGIN)
        self._frame.addLayout(row)
        return row

    def set_title(self, title: str) -> None:
        """Another title; none hides the line."""
        self.title.setText(title)
        self.title.setVisible(bool(title))


class Counts(QWidget):
    """Counts at the foot of a list: a bold number and its words, some of them."""

    def __init__(self) -> None:
        super().__init__()
        self._row = QHBoxLayout(self)
        self._row.setContentsMargins(0, 0, 0, 0)
        self._row.setSpacing(5)

    def show_counts(self, *counts: tuple[int, str]) -> None:
        """Show these; nothing else."""
        clear(self._row)
        for number, words in counts:
            self._row.addWidget(label(f"{number:,}", "strong"))
            self._row.addWidget(label(words, "soft"))
            self._row.addSpacing(14)
        self._row.addStretch(1)


def clear(layout: QHBoxLayout | QVBoxLayout) -> None:
    """Take everything out of a row or a column."""
    while (item := layout.takeAt(0)) is not None:
        if (widget := item.widget()) is not None:
            widget.hide()
            widget.deleteLater()


def section(words: str) -> QLabel:
    """The small heading of a part of a sheet."""
    return label(words, "label", wrap=True)


class _Inside(QWidget):
    """What scrolls: as high as its words need at the width they have, not at the narrowest one.

    Without this an area that scrolls ends in blank paper, since wrapped words ask for most where they are
    narrowest.
    """

    def minimumSizeHint(self) -> QSize:
        """The least width; the height follows from the width."""
        return QSize(super().minimumSizeHint().width(), 0)


def _scrolling(inside: QWidget) -> QScrollArea:
    area = QScrollArea()
    area.setWidget(inside)
    area.setWidgetResizable(True)
    area.setFrameShape(QFrame.Shape.NoFrame)
    area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    area.viewport().setAutoFillBackground(False)
    area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    inside.setAutoFillBackground(False)
    return area
