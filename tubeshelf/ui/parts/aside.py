"""Putting a set aside with sockets empty: asked once, in the page, answered with a chassis tag."""

from collections.abc import Callable
from functools import partial

from tubeshelf.domain.errors import UserError
from tubeshelf.domain.whereabouts import positions_text
from tubeshelf.services.aside import end_aside, put_aside, usual_why, where_tubes_are
from tubeshelf.services.changes import Changes
from tubeshelf.services.shop import Shop
from tubeshelf.services.views.aside import Whereabouts
from tubeshelf.ui.page import Page
from tubeshelf.ui.parts.asking import Asking

Act = Callable[[], object]


def nothing() -> None:
    """No more is to be done."""


class AsideQuestion:
    """Stands between a page and what puts a set aside. ``print_tag`` gets the id of the job."""

    def __init__(
        self, shop: Shop, page: Page, publish: Callable[[Changes], None], print_tag: Callable[[int], object]
    ) -> None:
        self._shop, self._page, self._publish, self._print = shop, page, publish, print_tag
        self._asked: int | None = None
        self._going = False
        self.asking = Asking("&Why")
        page.column.insertWidget(page.column.indexOf(page.notice) + 1, self.asking)

    def stands(self, job_id: int, *, in_hand: str = "", reading_due: bool = False) -> Whereabouts:
        """Where the tubes of a job are."""
        return where_tubes_are(self._shop, job_id=job_id, in_hand=in_hand, reading_due=reading_due)

    def first(self, here: Whereabouts, then: Act, back: Act = nothing) -> bool:
        """Do ``then`` if nobody need be asked, and say whether it was done; else ask, and do it after a yes.

        Who wants it again with the question before the eyes has read it: then it is done without an answer,
        and asked another time.
        """
        again = self._asked == here.job_id and bool(self.asking.question)
        if self._going or again or not here.asks or self._shop.record.read_only:
            self._go(then)
            return True
        self._asked = here.job_id
        self._page.notice.clear()
        self.asking.ask(
            f"Job {here.number}: {here.text}. On purpose? Then a tag on the chassis says so.",
            ("Yes, print the tag", lambda: self._answered(here, self.asking.field.text(), then)),
            ("No, go back", lambda: self._go(back)),
            usual=self._usual_why(here.job_id),
        )
        return False

    def _usual_why(self, job_id: int) -> str:
        """A reason to begin with; none where the record cannot tell, which keeps nobody from leaving."""
        try:
            return usual_why(self._shop, job_id=job_id)
        except UserError:
            return ""

    def ask_back(self, here: Whereabouts, back: Act) -> None:
        """Ask whether the tubes that were out when the set was put aside are back in their sockets."""
        self._page.notice.clear()
        self.asking.ask(
            f"Job {here.number}: {here.text}. Is {positions_text(here.left_out)} back in place?",
            ("Yes, it is back", lambda: self._write(partial(end_aside, job_id=here.job_id), back)),
            ("No, print the tag again", lambda: self.print_tag(here.job_id)),
        )

    def tell_opened(self, here: Whereabouts) -> None:
        """Say that tubes were out when the set was put aside, and how to say that they are back."""
        if here.left_out:
            why = f" ({here.why})" if here.why else ""
            self._page.notice.tell(
                f"Job {here.number} was put aside with {positions_text(here.left_out)} out{why}. "
                "Ctrl Shift A says that it is back, or prints the tag again."
            )

    def tell_left(self, here: Whereabouts) -> None:
        """Say with which sockets empty a job was left, if any are."""
        if here.text:
            self._page.notice.tell(f"Job {here.number} was left: {here.text}.")

    def print_tag(self, job_id: int) -> None:
        """Show the tag, or say why there is none."""
        self._page.attempt(lambda: self._print(job_id))

    def _answered(self, here: Whereabouts, why: str, then: Act) -> None:
        def after() -> None:
            self.print_tag(here.job_id)
            self._go(then)

        self._write(partial(put_aside, job_id=here.job_id, positions=here.empty, why=why), after)

    def _write(self, write: Callable[[Shop], tuple[None, Changes]], after: Act) -> None:
        done: list[Changes] = []
        if self._page.attempt(lambda: done.append(write(self._shop)[1])):
            self._publish(done[0])
            after()

    def _go(self, then: Act) -> None:
        self.asking.drop()
        self._asked = None
        self._going = True
        try:
            then()
        finally:
            self._going = False
