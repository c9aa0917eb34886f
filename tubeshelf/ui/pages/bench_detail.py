"""The detail of the bench: everything about the socket in hand, from what to dial in to its past."""

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QScrollArea, QVBoxLayout, QWidget

from tubeshelf.domain.catalog import Catalog
from tubeshelf.domain.cautions import cautions
from tubeshelf.domain.jobs import Action, FoundState
from tubeshelf.domain.judging import Stage
from tubeshelf.domain.places import Place
from tubeshelf.domain.types import TubeType
from tubeshelf.domain.verdict_words import AFTER_DO_NOT_POWER, mark_text
from tubeshelf.services.shop import Shop
from tubeshelf.services.unused import unused_text
from tubeshelf.services.views.bench import JobView, LineView, PastView, SocketView, SpareView
from tubeshelf.ui.pages.bench_decide import DecisionPart, SparesPart
from tubeshelf.ui.pages.bench_dial import DialPart
from tubeshelf.ui.pages.bench_fit import BasePart, FitPart
from tubeshelf.ui.pages.bench_forms import FoundForm, ModifiedForm
from tubeshelf.ui.pages.bench_marks import MarksPanel
from tubeshelf.ui.pages.bench_old import KeepForm, OldTubePart
from tubeshelf.ui.pages.bench_rows import other_name
from tubeshelf.ui.pages.bench_set import SetPanel
from tubeshelf.ui.parts.buttons import Link
from tubeshelf.ui.parts.head import Elided
from tubeshelf.ui.parts.maygo import MayGoPanel
from tubeshelf.ui.parts.measured import MeasuredPart
from tubeshelf.ui.parts.sheet import Sheet, clear, section
from tubeshelf.ui.parts.text import label

_MOST_PAST = 4


class Listed(QWidget):
    """A heading and lines below it, hidden while there are none."""

    def __init__(self, title: str) -> None:
        super().__init__()
        self._rows = QVBoxLayout()
        self._rows.setSpacing(2)
        self._shown: object = None
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        column.addWidget(section(title))
        column.addLayout(self._rows)

    def show_lines(self, lines: Sequence[str]) -> None:
        """Show these lines of text."""
        if tuple(lines) != self._shown:
            self._shown = tuple(lines)
            clear(self._rows)
            for line in lines:
                self._rows.addWidget(label(line, wrap=True))
        self.setVisible(bool(lines))


class NotedPart(Listed):
    """The marks of a tube, each of which can be struck; ``strike`` carries its id."""

    strike = Signal(int)

    def __init__(self) -> None:
        super().__init__("Noted")

    def show_socket(self, socket: SocketView, stage: Stage) -> None:
        """Show what was noted at a stage."""
        noted = [(which, seen) for which, at, seen in socket.observations if at is stage]
        self.setVisible(bool(noted))
        if noted == self._shown:
            return
        self._shown = noted
        clear(self._rows)
        for which, seen in noted:
            row = QWidget()
            line = QHBoxLayout(row)
            line.setContentsMargins(0, 0, 0, 0)
            words = mark_text(seen)
            told = words[:1].upper() + words[1:]  # capitalize() would make mω of MΩ
            line.addWidget(label(told, tone="reject" if seen.is_fault else "", wrap=True), 1)
            line.addWidget(label("fault" if seen.is_fault else "no fault", "small"))
            strike = Link("Strike")
            strike.setAccessibleName(f"Strike {words}")
            strike.clicked.connect(lambda _=False, which=which: self.strike.emit(which))
            line.addWidget(strike)
            self._rows.addWidget(row)


class BenchDetail(Sheet):
    """The sheet beside the table. Its parts are public: the page connects what they ask for."""

    def __init__(self, shop: Shop) -> None:
        super().__init__(scrolls=True)
        self._shop = shop
        self._socket_id: int | None = None
        self._loose = False
        catalog = self._catalog
        self.name, self.kind = Elided("", "heading", grows=False), Elided("", "soft")
        self.marks, self.found_form, self.modified_form = (
            MarksPanel(),
            FoundForm(catalog),
            ModifiedForm(catalog),
        )
        self.marks.facts.asked.connect(self._to_top)
        self.dial, self.fit, self.noted, self.base = DialPart(), FitPart(), NotedPart(), BasePart()
        self.decision, self.spares, self.past = DecisionPart(), SparesPart(), Listed("This place before")
        self.old, self.keep_form = OldTubePart(), KeepForm()
        self.may_go = MayGoPanel()
        self.in_set, self.measured = SetPanel(), MeasuredPart("Measured in the set", columns=2)
        self.caution = label("", "small", wrap=True)
        self.ask_may_go = Link("What may go here? F10")
        self.change_found = Link("Not what is marked? F3")
        self.change_socket = Link("Socket changed on purpose? F4")
        head = QHBoxLayout()
        head.setSpacing(8)
        head.addWidget(self.name)
        head.addWidget(self.kind, 1)
        self.body.addLayout(head)
        for panel in self.panels:
            self.body.addWidget(panel)
        seen = (self.dial, self.noted, self.fit, self.caution)
        parts = (*seen, self.measured, self.decision, self.spares, self.old, self.base, self.past)
        links = (self.ask_may_go, self.change_found, self.change_socket)
        self._parts = (*parts, *links)
        for part in parts:
            self.body.addWidget(part)
        for link in links:
            self.body.addWidget(link, 0, Qt.AlignmentFlag.AlignLeft)
        self.body.addStretch(1)
        self.show_nothing()

    @property
    def panels(self) -> tuple[MarksPanel, FoundForm, ModifiedForm, KeepForm, MayGoPanel, SetPanel]:
        """What opens in place at the top; at most one at a time."""
        return self.marks, self.found_form, self.modified_form, self.keep_form, self.may_go, self.in_set

    def close_panels(self) -> None:
        """Away with whatever is open, without a word."""
        for panel in self.panels:
            panel.hide()

    def show_nothing(self) -> None:
        """No socket in hand."""
        self.name.say("")
        self.kind.say("")
        for part in self._parts:
            part.hide()

    def show_socket(self, job: JobView, socket: SocketView, line: LineView | None) -> None:
        """Show the socket in hand, apart from its spares and its past."""
        book = self._shop.book
        self._loose = job.equipment_id is None
        intended = book.type(socket.intended_type_id)
        found = book.type(socket.found.type_id)
        put_in = socket.fitted if job.stage is Stage.AS_LEFT else None
        in_it = found if put_in is None else book.type(book.id_of(put_in.designation))
        if socket.id != self._socket_id:
            self._socket_id = socket.id
            self.measured.hide()
            self._to_top()
        self.name.say(f"{socket.position} · {socket.intended}")
        group = f"group {socket.match_group}" if socket.match_group else ""
        said = (_kind(intended), group, unused_text(socket.unused))
        self.kind.say(" · ".join(part for part in said if part))
        self.dial.show_line(socket, line, job.stage, in_it)
        self.dial.show()
        self.noted.show_socket(socket, job.stage)
        self.fit.show_fit(socket.fit if put_in is None else None, other_name(socket))
        self.decision.show_socket(socket)
        self.decision.setVisible(socket.fitted is None and _is_looked_at(socket))
        self.spares.setVisible(self._wants_spares(socket))
        self.old.show_socket(socket, Place.BAG if self._loose else Place.SOCKET)
        self.base.show_bases(socket, intended, in_it)
        self.change_found.setVisible(job.stage is not Stage.AS_LEFT)
        self.change_socket.show()
        self.ask_may_go.show()
        harm = [why for position, why in job.harm if position == socket.position]
        self.caution.setText("\n".join([*([AFTER_DO_NOT_POWER] if harm else []), *cautions(intended, in_it)]))
        self.caution.setVisible(bool(self.caution.text()))

    def show_spares(self, socket: SocketView, spares: Sequence[SpareView], count: int) -> None:
        """Show the best spares of the socket in hand, of so many."""
        self.spares.show_spares(socket, spares, count)
        self.spares.setVisible(self._wants_spares(socket))

    def show_past(self, past: Sequence[PastView]) -> None:
        """Show what this place held before, newest first."""
        self.past.show_lines([past_words(one) for one in past[:_MOST_PAST]])

    def _wants_spares(self, socket: SocketView) -> bool:
        """A tube that stays wants none, and a box of loose tubes has no place to put one into."""
        replaceable = _is_looked_at(socket) and socket.action is not Action.KEEP
        return socket.fitted is not None or (replaceable and not self._loose)

    def _to_top(self) -> None:
        area = self.findChild(QScrollArea)
        if area is not None:
            area.verticalScrollBar().setValue(0)

    def _catalog(self) -> Catalog:
        return self._shop.book.catalog


def past_words(one: PastView) -> str:
    """One earlier visit in a line."""
    parts = (
        f"{one.on:%b %Y}",
        f"{one.designation} tag {one.tag}" if one.tag else one.designation,
        one.reads,
        one.verdict if one.reads else "",
        "installed then" if one.fitted else "",
        f"job {one.job_number}",
    )
    return " · ".join(part for part in parts if part)


def _is_looked_at(socket: SocketView) -> bool:
    return socket.found.state is not FoundState.NOT_LOOKED


def _kind(tube: TubeType | None) -> str:
    if tube is None:
        return ""
    watts = {s.plate_w_max for s in tube.sections if "power" in s.function and s.plate_w_max is not None}
    return tube.function + (f", {max(watts):g} W" if watts else "")
