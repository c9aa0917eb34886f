"""Buttons that show their shortcut; with them, those of the frame."""

from PySide6.QtCore import QRect, QSize, Qt
from PySide6.QtGui import QColor, QFontMetrics, QKeySequence, QPainter, QPaintEvent, QShortcut
from PySide6.QtWidgets import QPushButton, QStyle, QStyleOptionButton

from tubeshelf.ui import icons, tokens
from tubeshelf.ui.parts.framebuttons import IconButton, Link, shown_keys

__all__ = ["Act", "IconButton", "Link", "shown_keys"]

_GAP = 8


class Act(QPushButton):
    """A button with its words and, softer, the key that does the same.

    ``primary`` is for the one next step of a page. The shortcut works wherever the button can be seen.
    """

    def __init__(
        self, words: str, shortcut: str = "", *, primary: bool = False, icon: str = "", shown: str = ""
    ) -> None:
        super().__init__(words)
        self._keys = shown or shown_keys(shortcut)
        self._icon = icon
        self.setProperty("role", "primary" if primary else "plain")
        if shortcut:
            # Not the button's own shortcut: that would replace the mnemonic of its words.
            QShortcut(QKeySequence(shortcut), self).activated.connect(self.click)
        self.setAccessibleDescription(self._keys)

    def sizeHint(self) -> QSize:
        """Room for words and key."""
        hint = super().sizeHint()
        beside = _GAP + self.fontMetrics().horizontalAdvance(self._keys) if self._keys else 0
        return hint + QSize(beside + (20 if self._icon else 0) + 2, 0)

    def minimumSizeHint(self) -> QSize:
        """Never narrower than its words."""
        return self.sizeHint()

    def paintEvent(self, event: QPaintEvent) -> None:
        """The frame is the style's; the words are ours, in two strengths."""
        option = QStyleOptionButton()
        self.initStyleOption(option)
        option.text = ""
        palette = tokens.palette_now()
        primary = self.property("role") == "primary"
        ink = palette.on_accent if primary else palette.ink
        soft = palette.on_accent if primary else palette.soft
        if not self.isEnabled():
            ink = soft = palette.soft
        with QPainter(self) as painter:
            self.style().drawControl(QStyle.ControlElement.CE_PushButtonBevel, option, painter, self)
            font = self.font()
            font.setBold(primary)
            words, keys = QFontMetrics(font), self.fontMetrics()
            flags = Qt.TextFlag.TextShowMnemonic | Qt.AlignmentFlag.AlignVCenter
            width = words.size(Qt.TextFlag.TextShowMnemonic, self.text()).width()
            mark = 20 if self._icon else 0
            beside = _GAP + keys.horizontalAdvance(self._keys) if self._keys else 0
            left = (self.width() - mark - width - beside) // 2
            if mark:
                icons.paint_mark(
                    painter, QRect(left, (self.height() - 16) // 2, 16, 16).toRectF(), self._icon, ink
                )
            painter.setFont(font)
            painter.setPen(QColor(ink))
            painter.drawText(QRect(left + mark, 0, width + 2, self.height()), int(flags), self.text())
            painter.setFont(self.font())
            painter.setPen(QColor(soft))
            at = QRect(left + mark + width + _GAP, 0, beside + 2, self.height())
            painter.drawText(at, int(Qt.AlignmentFlag.AlignVCenter), self._keys)
