"""The estimate of a job: a line for each tube to be replaced, labour, the sum, and who agreed to it."""

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QLabel, QVBoxLayout, QWidget

from tubeshelf.domain.dates import format_date
from tubeshelf.domain.jobs import Action, Answer
from tubeshelf.domain.money import format_money
from tubeshelf.paper.fonts import tabular
from tubeshelf.services.decide import price_of
from tubeshelf.services.views.bench import ApprovalView, EstimateView, JobView, SocketView
from tubeshelf.ui import tokens
from tubeshelf.ui.parts.sheet import clear
from tubeshelf.ui.parts.text import label, rule

Line = tuple[str, str, str]
"""Which socket, what is proposed, what it costs."""


class EstimateLines(QWidget):
    """Shows an estimate. ``lines``, ``sums`` and ``notes`` are what it says, as plain text.

    With ``sums_alone`` the tubes are told of elsewhere.
    """

    def __init__(self, *, sums_alone: bool = False) -> None:
        super().__init__()
        self._sums_alone = sums_alone
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(6)
        self.lines: tuple[Line, ...] = ()
        self.sums: tuple[tuple[str, str], ...] = ()
        self.notes: tuple[str, ...] = ()

    def show_estimate(self, job: JobView, currency: str, also: Sequence[str] = ()) -> None:
        """Show that of a job, and what else there is to say of it."""
        self.lines = tuple(_line(socket, currency) for socket in _wanted(job))
        self.sums = _sums(job.estimate, currency)
        over = _over(job.estimate, currency)
        self.notes = (*_notes(job, currency), *also, *([over] if over else []))
        clear(self._column)
        if self.lines and not self._sums_alone:
            self._column.addWidget(_table(self.lines))
            self._column.addWidget(rule())
        self._column.addWidget(_table([(name, "", amount) for name, amount in self.sums]))
        for note in self.notes:
            told = (
                label(note, "strong", tone="reject", wrap=True)
                if note == over
                else label(note, "soft", wrap=True)
            )
            self._column.addWidget(told)


def _wanted(job: JobView) -> list[SocketView]:
    return [s for s in job.sockets if s.action is Action.REPLACE]


def _line(socket: SocketView, currency: str) -> Line:
    tube = socket.fitted or socket.spare
    name = socket.intended if tube is None else tube.designation
    where = f"{socket.position} {socket.role}".strip()
    if socket.answer is Answer.DECLINED:
        return where, f"{name}, declined", ""
    price = price_of(socket)
    done = "in" if socket.fitted is not None else "to go in"
    return where, f"{name} {done}", "no price" if price is None else format_money(price, currency)


def _sums(estimate: EstimateView, currency: str) -> tuple[tuple[str, str], ...]:
    amounts = (("Tubes", estimate.tubes), ("Labour", estimate.labour), ("Total", estimate.total))
    return tuple((name, format_money(amount, currency)) for name, amount in amounts)


def _notes(job: JobView, currency: str) -> tuple[str, ...]:
    estimate = job.estimate
    notes = [approval_text(estimate.approval, currency)]
    if estimate.unpriced:
        many = "One tube has" if estimate.unpriced == 1 else f"{estimate.unpriced} tubes have"
        notes.append(f"{many} no price yet: the total is without.")
    return tuple(notes)


def running_total(estimate: EstimateView, currency: str) -> str:
    """The total against the ceiling in a few words, to stand by while sockets are answered."""
    total = format_money(estimate.total, currency)
    if estimate.over:
        return f"{total}, {format_money(estimate.over)} over"
    if estimate.approval is None or estimate.approval.ceiling is None:
        return total
    return f"{total} of {format_money(estimate.approval.ceiling)}"


def _over(estimate: EstimateView, currency: str) -> str:
    """That the total is over what was agreed; empty while it is not."""
    if not estimate.over or estimate.approval is None or estimate.approval.ceiling is None:
        return ""
    return (
        f"The total is over the {format_money(estimate.approval.ceiling, currency)} agreed: ask the customer."
    )


def approval_text(approval: ApprovalView | None, currency: str) -> str:
    """Who agreed, when, how and up to how much, in a sentence."""
    if approval is None:
        return "Nobody has approved it yet."
    how = f", {approval.how}" if approval.how else ""
    limit = f", up to {format_money(approval.ceiling, currency)}" if approval.ceiling is not None else ""
    note = f" {approval.note}" if approval.note else ""
    return f"Approved by {approval.who} on {format_date(approval.on)}{how}{limit}.{note}"


def _table(lines: tuple[Line, ...] | list[Line]) -> QWidget:
    whole = QWidget()
    grid = QGridLayout(whole)
    grid.setContentsMargins(0, 0, 0, 0)
    grid.setVerticalSpacing(4)
    grid.setHorizontalSpacing(tokens.MARGIN)
    grid.setColumnStretch(1, 1)
    for row, (where, what, amount) in enumerate(lines):
        grid.addWidget(label(where, "strong" if where == "Total" else ""), row, 0, Qt.AlignmentFlag.AlignTop)
        grid.addWidget(label(what, "soft", wrap=True), row, 1)
        grid.addWidget(_amount(amount, strong=where == "Total"), row, 2, Qt.AlignmentFlag.AlignTop)
    return whole


def _amount(text: str, *, strong: bool) -> QLabel:
    shown = label(text)
    shown.setFont(tabular(shown.font(), pixels=tokens.BODY, bold=strong))
    shown.setAlignment(Qt.AlignmentFlag.AlignRight)
    return shown
