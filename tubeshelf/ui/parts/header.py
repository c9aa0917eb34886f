"""Column titles, and how the columns share the width of the table."""

from collections.abc import Sequence

from PySide6.QtCore import QRect, QSize, Qt
from PySide6.QtGui import QColor, QFontMetrics, QPainter
from PySide6.QtWidgets import QHeaderView, QWidget

from tubeshelf.ui import tokens
from tubeshelf.ui.parts.cellpaint import PAD
from tubeshelf.ui.parts.text import small_font

_ARROW = 12


class Header(QHeaderView):
    """Column titles: small, soft, a hairline below, an arrow on the column that sorts."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(Qt.Orientation.Horizontal, parent)
        self.setHighlightSections(False)
        self.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        self.setMinimumSectionSize(24)
        self.setFixedHeight(tokens.HEADER)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)

    def sectionSizeFromContents(self, section: int) -> QSize:
        """Title and padding, and room for the arrow where columns sort."""
        title = str(self.model().headerData(section, Qt.Orientation.Horizontal) or "")
        words = QFontMetrics(small_font(self.font())).horizontalAdvance(title)
        arrow = _ARROW if self.sectionsClickable() else 0
        return QSize(words + 2 * PAD + arrow, tokens.HEADER)

    def paintSection(self, painter: QPainter, rect: QRect, section: int) -> None:
        """Paint one title."""
        palette, model = tokens.palette_now(), self.model()
        painter.save()
        painter.fillRect(rect, QColor(palette.panel))
        painter.setPen(QColor(palette.line))
        painter.drawLine(rect.bottomLeft(), rect.bottomRight())
        first = self.visualIndex(section) == 0
        space = rect.adjusted(PAD + (tokens.EDGE if first else 0), 0, -PAD, 0)
        font = small_font(self.font())
        painter.setFont(font)
        painter.setPen(QColor(palette.soft))
        align = Qt.AlignmentFlag(
            model.headerData(section, Qt.Orientation.Horizontal, Qt.ItemDataRole.TextAlignmentRole)
        )
        title = str(model.headerData(section, Qt.Orientation.Horizontal) or "")
        if self.sortIndicatorSection() == section and self.sectionsClickable():
            up = self.sortIndicatorOrder() is Qt.SortOrder.AscendingOrder
            title += " ↑" if up else " ↓"
            painter.setPen(QColor(palette.ink))
        metrics = QFontMetrics(font)
        # One more, since the advance was rounded to whole pixels when the room was measured.
        shown = metrics.elidedText(title, Qt.TextElideMode.ElideRight, space.width() + 1)
        painter.drawText(space, align, shown)
        painter.restore()


def share_out(least: Sequence[int], wants: Sequence[int], stretch: Sequence[bool], room: int) -> list[int]:
    """Column widths: all they want if there is room, with the rest to the stretching ones (or the last);
    otherwise each its least and a fair part of what it wants beyond.

    Widths in pixels. The sum is ``room``, unless even the least widths do not fit.
    """
    full = [max(pair) for pair in zip(least, wants, strict=True)]
    spare = room - sum(full)
    if spare >= 0:
        takers = [i for i, yes in enumerate(stretch) if yes] or [len(full) - 1]
        for n, i in enumerate(takers):
            full[i] += spare * (n + 1) // len(takers) - spare * n // len(takers)
        return full
    extra = [f - low for f, low in zip(full, least, strict=True)]
    beyond = max(room - sum(least), 0)
    given = [low + x * beyond // max(sum(extra), 1) for low, x in zip(least, extra, strict=True)]
    given[-1] += max(room - sum(given), 0) if beyond else 0
    return given
