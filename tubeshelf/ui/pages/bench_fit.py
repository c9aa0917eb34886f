"""The fit in the detail: its reasons and conditions, and the bases from below that show what differs."""

from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QBoxLayout, QVBoxLayout, QWidget

from tubeshelf.domain.fitting import Outcome
from tubeshelf.domain.types import TubeType
from tubeshelf.services.views.bench import FitView, SocketView
from tubeshelf.ui import tokens
from tubeshelf.ui.marks import MarkLabel, fit_look
from tubeshelf.ui.parts.base import BasePicture
from tubeshelf.ui.parts.pins import base_view, differing_pins
from tubeshelf.ui.parts.sheet import clear, section
from tubeshelf.ui.parts.text import label

_BESIDE = 440
"""From this width on two bases stand beside each other if no word is cut, else one above the other."""


class FitPart(QWidget):
    """Why a tube fits or does not; nothing where it is simply the right one."""

    def __init__(self) -> None:
        super().__init__()
        self._mark = MarkLabel()
        self._lines = QVBoxLayout()
        self._lines.setSpacing(2)
        self._shown: object = None
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        column.addWidget(section("Fit"))
        column.addWidget(self._mark)
        column.addLayout(self._lines)

    def show_fit(self, fit: FitView | None, other_name: str) -> None:
        """Show a fit with every reason, worst first, and what it depends on.

        ``other_name`` is the one sentence that a right tube under another name needs.
        """
        right = fit is not None and fit.outcome is Outcome.RIGHT_TYPE and not fit.conditions
        self.setVisible(fit is not None and not (right and not other_name))
        if fit is None or (fit, other_name) == self._shown:
            return
        self._shown = (fit, other_name)
        self._mark.show_look(fit_look(fit.outcome))
        clear(self._lines)
        for sentence in (other_name,) if right else (reason.text for reason in fit.reasons):
            self._lines.addWidget(label(sentence, wrap=True))
        for condition in fit.conditions:
            self._lines.addWidget(label(f"Provided: {condition}", "small", wrap=True))


class BasePart(QWidget):
    """The base of the intended type; beside it that of the found one, in both the pins marked that differ."""

    def __init__(self) -> None:
        super().__init__()
        self._titles = (section(""), section(""))
        self._pictures = (BasePicture(), BasePicture())
        self._sides = QBoxLayout(QBoxLayout.Direction.TopToBottom, self)
        self._sides.setContentsMargins(0, 0, 0, 0)
        self._sides.setSpacing(tokens.GAP)
        self._second = QWidget()
        for side, title, picture in zip((QWidget(), self._second), self._titles, self._pictures, strict=True):
            column = QVBoxLayout(side)
            column.setContentsMargins(0, 0, 0, 0)
            column.setSpacing(6)
            column.addWidget(title)
            column.addWidget(picture)
            column.addStretch(1)
            self._sides.addWidget(side)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Another width may have room for two beside each other."""
        self._lay_out()
        super().resizeEvent(event)

    def _lay_out(self) -> None:
        widths = [picture.whole_width for picture in self._pictures]
        beside = self.width() >= max(_BESIDE, tokens.GAP + sum(widths))
        for side, width in enumerate(widths):
            self._sides.setStretch(side, width if beside else 0)
        way = QBoxLayout.Direction.LeftToRight if beside else QBoxLayout.Direction.TopToBottom
        if way != self._sides.direction():
            self._sides.setDirection(way)

    def show_bases(self, socket: SocketView, intended: TubeType | None, found: TubeType | None) -> None:
        """Show the base a socket is wired for, and how the tube in it differs."""
        known = intended is not None and bool(intended.basing.pins)
        self.setVisible(known)
        if intended is None or not known:
            return
        other = found.basing if found is not None and found.basing.pins else None
        differs = other is not None and bool(differing_pins(intended.basing, other))
        self._titles[0].setText(
            f"Base from below: wired for {socket.intended}" if differs else "Base from below"
        )
        self._pictures[0].show_view(base_view(intended.basing, other))
        if found is not None and other is not None and differs:
            self._titles[1].setText(f"The {found.designation} in it; filled pins differ")
            self._pictures[1].show_view(base_view(other, intended.basing))
        self._second.setVisible(differs)
        self._lay_out()
