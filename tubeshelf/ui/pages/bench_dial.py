"""The line in hand in the detail: what to dial in, the scale with its needle, the readings taken."""

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from tubeshelf.domain.errors import UserError
from tubeshelf.domain.jobs import FoundState
from tubeshelf.domain.judging import LineVerdict, Stage
from tubeshelf.domain.numbers import format_number, parse_number
from tubeshelf.domain.types import TubeType
from tubeshelf.domain.verdict import (
    GUARD,
    balance_percent,
    like_sections,
    nearest_limit,
    standard_uncertainty,
)
from tubeshelf.domain.verdict_words import spread_text
from tubeshelf.services.earlier import EarlierView
from tubeshelf.services.views.bench import LineView, ReadingView, SocketView
from tubeshelf.ui.pages.bench_rows import reads_elsewhere
from tubeshelf.ui.parts.buttons import Link
from tubeshelf.ui.parts.facts import Facts
from tubeshelf.ui.parts.scale import Earlier, ScalePicture, ScaleView
from tubeshelf.ui.parts.sheet import clear, section
from tubeshelf.ui.parts.text import label

_EARLIER = 2


class DialPart(QWidget):
    """Dial-in values, scale and readings of one setting line.

    ``strike`` carries the id of a reading that was a slip, ``testers`` is asked for where no line is
    written down.
    """

    strike = Signal(int)
    testers = Signal()

    def __init__(self) -> None:
        super().__init__()
        self._line: LineView | None = None
        self._socket_id: int | None = None
        self._before: tuple[EarlierView, ...] = ()
        self._dial_title = section("Dial in")
        self._dial = Facts()
        self._no_line = label("", "small", wrap=True)
        self._add = Link("Write one down on the Testers page")
        self._add.clicked.connect(self.testers)
        self._scale_title = section("")
        self._scale = ScalePicture()
        self._text = label("", wrap=True)
        self._readings = QVBoxLayout()
        self._readings.setSpacing(0)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(6)
        upper: tuple[QWidget, ...] = (self._dial_title, self._dial, self._no_line, self._add)
        self._lower: tuple[QWidget, ...] = (self._scale_title, self._scale, self._text)
        for part in upper[:-1]:
            column.addWidget(part)
        column.addWidget(self._add, 0, Qt.AlignmentFlag.AlignLeft)
        column.addSpacing(4)
        for part in self._lower:
            column.addWidget(part)
        column.addLayout(self._readings)

    @property
    def scale(self) -> ScaleView:
        """What the scale shows."""
        return self._scale.view

    def show_line(
        self, socket: SocketView, line: LineView | None, stage: Stage, tube: TubeType | None
    ) -> None:
        """Show a line of a socket with this type in it, or what keeps it from being read."""
        if socket.id != self._socket_id:
            self._socket_id, self._before = socket.id, ()
        self._line = line
        several = line is not None and len(socket.lines) > 1 and line.label
        self._dial_title.setText(f"Dial in · {line.label}" if several and line else "Dial in")
        dial = line.dial if line is not None else ()
        self._dial.show_facts(dial)
        self._dial.setVisible(bool(dial))
        self._no_line.setText(_to_know(socket, line))
        self._no_line.setVisible(bool(self._no_line.text()))
        self._add.setVisible(line is not None and not dial)
        for part in self._lower:
            part.setVisible(line is not None)
        self._list_readings(() if line is None else line.readings)
        if line is not None:
            judged = "; ".join(part for part in (_judged_text(line), _balance_text(socket, tube)) if part)
            self._text.setText(judged or _elsewhere(socket, stage))
            self._text.setVisible(bool(self._text.text()))
            self.point_at("")

    def show_before(self, before: tuple[EarlierView, ...], typed: str) -> None:
        """Show what the tube in hand and its place read before; ``typed`` is what stands in the field."""
        self._before = before
        self.point_at(typed)

    def point_at(self, typed: str) -> None:
        """Move the needle with what is being typed; with nothing typed it stands on what was read."""
        if self._line is None:
            return
        before = [one for one in self._before if one.line_id == self._line.line_id]
        view = scale_view(self._line, _typed_value(typed), before)
        self._scale.show_view(view)
        what = self._line.quantity or self._line.tester.method
        unit = f", {view.unit}" if view.unit else ""
        derived = " (shop default)" if self._line.limit and self._line.limit.derived else ""
        self._scale_title.setText(f"{what.capitalize()}{unit}: {view.caption()}{derived}")

    def _list_readings(self, readings: tuple[ReadingView, ...]) -> None:
        clear(self._readings)
        for reading in readings:
            row = QWidget()
            line = QHBoxLayout(row)
            line.setContentsMargins(0, 0, 0, 0)
            at = f"{reading.at.astimezone():%H:%M:%S}"
            line.addWidget(label(f"{reading.text} {reading.unit}".strip()))
            line.addWidget(label(at, "small"), 1)
            strike = Link("Strike")
            strike.setAccessibleName(f"Strike {reading.text} of {at}")
            strike.clicked.connect(lambda _=False, which=reading.id: self.strike.emit(which))
            line.addWidget(strike)
            self._readings.addWidget(row)


def _judged_text(line: LineView) -> str:
    """A judged line against its limit, how likely it is above it, how far its repeats lie apart."""
    spread = spread_text([reading.value for reading in line.readings])
    chance = "" if line.verdict is None or line.tester.scale.words else _chance_text(line.verdict)
    return "; ".join(part for part in (line.text, chance, spread) if part)


def _chance_text(verdict: LineVerdict) -> str:
    """``31 % likely to lie above 7,000``: said where it is too close to call, and only there."""
    edge = nearest_limit(verdict.mean, verdict.limit)
    if verdict.sure is not False or verdict.probability is None or edge is None:
        return ""
    return f"{100 * verdict.probability:.0f} % likely to lie above {format_number(edge)}"


def _balance_text(socket: SocketView, tube: TubeType | None) -> str:
    """How far the like sections of a tube lie apart, once two of them are read; words have no distance."""
    read = [(line.label, line.section, line.verdict) for line in socket.lines if line.verdict is not None]
    if tube is None or any(line.tester.scale.words for line in socket.lines):
        return ""
    balance = balance_percent(read, like_sections(tube.sections))
    return "" if balance is None else f"balance of the sections {format_number(balance, 2)} %"


def _elsewhere(socket: SocketView, stage: Stage) -> str:
    reads, where = reads_elsewhere(socket, stage)
    return f"Read {where if where.startswith('as found') else f'on {where}'}: {reads}" if reads else ""


def scale_view(line: LineView, typed: float | None, before: Sequence[EarlierView] = ()) -> ScaleView:
    """The scale picture of a line; ``typed`` stands on it in place of what was read."""
    verdict, limit, scale = line.verdict, line.limit, line.tester.scale
    value = typed if typed is not None else None if verdict is None else verdict.mean
    several = line.readings if verdict is not None and verdict.n > 1 and typed is None else ()
    return ScaleView(
        good_from=None if limit is None else limit.good_from,
        reject_below=None if limit is None else limit.reject_below,
        bogey=None if limit is None else limit.bogey,
        above=None if limit is None else limit.above,
        full_scale=scale.full_scale,
        unit=scale.unit,
        value=value,
        guard=None if scale.words else _guard(line, typed),
        repeats=tuple(reading.value for reading in several),
        earlier=_newest(before),
        words=scale.words,
    )


def _guard(line: LineView, typed: float | None) -> float | None:
    """1.645·u of what is typed, else of what was read, else of a first reading right on the limit."""
    if typed is None and line.verdict is not None:
        return None if line.verdict.u is None else GUARD * line.verdict.u
    limit = line.limit
    figures = () if limit is None else (limit.good_from, limit.reject_below)
    at = typed if typed is not None else next((figure for figure in figures if figure is not None), None)
    u = None if at is None else standard_uncertainty(at, line.tester.repeatability)
    return None if u is None else GUARD * u


def _newest(before: Sequence[EarlierView]) -> tuple[Earlier, ...]:
    """The last few earlier readings of this tube and of this place, so that each kind is seen."""
    chosen = []
    for same_tube in (True, False):
        of_kind = [one for one in before if one.same_tube is same_tube]
        chosen += [
            Earlier(f"{one.at.astimezone():%b %Y}", one.value, same_tube) for one in of_kind[:_EARLIER]
        ]
    return tuple(chosen)


def _typed_value(typed: str) -> float | None:
    try:
        return parse_number(typed) if typed.strip() else None
    except UserError:
        return None


def _to_know(socket: SocketView, line: LineView | None) -> str:
    """What to do before or instead of dialling in; empty where the dial says it all."""
    if socket.found.state is FoundState.NOT_LOOKED:
        asked = (
            f"Press + if a {socket.intended} stands in {socket.position}, or type what is marked on the tube."
        )
        return asked if line is None or line.dial else f"{asked}\n{_no_chart(line)}"
    if line is None:
        return "Nothing to dial in: no tube stands here, or no tester is set up."
    return "" if line.dial else _no_chart(line)


def _no_chart(line: LineView) -> str:
    return f"No setting line for this type on {line.tester.name}. Readings are taken all the same."
