"""Putting a set aside with sockets empty: asked once, in the page, answered with a chassis tag."""

from collections.abc import Callable

from tubeshelf.services.aside import put_aside, usual_why, where_tubes_are
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
        self.asking = Asking("&Why", "Yes, print the tag", "No, go back")
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
        self.asking.ask(
            f"Job {here.number}: {here.text}. On purpose? Then a tag on the chassis says so.",
            usual=usual_why(self._shop, job_id=here.job_id),
            yes=lambda why: self._answered(here, why, then),
            no=lambda: self._go(back),
        )
        return False

    def tell_left(self, here: Whereabouts) -> None:
        """Say with which sockets empty a job was left, if any are."""
        if here.text:
            self._page.notice.tell(f"Job {here.number} was left: {here.text}.")

    def print_tag(self, job_id: int) -> None:
        """Show the tag, or say why there is none."""
        self._page.attempt(lambda: self._print(job_id))

    def _answered(self, here: Whereabouts, why: str, then: Act) -> None:
        done: list[Changes] = []

        def act() -> None:
            done.append(put_aside(self._shop, job_id=here.job_id, positions=here.empty, why=why)[1])

        if not self._page.attempt(act):
            return
        self._publish(done[0])
        self.print_tag(here.job_id)
        self._go(then)

    def _go(self, then: Act) -> None:
        self.asking.drop()
        self._asked = None
        self._going = True
        try:
            then()
        finally:
            self._going = False
