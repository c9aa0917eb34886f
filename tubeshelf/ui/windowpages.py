"""The pages of one window of the program: each is imported and built when it is shown first."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from tubeshelf.ui.window import MainWindow, PageSpec

if TYPE_CHECKING:
    from tubeshelf.ui.page import Page
    from tubeshelf.ui.printing import Papers
    from tubeshelf.ui.start import Program


class WindowPages:
    """Builds pages for ``window``, which is made from ``specs`` and then named here."""

    window: MainWindow

    def __init__(self, program: "Program") -> None:
        self._program = program

    @property
    def specs(self) -> Sequence[PageSpec]:
        """All pages, those of the top bar first."""
        return (
            PageSpec("bench", "&Bench", self._bench),
            PageSpec("jobs", "&Jobs", self._jobs),
            PageSpec("shelf", "&Shelf", self._shelf),
            PageSpec("types", "&Types", self._types),
            PageSpec("testers", "T&esters", self._testers),
            PageSpec("settings", "Settings", self._settings, in_bar=False, shortcut="Ctrl+,"),
            PageSpec("help", "Help", _help, in_bar=False, shortcut="Shift+F1"),
        )

    @property
    def _papers(self) -> "Papers":
        from tubeshelf.ui.printing import papers_for

        return papers_for(self.window, self._program.shop)

    def _bench(self) -> "Page":
        from tubeshelf.ui.pages.bench import BenchPage

        papers, program = self._papers, self._program
        return BenchPage(
            program.shop,
            self.window.bridge,
            print_retube=papers.retube,
            show_picture=papers.picture,
            print_tag=papers.tag,
            last_job=program.last_job(),
            remember=program.remember_job,
            signs=lambda: program.signs,
        )

    def _jobs(self) -> "Page":
        from tubeshelf.ui.pages.jobs import JobsPage

        return JobsPage(self._program.shop, self.window.bridge, self._papers, self.window.runner)

    def _shelf(self) -> "Page":
        from tubeshelf.ui.pages.shelf import ShelfPage

        return ShelfPage(self._program.shop, self.window.bridge)

    def _types(self) -> "Page":
        from tubeshelf.ui.pages.types import TypesPage

        return TypesPage(self._program.shop, self.window.bridge, self.window.runner)

    def _testers(self) -> "Page":
        from tubeshelf.ui.pages.testers import TestersPage

        return TestersPage(self._program.shop, self.window.bridge)

    def _settings(self) -> "Page":
        from tubeshelf.ui.pages.settings import SettingsPage

        return SettingsPage(
            self._program.shop,
            self.window.bridge,
            scheme=self._program.theme.scheme,
            choose_scheme=self._program.choose_scheme,
            signs=self._program.signs,
            choose_signs=self._program.choose_signs,
            runner=self.window.runner,
        )


def _help() -> "Page":
    from tubeshelf.ui.help import HelpPage

    return HelpPage()
