"""The heater picture of a set: what each winding carries, and each string as a ladder."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from tubeshelf.domain.heater_set import Load, LoadState, StringState, WindingState
from tubeshelf.domain.heaters import StringResult
from tubeshelf.domain.numbers import format_number
from tubeshelf.services.heaters import job_heaters
from tubeshelf.services.shop import Shop
from tubeshelf.services.views.heaters import CircuitHeaters, JobHeaters, LooseHeaters
from tubeshelf.ui.parts.buttons import Act
from tubeshelf.ui.parts.empty import Empty
from tubeshelf.ui.parts.form import Choice
from tubeshelf.ui.parts.heaters import Ladder, LadderView, LoadBar, LoadView, Rung
from tubeshelf.ui.parts.sheet import Sheet, clear, section
from tubeshelf.ui.parts.text import label

_STATES = (("as found", "found"), ("as planned", "planned"), ("as designed", "designed"))
_NOTHING = "The job has no sockets with a heater yet: type its complement first."
_UNWRITTEN = (
    "No winding or string is written down for these sockets, so nothing can be said of its load. Write it "
    "down under Heater circuits."
)


class HeatersSheet(Sheet):
    """Shows the heaters of a job in one of three states; ``left`` when it is done with."""

    left = Signal()

    def __init__(self, shop: Shop) -> None:
        super().__init__("Heaters", scrolls=True)
        self._shop = shop
        self._heaters: JobHeaters | None = None
        self.state = Choice(_STATES, name="State of the set")
        self.state.currentIndexChanged.connect(lambda: self._fill())
        first = QHBoxLayout()
        first.addWidget(label("The set", "soft"))
        first.addWidget(self.state)
        first.addStretch(1)
        self.body.addLayout(first)
        self._rows = QVBoxLayout()
        self._rows.setSpacing(6)
        self.body.addLayout(self._rows)
        self.body.addStretch(1)
        back = Act("Back", "Esc")
        back.clicked.connect(self.left)
        foot = self.foot()
        foot.addWidget(back)
        foot.addStretch(1)

    def show_job(self, job_id: int) -> None:
        """Show the heaters of a job as they are now; UserError if it is gone."""
        self._heaters = job_heaters(self._shop, job_id=job_id)
        self.set_title(f"Heaters of job {self._heaters.number}")
        self._fill()
        self.state.setFocus()

    def _fill(self) -> None:
        clear(self._rows)
        heaters = self._heaters
        if heaters is None:
            return
        for circuit in heaters.circuits:
            self._add_circuit(circuit)
        for group in heaters.loose:
            self._rows.addWidget(section(_loose_title(group)))
            self._rows.addWidget(label(_loose_words(group), wrap=True))
        if heaters.loose:
            self._rows.addWidget(label(_UNWRITTEN, "small", wrap=True))
        if not heaters.circuits and not heaters.loose:
            self._rows.addWidget(Empty(_NOTHING))

    def _add_circuit(self, circuit: CircuitHeaters) -> None:
        told = dict(circuit.states)[self.state.currentData()]
        self._rows.addWidget(section(_title(circuit)))
        picture = _picture(told.state)
        if picture is not None:
            self._rows.addWidget(picture)
        for sentence in told.sentences:
            warns = sentence in told.warnings
            words = f"{sentence[0].upper()}{sentence[1:]}."
            self._rows.addWidget(label(words, tone="reject" if warns else "", wrap=True))
        beside = _beside(circuit)
        if beside:
            self._rows.addWidget(label(beside, "small", wrap=True))
        self._rows.addSpacing(10)


def _title(circuit: CircuitHeaters) -> str:
    volts = "" if circuit.supply_v is None else f", {format_number(circuit.supply_v)} V"
    rated = "" if circuit.rating_a is None else f", rated {format_number(circuit.rating_a)} A"
    return f"{circuit.name}{volts}{rated}"


def _picture(state: WindingState | StringState) -> QWidget | None:
    if isinstance(state, WindingState):
        return LoadBar(load_view(state))
    return None if state.nominal is None else Ladder(ladder_view(state, state.nominal))


def load_view(state: WindingState) -> LoadView:
    """A winding as its bar shows it: a part a socket, the lamps, and what it may carry."""
    parts = [(share.load.position, share.amperes) for share in state.shares if share.amperes]
    if state.feed.lamps_a:
        parts.append(("lamps", state.feed.lamps_a))
    load = state.sum
    limit = load.designed_a if load.rating_a is None else load.rating_a
    word = "designed for" if load.rating_a is None else "rated"
    words = "" if limit is None else f"{word} {format_number(limit, 3)} A"
    return LoadView(tuple(parts), limit, words, over=load.overloaded is True)


def ladder_view(state: StringState, result: StringResult) -> LadderView:
    """A string as its ladder shows it: heaters, lamp, ballast and dropper from the supply down."""
    loads = {load.position: load for load in state.loads}
    rungs = [
        Rung(tube.label, _name(loads.get(tube.label)), _volts(tube.volts), 100 + tube.percent_off)
        for tube in result.tubes
    ]
    if result.lamp is not None:
        off = result.lamp.percent_off
        where = "in series" if result.lamp.at == "series" else f"on {result.lamp.at}"
        rungs.append(Rung("Lamp", where, _volts(result.lamp.volts), None if off is None else 100 + off))
    if result.ballast_v is not None:
        holds = "holds the current" if result.ballast_holds else "out of its range"
        rungs.append(Rung("Ballast", holds, _volts(result.ballast_v)))
    if state.feed.drop_ohm:
        watts = f"{_volts(result.dropper_v)}, {format_number(result.dropper_w, 3)} W"
        rungs.append(Rung("Dropper", f"{format_number(state.feed.drop_ohm, 3)} Ω", watts))
    supply = f"{format_number(result.supply_v)} V, {format_number(result.amperes, 3)} A"
    return LadderView(supply, tuple(rungs))


def _name(load: Load | None) -> str:
    if load is None:
        return ""
    return f"{load.type_name}, not looked at" if load.assumed else load.type_name


def _volts(volts: float) -> str:
    return f"{format_number(volts, 3)} V"


def _beside(circuit: CircuitHeaters) -> str:
    """What the set takes in each of its states, to compare."""
    told = []
    for name, state in circuit.states:
        amperes = None
        if state.winding is not None:
            amperes = state.winding.sum.amperes
        elif state.string is not None and state.string.nominal is not None:
            amperes = state.string.nominal.amperes
        told.append(f"{name} {'–' if amperes is None else f'{format_number(amperes, 3)} A'}")
    empty = [
        load.position for _, state in circuit.states[1:2] for load in _loads(state.state) if _stays_out(load)
    ]
    missing = f" · nothing heated in {', '.join(empty)} as found" if empty else ""
    return " · ".join(told) + missing


def _loads(state: WindingState | StringState) -> tuple[Load, ...]:
    if isinstance(state, WindingState):
        return tuple(share.load for share in state.shares)
    return state.loads


def _stays_out(load: Load) -> bool:
    return load.state in (LoadState.EMPTY, LoadState.COLD)


def _loose_title(group: LooseHeaters) -> str:
    volts = "heaters not in the table" if group.volts is None else f"{format_number(group.volts)} V heaters"
    return f"{volts}: {', '.join(group.positions)}"


def _loose_words(group: LooseHeaters) -> str:
    if group.volts is None:
        return "The table does not know these heaters."
    sums = (("designed", group.designed_a), ("found", group.found_a), ("planned", group.planned_a))
    told = ", ".join(f"{name} {format_number(amperes, 3)} A" for name, amperes in sums)
    unknown = f"; not known: {', '.join(group.unknown)}" if group.unknown else ""
    return f"In all {told}{unknown}."
