"""What the large-figure view says of the socket in hand, and how it follows the bench."""

from collections.abc import Callable

from PySide6.QtCore import QSettings, QTimer
from PySide6.QtWidgets import QWidget

from tubeshelf.domain.fitting import Outcome
from tubeshelf.domain.jobs import Disposition, FoundState
from tubeshelf.domain.judging import NOT_READ, Stage
from tubeshelf.domain.verdict_words import doubt_text
from tubeshelf.services.shop import Shop
from tubeshelf.services.stage_verdict import verdict_at
from tubeshelf.services.views.bench import JobView, LineView, SocketView
from tubeshelf.ui.large import LargeView
from tubeshelf.ui.largelayout import Figures
from tubeshelf.ui.marks import fit_look, verdict_look
from tubeshelf.ui.pages.bench import BenchPage
from tubeshelf.ui.pages.bench_rows import line_reads
from tubeshelf.ui.pages.bench_spots import has_tube


class BenchLarge:
    """Opens the view of a bench page, keeps it up to date while it is on show, and remembers that."""

    def __init__(
        self,
        shop: Shop,
        page: BenchPage,
        settings: QSettings,
        window: QWidget,
        remember: Callable[[bool], None],
    ) -> None:
        """``remember`` is told whether the user has it open."""
        self._shop, self._page, self._remember = shop, page, remember
        self.view = LargeView(settings, window)
        self.view.put_away.connect(lambda: remember(False))
        self._soon = QTimer(page)
        self._soon.setSingleShot(True)
        self._soon.timeout.connect(self._show)
        page.keys_changed.connect(self._follow)
        page.table.field.textChanged.connect(self._follow)

    def toggle(self) -> None:
        """F11: open it, or close it again."""
        if self.view.isVisible():
            self.view.close()
        else:
            self.open()

    def open(self) -> None:
        """Open it, now and at the next start."""
        self._remember(True)
        self._show()
        self.view.open()

    def hide(self) -> None:
        """The window that it belongs to is closed: gone with it, and back with it at the next start."""
        if self.view.isVisible():
            self.view.keep_place()
            self.view.hide()

    def _follow(self) -> None:
        if self.view.isVisible():
            self._soon.start()

    def _show(self) -> None:
        desk = self._page.desk
        if desk.job is None or desk.socket is None:
            self.view.show_figures(NOTHING)
            return
        line = desk.line or next(iter(desk.socket.lines), None)
        typed = self._page.table.field.text().strip()
        self.view.show_figures(figures_of(self._shop, desk.job, desk.socket, line, typed))


NOTHING = Figures(type="No job is on the bench.")


def figures_of(
    shop: Shop, job: JobView, socket: SocketView, line: LineView | None, typed: str = ""
) -> Figures:
    """The figures of a socket with the line in hand; ``typed`` is what stands in the entry."""
    verdict, text = verdict_at(shop, socket, job.stage)
    doubt = doubt_text(verdict)
    seen = has_tube(socket, job.stage)
    several = line is not None and len(socket.lines) > 1
    stands, note, tone = _type(socket, job.stage)
    return Figures(
        position=socket.position,
        role=socket.role,
        type=stands,
        note=note,
        note_tone=tone,
        line=line.label if line is not None and several else "",
        dial=() if line is None else line.dial,
        reading=typed or ("–" if line is None or not line.readings else line_reads(line)),
        unit="" if line is None else line.tester.scale.unit,
        typed=bool(typed),
        look=verdict_look(verdict.word, doubt) if seen and not typed else None,
        beside="" if verdict.word == NOT_READ else _beside(verdict.word, doubt, text, line),
        before=_before(shop, job, line),
        warning=_warning(job, socket),
    )


def _warning(job: JobView, socket: SocketView) -> str:
    """Why nobody must power the set: what the socket in hand has to do with it first, and how much more."""
    if not job.harm:
        return ""
    position, why = next((harm for harm in job.harm if harm[0] == socket.position), job.harm[0])
    more = len(job.harm) - 1
    return f"Do not power. {position}: {why}." + (f" And {more} more." if more else "")


def _beside(word: str, doubt: str, text: str, line: LineView | None) -> str:
    """What stands beside a verdict: how it was come by, or, in doubt, the figure with its uncertainty."""
    if doubt and line is not None and line.verdict is not None:
        return line.text
    return text.removeprefix(word).strip(" ,")


def _type(socket: SocketView, stage: Stage) -> tuple[str, str, str]:
    """What stands in the socket, what one must know of it, and in which tone that is said."""
    found, fitted = socket.found, socket.fitted
    if stage is Stage.AS_LEFT and fitted is not None:
        return fitted.designation, f"tag {fitted.tag}, installed" if fitted.tag else "installed", "soft"
    if socket.disposition is Disposition.EMPTY_ON_PURPOSE:
        return "empty", "on purpose", "soft"
    if found.state is FoundState.NOT_LOOKED:
        return socket.intended, "belongs here, not looked yet", "soft"
    if found.state is not FoundState.TYPE:
        return str(found.state), f"{socket.intended} belongs here", "soft"
    fit = socket.fit
    if fit is None or fit.outcome.severity < Outcome.WRONG_TYPE.severity:
        return found.marked, "", "soft"
    look = fit_look(fit.outcome)
    return found.marked, f"{look.word}, {socket.intended} belongs here", look.tone


def _before(shop: Shop, job: JobView, line: LineView | None) -> str:
    """What was read last in the job, unless that is the line in hand, with the verdict of its tube."""
    read = [
        (reading.id, socket, of)
        for socket in job.sockets
        for of in (*socket.lines, *socket.as_left, *socket.other_lines)
        for reading in of.readings
        if reading.stage is job.stage
    ]
    if not read:
        return ""
    _, socket, last = max(read, key=lambda one: one[0])
    if line is not None and last.line_id == line.line_id and last.readings == line.readings:
        return ""
    verdict, _ = verdict_at(shop, socket, job.stage)
    label = f" {last.label}" if len(socket.lines) > 1 and last.label else ""
    word = (
        ""
        if verdict.word == NOT_READ
        else f", {verdict_look(verdict.word, doubt_text(verdict)).word.lower()}"
    )
    return f"Before: {socket.position}{label} {line_reads(last)} {last.tester.scale.unit}".rstrip() + word
