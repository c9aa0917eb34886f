"""The list of the shop's testers."""

from collections.abc import Sequence

from tubeshelf.services.views.types import TesterDetail
from tubeshelf.ui.models.cells import Cell, Column
from tubeshelf.ui.pages.testers_words import checked_words, repeat_words, scale_words
from tubeshelf.ui.parts.listsheet import ListSheet

NO_TESTER = (
    "No tester yet. Add the instruments of the bench with their scale, how well each repeats and its limits: "
    "only then can a reading be judged."
)


class TesterList(ListSheet[TesterDetail]):
    """The testers, those in use first."""

    def __init__(self) -> None:
        super().__init__(
            "Testers", _COLUMNS, lambda tester: tester.id, nothing=NO_TESTER, new="New tester", icon="testers"
        )

    def show_testers(self, testers: Sequence[TesterDetail]) -> None:
        """Show these; those in use first."""
        self.show_rows(sorted(testers, key=lambda tester: tester.retired))


def _name(tester: TesterDetail) -> Cell:
    reads = ", ".join(part for part in (tester.method, tester.scale.unit) if part)
    said = f"{tester.name}, {reads}, scale {scale_words(tester)}, repeats {repeat_words(tester)}"
    if tester.retired:
        return Cell(tester.name, "retired", tone="soft", tip=f"{said}, retired")
    return Cell(tester.name, reads, bold=True, tip=said)


def _checked(tester: TesterDetail) -> Cell:
    lines = f"{tester.lines:,} {'line' if tester.lines == 1 else 'lines'}"
    return Cell(checked_words(tester), lines, tip=f"checked {checked_words(tester)}, {lines}")


_COLUMNS = (
    Column[TesterDetail]("Tester", 110, _name, stretch=True),
    Column[TesterDetail]("Last check", 92, _checked, keep=True),
)
