"""What was measured in a set and what follows from it: values in boxes, dissipation in sentences."""

from PySide6.QtWidgets import QVBoxLayout, QWidget

from tubeshelf.services.views.measured import OutputView, SetView
from tubeshelf.ui.parts.facts import Facts
from tubeshelf.ui.parts.sheet import clear, section
from tubeshelf.ui.parts.text import label


class MeasuredPart(QWidget):
    """The values of a whole set, or those of one output tube; hidden while there are none."""

    def __init__(self, title: str = "", *, columns: int = 3) -> None:
        super().__init__()
        self._facts = Facts(columns)
        self._follows = QVBoxLayout()
        self._follows.setSpacing(2)
        self._shown: tuple[SetView, int | None] | None = None
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(6)
        if title:
            column.addWidget(section(title))
        column.addWidget(self._facts)
        column.addLayout(self._follows)
        self.hide()

    def show_set(self, view: SetView, socket_id: int | None = None) -> None:
        """Show what was measured: of all, or of one output tube alone."""
        if (view, socket_id) == self._shown:
            return
        self._shown = view, socket_id
        values = [v for v in view.values if v.value is not None and socket_id in (None, v.socket_id)]
        self._facts.show_facts([(v.name if socket_id is None else v.field.name, v.text) for v in values])
        self._facts.setVisible(bool(values))
        show_outcome(self._follows, view, socket_id)
        self.setVisible(bool(values))


def show_outcome(column: QVBoxLayout, view: SetView, socket_id: int | None = None) -> None:
    """Fill a column with what follows from the values, what is over a rating first."""
    clear(column)
    outputs = [one for one in view.outputs if one.text and socket_id in (None, one.socket_id)]
    for one in sorted(outputs, key=lambda one: not one.over):
        column.addWidget(label(outcome_text(one), tone="reject" if one.over else "", wrap=True))
        if one.reckoning:
            column.addWidget(label(one.reckoning, "small", wrap=True))
    if any(one.over for one in outputs):
        column.addWidget(label(view.advice, wrap=True))
    for sentence in view.differences if socket_id is None else ():
        column.addWidget(label(f"{sentence}.", wrap=True))


def outcome_text(output: OutputView) -> str:
    """One output tube in a line: ``V4 6BQ5: 14.7 W of 12 W plate rating, 122 %: over its rating.``"""
    named = f"{output.position} {output.designation}: {output.text}"
    return f"{named}: {output.over}." if output.over else f"{named}."
