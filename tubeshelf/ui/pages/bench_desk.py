"""What the keys of the bench do: readings, what was found, back and forth, questions that Enter answers."""

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial

from tubeshelf.domain.errors import UserError
from tubeshelf.domain.judging import Stage
from tubeshelf.domain.observing import forbids_quality_test
from tubeshelf.domain.verdict_words import mark_text, repeat_text
from tubeshelf.services import bench, finding
from tubeshelf.services.changes import Changes
from tubeshelf.services.recording import ReadingTaken
from tubeshelf.services.shop import Shop
from tubeshelf.services.views.bench import JobView, LineView, SocketView
from tubeshelf.ui.pages import bench_spots as spots
from tubeshelf.ui.pages.bench_field import offered
from tubeshelf.ui.pages.bench_spots import Spot
from tubeshelf.ui.pages.bench_table import SocketTable

YES = "Enter: yes. Esc: no."
Move = Callable[[JobView, Spot], Spot | None]
"""From where the entry stands to where it stands next; ``None`` at the end of the job."""


def stay(_job: JobView, spot: Spot) -> Spot:
    """Remain where the entry stands."""
    return spot


@dataclass(frozen=True, slots=True)
class Hooks:
    """What the desk asks of its page: to show what changed, to open the marks, to take back and do again."""

    wrote: Callable[[Changes, Move], None]
    took: Callable[[LineView, ReadingTaken, Changes, Move], None]
    spot_changed: Callable[[], None]
    marks: Callable[[], None]
    take_back: Callable[[], None]
    do_again: Callable[[], None]
    left: Callable[[], None]


class Desk:
    """The entry of one job: where it stands, and what each key does there."""

    def __init__(self, shop: Shop, table: SocketTable, origin: str, hooks: Hooks) -> None:
        self._shop, self._table, self._origin, self._hooks = shop, table, origin, hooks
        self._pending: Callable[[], None] | None = None
        self._last_read: Spot | None = None
        self.job: JobView | None = None
        self.spot: Spot | None = None
        table.field.key.connect(self.press)
        table.field.textEdited.connect(self._typed)
        table.pointed.connect(self._pointed)

    @property
    def socket(self) -> SocketView | None:
        """The socket in hand."""
        return None if self.job is None or self.spot is None else self.job.socket(self.spot.socket_id)

    @property
    def line(self) -> LineView | None:
        """The setting line in hand."""
        return None if self.job is None else spots.line_at(self.job, self.spot)

    def show(self, job: JobView | None, spot: Spot | None) -> None:
        """Work on this job from this spot on."""
        if job is None or self.job is None or job.id != self.job.id:
            self._last_read = None
            self.clear()
        self.job, self.spot = job, None if job is None else spots.still(job, spot)

    def clear(self) -> None:
        """Nothing typed, nothing asked."""
        self._table.field.clear()
        self._forget()

    def press(self, key: str) -> None:
        """One key of the bench."""
        acts: dict[str, Callable[[], None]] = {
            "enter": self._enter,
            "plus": self._plus,
            "minus": lambda: self._drop_or(lambda: self._go(spots.before)),
            "slash": lambda: self._drop_or(self._hooks.take_back),
            "undo": self._hooks.take_back,
            "redo": self._hooks.do_again,
            "star": self._hooks.marks,
            "escape": lambda: self._drop_or(self._hooks.left),
            "up": lambda: self._step(-1),
            "down": lambda: self._step(1),
            "right": lambda: self._go(spots.after),
        }
        if self.spot is not None:
            acts[key]()

    def go(self, spot: Spot | None) -> bool:
        """Go to another field, unless something typed would be lost: False then."""
        if self.job is None or spot is None:
            return False
        if self._table.field.text().strip() and spot != self.spot:
            self._tell(f"Enter saves {self._table.field.text().strip()}, Esc clears it.")
            return False
        self._forget()
        self.spot = spot
        self._hooks.spot_changed()
        return True

    def name_found(self) -> None:
        """Say (again) what stands in the socket in hand."""
        if self.spot is not None and self.job is not None and self.job.stage is not Stage.AS_LEFT:
            self.go(Spot(self.spot.socket_id))

    # ---- What is typed

    def _typed(self, text: str) -> None:
        self._forget()
        table = self._table
        if self.spot is None or self.job is None:
            return
        line = self.line
        if line is not None and text[:1].isalpha() and not line.tester.scale.words:
            self.spot = Spot(self.spot.socket_id)
            self._hooks.spot_changed()
            table.field.setText(text)
        if table.field.naming:
            table.names.offer(offered(self._shop.book.catalog, text), table.field)

    def _enter(self) -> None:
        if self.job is None or self.spot is None:
            return
        if self._pending is not None:
            pending, self._pending = self._pending, None
            pending()
            return
        text = self._table.names.chosen if self._table.offers_names else ""
        text = text or self._table.field.text().strip()
        if not text:
            self._go(spots.after)
        elif self.spot.line is None:
            self._name(text)
        else:
            self._read(text)

    def _plus(self) -> None:
        """As intended; on a line that can be read, read it again."""
        socket, field = self.socket, self._table.field
        if socket is None or self.job is None:
            return
        if self.spot is not None and self.spot.line is not None:
            if field.text().strip():
                self._read(field.text().strip(), again=True)
            elif self._last_read is not None:
                self.go(spots.still(self.job, self._last_read))
        elif field.text().strip():
            self._tell(f"Enter says that a {field.text().strip()} stands there, Esc clears it.")
        elif self.job.stage is not Stage.AS_LEFT:
            self._found(
                partial(finding.found_as_intended, self._shop, socket_id=socket.id, origin=self._origin)
            )

    def _name(self, text: str) -> None:
        """A type typed into the found field; what may be a mistake is asked about."""
        text, socket = text.upper(), self.socket
        if socket is None or self.job is None:
            return
        book = self._shop.book
        known, figures = book.id_of(text) is not None, not any(c.isalpha() for c in text)
        act = partial(self._found, self._marked(socket, text))
        if self.job.stage is Stage.AS_LEFT:
            self._fail(f"Nothing is in {socket.position} to read: install a spare, or go back to as found.")
        elif figures and not known:
            self._fail(
                f"{text} is no type. First say what is in {socket.position}: + as intended, or its mark."
            )
        elif figures:
            self._ask(f"{text} is a type. Was it in {socket.position}?", act)
        elif not known:
            near = ", ".join(book.catalog.near(text, 3))
            hint = f", near it {near}" if near else ""
            self._ask(f"{text} is not in the type table{hint}. Keep the mark as read?", act)
        else:
            act()

    def _found(self, write: Callable[[], tuple[None, Changes]]) -> None:
        try:
            _, changes = write()
        except UserError as error:
            self._fail(error.sentence)
        else:
            self.clear()
            self._hooks.wrote(changes, spots.onward)

    def _read(
        self, text: str, *, again: bool = False, short_known: bool = False, confirmed: bool = False
    ) -> None:
        """A reading typed: asked about where a short was marked or it looks like a slip, else stored."""
        socket, line, job = self.socket, self.line, self.job
        if socket is None or line is None or job is None:
            return
        noted = forbids_quality_test(seen for _, at, seen in socket.observations if at is job.stage)
        if not short_known and not confirmed and noted is not None:
            words = mark_text(noted)
            question = f"{socket.position}: {words}. A quality test may harm the tester: save it anyway?"
            self._ask(question, partial(self._read, text, again=again, short_known=True))
            return
        try:
            taken, changes = bench.record_reading(
                self._shop,
                socket_id=socket.id,
                line_id=line.line_id,
                section=line.section,
                tester_id=line.tester.id,
                stage=job.stage,
                text=text,
                confirmed=confirmed,
                origin=self._origin,
            )
        except UserError as error:
            self._no_number(text, error.sentence, socket)
            return
        if taken.slip is not None:
            self._ask(taken.slip.question, partial(self._read, text, again=again, confirmed=True))
        elif changes is not None:
            self._last_read = self.spot
            self.clear()
            self._hooks.took(line, taken, changes, stay if again else spots.after)
            if again and taken.verdict is not None:
                self._tell(repeat_text(taken.verdict, line.tester.scale.words))

    def _no_number(self, text: str, sentence: str, socket: SocketView) -> None:
        """A type typed into a reading is meant as one more often than not."""
        text = text.upper()
        mark = self._shop.book.id_of(text) is not None and any(c.isalpha() for c in text)
        if not mark or (self.job is not None and self.job.stage is Stage.AS_LEFT):
            self._fail(sentence)
            return
        question = f"{text} is a type, not a reading. Is it what stands in {socket.position}?"
        self._ask(question, partial(self._found, self._marked(socket, text)))

    def _marked(self, socket: SocketView, text: str) -> Callable[[], tuple[None, Changes]]:
        return partial(finding.set_found, self._shop, socket_id=socket.id, text=text, origin=self._origin)

    # ---- Back and forth

    def _go(self, where: Move) -> None:
        if self.job is None or self.spot is None:
            return
        there = where(self.job, self.spot)
        if there is None and where is spots.after:
            self._tell("That was the last socket. Ctrl P makes the retube list.")
        else:
            self.go(there)

    def _step(self, by: int) -> None:
        if self._table.offers_names:
            self._table.names.step(by)
        elif self.job is not None and self.spot is not None:
            self.go(spots.beside(self.job, self.spot, by))

    def _pointed(self, socket_id: int, column: int) -> None:
        if self.job is None:
            return
        spot = spots.entry(self.job.socket(socket_id), self.job.stage)
        wants_name = column == 2 and self.job.stage is not Stage.AS_LEFT
        self.go(Spot(socket_id) if wants_name else spot)
        self._table.field.setFocus()

    def _drop_or(self, act: Callable[[], None]) -> None:
        """What is typed or asked goes first; with nothing there the key does what it says."""
        if self._table.field.text() or self._pending is not None:
            self.clear()
            self._table.hide_names()
        else:
            self._forget()
            act()

    # ---- In the line

    def _ask(self, question: str, act: Callable[[], None]) -> None:
        self._table.hide_names()
        self._pending = act
        self._table.note.ask(f"{question} {YES}")
        self._table.place()

    def _tell(self, sentence: str) -> None:
        self._table.note.tell(sentence)
        self._table.place()

    def _fail(self, sentence: str) -> None:
        self._table.hide_names()
        self._table.note.fail(sentence)
        self._table.place()

    def _forget(self) -> None:
        self._pending = None
        self._table.note.clear()
