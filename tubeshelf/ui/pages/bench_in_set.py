"""What the Bench does with values of the set: asks for them, keeps each as an act, tells what is too much."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tubeshelf.domain.errors import UserError
from tubeshelf.domain.judging import Stage
from tubeshelf.domain.set_fields import PROPOSED, is_output_socket
from tubeshelf.services.set_fields import save_set_fields
from tubeshelf.services.set_values import measured_in, set_value
from tubeshelf.services.shop import Shop
from tubeshelf.services.views.bench import JobView, SocketView
from tubeshelf.services.views.measured import MeasuredValue, SetView
from tubeshelf.ui.parts.measured import outcome_text

if TYPE_CHECKING:
    from tubeshelf.ui.pages.bench import BenchPage


class InSet:
    """Calls the services for the job on the bench; a refusal stands beside its field."""

    def __init__(self, shop: Shop, page: BenchPage) -> None:
        self._shop, self._page = shop, page
        self._panel, self._part = page.detail.in_set, page.detail.measured
        self._panel.entered.connect(self._keep)
        self._panel.proposed_wanted.connect(self._take_proposed)
        self._panel.closed.connect(page.back_to_entry)
        self._panel.turned.connect(page.keys_changed)

    @property
    def keys(self) -> tuple[tuple[str, str], ...]:
        """What works while values are entered; nothing while they are not."""
        if not self._panel.isVisible():
            return ()
        asked = (
            (("Enter", "keep, next"), ("↑ ↓", "back, on"))
            if self._panel.fields
            else (("Enter", "take these"),)
        )
        return (*asked, ("Esc", "done"))

    def open(self) -> None:
        """Ask for what is measured in the set of this job."""
        view = self._view()
        if view is None:
            return
        if view.model_id is None:
            self._page.notice.tell("A box of loose tubes is in no set to measure in.")
            return
        self._page.detail.close_panels()
        self._page.show_detail()
        self._panel.open_for(view)

    def refresh(self, job: JobView) -> None:
        """The job was read anew: show its values as they are now, where they are on show."""
        left, open_ = job.stage is Stage.AS_LEFT, not self._panel.isHidden()
        if left or open_:
            view = measured_in(self._shop, job_id=job.id)
            if open_:
                self._panel.show_set(view)
            if left:
                self._page.frame.show_counts(job, view.missing)

    def show_beside(self, socket: SocketView) -> None:
        """What was measured at the socket in hand, if it is an output tube's."""
        view = self._view()
        output = is_output_socket(socket.role, self._shop.book.type(socket.intended_type_id))
        if view is None or not output:
            self._part.hide()
        else:
            self._part.show_set(view, socket.id)

    def _view(self) -> SetView | None:
        job = self._page.desk.job
        return None if job is None else measured_in(self._shop, job_id=job.id)

    def _keep(self, value: object, text: str) -> None:
        before = self._view()
        if before is None or not isinstance(value, MeasuredValue) or value.field.id is None:
            return
        try:
            _, changes = set_value(
                self._shop,
                job_id=before.job_id,
                field_id=value.field.id,
                socket_id=value.socket_id,
                text=text,
                origin=self._page.name,
            )
        except UserError as error:
            self._panel.complain(value, error.sentence)
            return
        if changes is not None:
            self._page.wrote(changes)
            self._warn(before)

    def _warn(self, before: SetView) -> None:
        """Say where it cannot be missed that a tube is over its rating; take it back once none is."""
        after = self._view()
        told, over = ([one for one in view.outputs if one.over] for view in (before, after or before))
        if after is not None and over and over != told:
            self._page.notice.fail(
                f"Job {after.number}, {' '.join((*map(outcome_text, over), after.advice))}"
            )
        elif told and not over:
            self._page.notice.clear()

    def _take_proposed(self) -> None:
        view = self._view()
        if view is None or view.model_id is None:
            return
        _, changes = save_set_fields(
            self._shop, model_id=view.model_id, fields=tuple(PROPOSED), origin=self._page.name
        )
        self._page.wrote(changes)
        self.open()
