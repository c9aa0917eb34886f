"""The pages of one window of the program: each is imported and built when it is shown first."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from PySide6.QtCore import QTimer

from tubeshelf.ui.window import MainWindow, PageSpec

if TYPE_CHECKING:
    from tubeshelf.ui.page import Page
    from tubeshelf.ui.pages.bench import BenchPage
    from tubeshelf.ui.pages.bench_large import BenchLarge
    from tubeshelf.ui.printing import Papers
    from tubeshelf.ui.start import Program

LARGE_OPEN = "large/open"
"""Where it is kept whether the large figures are open: ``yes`` or ``no``."""


class WindowPages:
    """Builds pages for ``window``, which is made from ``specs`` and then named here."""

    window: MainWindow

    def __init__(self, program: "Program") -> None:
        self._program = program
        self._bench_page: BenchPage | None = None
        self._large: BenchLarge | None = None

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

    def toggle_large(self) -> None:
        """F11: open or close the large figures of what is on the bench of this window."""
        if self._bench_page is None:
            self.window.open_page("bench")
        if (large := self._large_figures()) is not None:
            large.toggle()

    def _large_figures(self) -> "BenchLarge | None":
        if self._large is None and self._bench_page is not None:
            from tubeshelf.ui.pages.bench_large import BenchLarge

            program = self._program
            self._large = BenchLarge(
                program.shop, self._bench_page, program.settings, self.window, self._remember_large
            )
            self.window.left.connect(self._large.hide)
        return self._large

    def _remember_large(self, is_open: bool) -> None:
        self._program.settings.setValue(LARGE_OPEN, "yes" if is_open else "no")

    def _open_large_again(self) -> None:
        """Open the large figures if they were open when the program ended."""
        if self._program.settings.value(LARGE_OPEN) == "yes" and (large := self._large_figures()) is not None:
            large.open()

    @property
    def _papers(self) -> "Papers":
        from tubeshelf.ui.printing import papers_for

        return papers_for(self.window, self._program.shop)

    def _bench(self) -> "Page":
        from tubeshelf.ui.pages.bench import BenchPage

        papers, program = self._papers, self._program
        page = self._bench_page = BenchPage(
            program.shop,
            self.window.bridge,
            print_retube=papers.retube,
            show_picture=papers.picture,
            print_tag=papers.tag,
            last_job=program.last_job(),
            remember=program.remember_job,
            signs=lambda: program.signs,
        )
        QTimer.singleShot(0, page, self._open_large_again)
        return page

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
