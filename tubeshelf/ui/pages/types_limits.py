"""What a type is to read: its setting lines with their limits, and how its tubes lie against them."""

from collections.abc import Mapping, Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QVBoxLayout, QWidget

from tubeshelf.domain.judging import Limit, Scale
from tubeshelf.services.figures import figure_words
from tubeshelf.services.views.types import Distribution, SettingLineView, TesterDetail
from tubeshelf.ui.parts.buttons import Link
from tubeshelf.ui.parts.form import Choice
from tubeshelf.ui.parts.histogram import Histogram, HistogramView
from tubeshelf.ui.parts.scale import ScaleView
from tubeshelf.ui.parts.sheet import section
from tubeshelf.ui.parts.text import label

_NONE = "No tester of the shop has a setting for it: L adds one."


class LimitsPart(QWidget):
    """A line for each setting line; its tester is a link that leads to changing it."""

    line_wanted = Signal(object)

    def __init__(self) -> None:
        super().__init__()
        self._grid = QGridLayout()
        self._grid.setHorizontalSpacing(12)
        self._grid.setVerticalSpacing(0)
        self._grid.setColumnStretch(2, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        column.addLayout(self._grid)

    def show_lines(self, lines: Sequence[SettingLineView], testers: Mapping[str, TesterDetail]) -> None:
        """Show these."""
        while (item := self._grid.takeAt(0)) is not None:
            if (old := item.widget()) is not None:
                old.hide()
                old.deleteLater()
        for row, line in enumerate(lines):
            go = Link(line.tester)
            go.setAccessibleName(f"Change {line.tester} {line_name(line)}".strip())
            go.clicked.connect(lambda _=False, line=line: self.line_wanted.emit(line))
            scale = testers[line.tester].scale if line.tester in testers else Scale()
            self._grid.addWidget(go, row, 0, Qt.AlignmentFlag.AlignLeft)
            self._grid.addWidget(label(line_name(line), "small"), row, 1)
            self._grid.addWidget(label(limit_words(line.limit, scale), "small", wrap=True), row, 2)
        if not lines:
            self._grid.addWidget(label(_NONE, "small", wrap=True), 0, 0, 1, 3)


class ReadingsPart(QWidget):
    """The readings of the type's tubes on one line, over its zones; which line can be chosen."""

    def __init__(self) -> None:
        super().__init__()
        self._spreads: tuple[Distribution, ...] = ()
        self._testers: Mapping[str, TesterDetail] = {}
        self._title = section("Readings of its tubes")
        self.which = Choice(name="On which line")
        self.which.currentIndexChanged.connect(lambda: self._draw())
        self.histogram = Histogram()
        self.top = QHBoxLayout()
        self.top.addWidget(self._title, 1)
        self.top.addWidget(self.which)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        column.addLayout(self.top)
        column.addWidget(self.histogram)

    @property
    def chosen(self) -> Distribution | None:
        """The readings on show."""
        at = self.which.currentData()
        return self._spreads[at] if isinstance(at, int) and at < len(self._spreads) else None

    def words_of(self, spread: Distribution) -> tuple[str, ...]:
        """The words of the scale on which they were read."""
        tester = self._testers.get(spread.tester)
        return () if tester is None else tester.scale.words

    def show_readings(self, spreads: Sequence[Distribution], testers: Mapping[str, TesterDetail]) -> None:
        """Show these; nothing where none was read."""
        self._spreads, self._testers = tuple(spreads), testers
        self.which.offer([(spread_name(spread), i) for i, spread in enumerate(spreads)])
        self.which.setVisible(len(spreads) > 1)
        self.setVisible(bool(spreads))
        self._draw()

    def _draw(self) -> None:
        spread = self.chosen
        if spread is None:
            return
        single = f", {spread_name(spread)}" if len(self._spreads) == 1 else ""
        self._title.setText(f"Readings of its tubes{single}")
        limit = spread.limit or Limit(None, None)
        scale = ScaleView(
            limit.good_from,
            limit.reject_below,
            limit.bogey,
            unit=spread.unit,
            words=self.words_of(spread),
        )
        self.histogram.show_view(HistogramView(scale, spread.values))


def line_name(line: SettingLineView) -> str:
    """A line by its label, else by the section it reads."""
    return line.label or (f"section {line.section}" if line.section else "")


def spread_name(spread: Distribution) -> str:
    """Tester, line and unit."""
    return ", ".join(part for part in (spread.tester, spread.line, spread.unit) if part)


def limit_words(limit: Limit | None, scale: Scale) -> str:
    """A limit in words: ``good from 1,200, reject below 960 µmho, bogey 1,600``."""
    if limit is None:
        return "no limit: read, not judged"
    parts = [
        f"{words} {figure_words(value, limit, scale)}"
        for words, value in (
            ("good from", limit.good_from),
            ("reject below", limit.reject_below),
            ("bogey", limit.bogey),
            ("remark above", limit.above),
        )
        if value is not None
    ]
    said = ", ".join(parts) + (f" {scale.unit}" if scale.unit and parts else "")
    return f"{said} (default rule)" if limit.derived else said
