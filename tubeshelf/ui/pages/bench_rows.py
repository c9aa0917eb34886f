"""The rows of the bench table: what each cell says of a socket, and a model that repaints what changed."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from PySide6.QtCore import QObject, Qt

from tubeshelf.domain.fitting import Outcome
from tubeshelf.domain.jobs import Action, Answer, Disposition, FoundState
from tubeshelf.domain.judging import NOT_READ, Stage, TubeVerdict
from tubeshelf.domain.numbers import format_number
from tubeshelf.domain.verdict_words import doubt_text
from tubeshelf.services.shop import Shop
from tubeshelf.services.spare_verdict import mean_text
from tubeshelf.services.stage_verdict import latest_lines, verdict_at
from tubeshelf.services.unused import unused_text
from tubeshelf.services.views.bench import JobView, LineView, SocketView, SpareView, TesterView
from tubeshelf.ui.marks import fit_cell, mark_cell, verdict_look
from tubeshelf.ui.models.cells import NOTHING, Cell, Column, RowsModel
from tubeshelf.ui.pages.bench_spots import Spot, has_tube, read_elsewhere, stays_as_found

FOUND, READING = 2, 3
"""The columns in which something is entered."""

_MOST_NAME = 18


@dataclass(frozen=True, slots=True)
class BenchRow:
    """A socket as one line of the table; ``field`` is the setting line that the entry stands on, if any.

    ``own_tester`` names its tester where that is not the one of the job.
    """

    socket: SocketView
    stage: Stage
    verdict: TubeVerdict
    verdict_text: str
    believed: str
    field: int | None = None
    own_tester: str = ""
    job_tester: TesterView | None = None


def bench_rows(shop: Shop, job: JobView, spot: Spot | None, shown: Sequence[BenchRow] = ()) -> list[BenchRow]:
    """The rows of a job; that with the entry knows its line. Rows ``shown`` serve where all is the same."""
    same = {id(row.socket): row for row in shown if row.stage is job.stage}
    return [_row_again(shop, job, socket, spot, same.get(id(socket))) for socket in job.sockets]


def _row_again(
    shop: Shop, job: JobView, socket: SocketView, spot: Spot | None, shown: BenchRow | None
) -> BenchRow:
    if shown is None or shown.job_tester is not job.tester:
        return _row(shop, job, socket, spot)
    field = spot.line if spot is not None and spot.socket_id == socket.id else None
    return shown if field == shown.field else replace(shown, field=field)


def own_testers(job: JobView) -> dict[int, int]:
    """The tester of each socket that is read on another one than the job, by ids."""
    return {socket.id: socket.lines[0].tester.id for socket in job.sockets if own_tester(job, socket)}


def own_tester(job: JobView, socket: SocketView) -> str:
    """The tester that a socket alone is read on; empty where it is that of the job."""
    tester = socket.lines[0].tester if socket.lines else None
    same = tester is None or job.tester is None or tester.id == job.tester.id
    return "" if same or tester is None else tester.name


def _row(shop: Shop, job: JobView, socket: SocketView, spot: Spot | None) -> BenchRow:
    stage = job.stage
    verdict, text = verdict_at(shop, socket, stage)
    known = socket.found.type_id
    marked_as = shop.book.id_of(socket.found.marked) if socket.found.marked else None
    believed = socket.found.designation if known is not None and marked_as != known else ""
    here = spot is not None and spot.socket_id == socket.id
    field = spot.line if here and spot else None
    return BenchRow(socket, stage, verdict, text, believed, field, own_tester(job, socket), job.tester)


class BenchModel(RowsModel[BenchRow]):
    """The sockets of a job. A reading repaints its own row and no other."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(columns("", Stage.AS_FOUND), key=lambda row: row.socket.id, parent=parent)
        self._cells: dict[tuple[int, int], tuple[BenchRow, Cell]] = {}

    def show_rows(self, rows: Sequence[BenchRow], unit: str, stage: Stage) -> None:
        """Show these rows; what is the same as before stays untouched."""
        titled = columns(unit, stage)
        if [c.title for c in titled] != [c.title for c in self.columns]:
            self.columns = titled
            self.headerDataChanged.emit(Qt.Orientation.Horizontal, 0, len(titled) - 1)
        if [row.socket.id for row in rows] != [row.socket.id for row in self._rows]:
            self.replace(rows)
            return
        for at, (old, new) in enumerate(zip(self._rows, rows, strict=True)):
            if old is not new:
                self._rows[at] = new
                if old != new:
                    self.dataChanged.emit(self.index(at, 0), self.index(at, len(self.columns) - 1))

    def cell(self, row: int, column: int) -> Cell:
        """The cell at a place, made once for each value of its row: it is painted again and again."""
        value = self._rows[row]
        held = self._cells.get((row, column))
        if held is None or held[0] is not value:
            held = self._cells[row, column] = value, super().cell(row, column)
        return held[1]


def columns(unit: str, stage: Stage) -> tuple[Column[BenchRow], ...]:
    """The columns, titled for a tester's unit and a stage."""
    reading = f"Reading, {unit}" if unit else "Reading"
    return (
        Column("Socket", 84, _socket, stretch=True),
        Column("Intended", 76, _intended),
        Column("In the set" if stage is Stage.AS_LEFT else "Found", 112, _in_place),
        Column(reading, 148, _reading, align="right"),
        Column("Verdict", 156, _verdict, keep=True),
        Column("Fit", 100, _fit, keep=True),
        Column("Action, spare", 164, _action),
    )


def _socket(row: BenchRow) -> Cell:
    socket, group = row.socket, row.socket.match_group
    on = f"on {row.own_tester}" if row.own_tester else ""
    told = (socket.position, socket.role, f"match group {group}" if group else "", on)
    tip = ", ".join(part for part in told if part) if group or on else ""
    sub = _short(on) if on else " · ".join(part for part in (socket.role, group) if part)
    return Cell(socket.position, sub, bold=True, tip=tip)


def _intended(row: BenchRow) -> Cell:
    socket = row.socket
    return Cell(socket.intended, f"built for {socket.designed}" if socket.modified else "")


def _in_place(row: BenchRow) -> Cell:
    found, fitted = row.socket.found, row.socket.fitted
    if row.stage is Stage.AS_LEFT:
        if fitted is not None:
            return Cell(fitted.designation, f"tag {fitted.tag}, installed" if fitted.tag else "installed")
        if row.socket.disposition is Disposition.EMPTY_ON_PURPOSE:
            return Cell("left empty", "on purpose")
    if found.state is FoundState.NOT_LOOKED:
        return Cell("not looked yet", tone="soft", small=True)
    if found.state is FoundState.EMPTY:
        return Cell("empty", bold=True)
    if found.state is FoundState.UNREADABLE:
        return Cell("unreadable", f"taken for {found.designation}" if found.designation else "type unknown")
    sub = f"is a {row.believed}" if row.believed else f"tag {found.tag}" if found.tag else ""
    return Cell(found.marked or found.designation, sub)


def line_reads(line: LineView) -> str:
    """What a line reads: its value, or the mean of repeats with as many decimals as they were read with."""
    if line.verdict is None:
        return "–"
    if line.tester.scale.words or not line.readings:
        return mean_text(line.verdict, line.tester.scale.words)
    decimals = max(len(reading.text.partition(".")[2]) for reading in line.readings)
    return format_number(round(line.verdict.mean, decimals))


def reads_elsewhere(socket: SocketView, stage: Stage) -> tuple[str, str]:
    """What the tube reads where nothing was read on the chosen tester at this stage, and where that was:
    on which tester, or as found."""
    lines = read_elsewhere(socket, stage)
    if not lines:
        return "", ""
    chosen = {line.tester.id for line in socket.lines}
    other = "" if lines[0].tester.id in chosen else lines[0].tester.name
    where = f"as found{', ' if other else ''}{other}" if stays_as_found(socket, stage) else other
    return " · ".join(line_reads(line) for line in lines), where


def _reading(row: BenchRow) -> Cell:
    socket = row.socket
    elsewhere, where = reads_elsewhere(socket, row.stage)
    stays = row.stage is Stage.AS_LEFT and socket.fitted is None
    lines = latest_lines(socket) if stays and not elsewhere else socket.lines
    read = [line_reads(line) for line in lines]
    if row.field is not None:
        beside = " · ".join(text for i, text in enumerate(read) if i != row.field and text != "–")
        label = socket.lines[row.field].label
        own = read[row.field] if socket.lines[row.field].readings else "not read yet"
        return Cell(beside, small=True, tip=", ".join(p for p in (label, own, beside) if p))
    if not any(line.readings for line in socket.lines):
        if elsewhere:
            return Cell(elsewhere, _short(where), tone="soft", align="right", tip=f"{elsewhere}, {where}")
        return Cell("–", tone="soft" if not has_tube(socket, row.stage) else "", align="right")
    partly = any(line.readings and not own.readings for line, own in zip(lines, socket.lines, strict=True))
    sub = "partly as found" if partly else unused_text(socket.unused)
    return Cell(" · ".join(read), sub, align="right", big=True)


def _verdict(row: BenchRow) -> Cell:
    verdict, text = row.verdict, row.verdict_text
    if stays_as_found(row.socket, row.stage):
        text = f"{text}, as found"
    if not has_tube(row.socket, row.stage):
        return NOTHING
    if verdict.word == NOT_READ:
        some = f"{verdict.lines_read} of {verdict.lines_expected} read" if verdict.lines_read else ""
        return Cell(some or "not read yet", tone="soft", tip=text)
    if doubt := doubt_text(verdict):
        look = replace(verdict_look(verdict.word, doubt), word=doubt.capitalize())
        beside = ", ".join(part for part in (verdict.word, _too_close(row)) if part)
        return mark_cell(look, beside, tip=text)
    return mark_cell(verdict_look(verdict.word), _beside(row), tip=text)


def _beside(row: BenchRow) -> str:
    """The second line of a verdict: where a fault is, or by what method."""
    if stays_as_found(row.socket, row.stage):
        return "as found"
    parts = row.verdict_text.removeprefix(row.verdict.word).strip(" ,").split(", ")
    # The section first: where room is scarce, the method is what may be cut.
    return ", ".join(sorted(parts, key=lambda part: part != row.verdict.decided_by))


def _too_close(row: BenchRow) -> str:
    """The figure that is too close to a limit, with its uncertainty."""
    close = [line for line in row.socket.lines if line.verdict and line.verdict.sure is False]
    decided = [line for line in close if line.label == row.verdict.decided_by] or close
    if not decided:
        return ""
    _, sign, spread = decided[0].text.split(", ")[0].partition(" ± ")
    return line_reads(decided[0]) + sign + spread.split(" of ")[0]


def _short(name: str) -> str:
    """A name for a narrow place."""
    return name if len(name) <= _MOST_NAME else f"{name[: _MOST_NAME - 1].rstrip()}…"


def _fit(row: BenchRow) -> Cell:
    socket = row.socket
    if row.stage is Stage.AS_LEFT and socket.fitted is not None:
        return fit_cell(socket.fitted.outcome, tip="; ".join(socket.fitted.conditions))
    if socket.fit is None or not has_tube(socket, row.stage):
        return NOTHING
    if alias := other_name(socket):
        return replace(fit_cell(socket.fit.outcome, tip=f"{socket.fit.word}: {alias}"), text="same tube")
    reasons = "; ".join(reason.text for reason in socket.fit.reasons)
    return fit_cell(socket.fit.outcome, tip=f"{socket.fit.word}: {reasons}".strip(": "))


def other_name(socket: SocketView) -> str:
    """That a tube is the right one under another name, in a sentence; empty where it is not."""
    found = socket.found
    right = socket.fit is not None and socket.fit.outcome is Outcome.RIGHT_TYPE
    if not right or not found.marked or found.marked == socket.intended or found.reason:
        return ""
    return f"{found.marked} is another name of {socket.intended}."


def _action(row: BenchRow) -> Cell:
    socket = row.socket
    if socket.fitted is not None:
        return Cell(
            "installed", f"{socket.fitted.tag} · {socket.fitted.designation}".strip(" ·"), tone="good"
        )
    if socket.disposition is Disposition.EMPTY_ON_PURPOSE:
        return Cell("left empty", "on purpose")
    if socket.answer is Answer.DECLINED:
        return Cell("declined", "by the customer", bold=True)
    if not socket.action_said and not _worth_saying(socket):
        return NOTHING
    word = str(socket.action).capitalize() if socket.action_said else f"{socket.action}?"
    spare = "" if socket.action is Action.KEEP else spare_words(socket.spare, socket.intended)
    missing = socket.action is Action.REPLACE and socket.spare is None
    said = "said at the bench" if socket.action_said else "proposed"
    return Cell(
        word,
        "none on hand" if missing else spare,
        bold=socket.action_said,
        tone="reject" if missing else "",
        tip=", ".join(p for p in (f"{socket.action}, {said}", "none on hand" if missing else spare) if p),
    )


def _worth_saying(socket: SocketView) -> bool:
    """A proposal of undecided is no news while nobody has looked or read."""
    waiting = socket.found.state is FoundState.NOT_LOOKED or socket.verdict.word == NOT_READ
    return socket.action is not Action.UNDECIDED or not waiting


def spare_words(spare: SpareView | None, intended: str) -> str:
    """A spare in a few words: its tag or count, its bin, what it reads."""
    if spare is None:
        return ""
    parts = [
        "promised" if spare.here else f"set {spare.matched_set}" if spare.matched_set is not None else "",
        spare.tag or f"{spare.quantity} free",
        spare.designation if spare.designation != intended else "",
        spare.bin,
        spare.reads or ("untested" if spare.verdict == NOT_READ else ""),
    ]
    return " · ".join(part for part in parts if part)
