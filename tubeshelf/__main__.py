"""Starts the window or the command line: the one place where everything is put together."""

import sys
from typing import TYPE_CHECKING

from tubeshelf.cli.fault import tell
from tubeshelf.cli.main import main as run_command
from tubeshelf.paper.machine import check_window, has_display
from tubeshelf.ui.lean import start_lean

if TYPE_CHECKING:
    from tubeshelf.services.shop import Shop


def main() -> int:
    """The command ``tubeshelf``; gives the exit status."""
    sys.excepthook = tell
    return run_command(sys.argv[1:], open_window=_open_window, has_display=has_display)


def window() -> int:
    """The command ``tubeshelf-window``, for starting without a terminal."""
    return main()


def _open_window(record: str | None) -> int:
    """The window on a record. Qt is imported only here, so that the command line starts without it."""
    check_window()
    start_lean()
    from tubeshelf.ui.start import run

    def open_the_shop() -> "Shop":
        from tubeshelf.bootstrap import open_record
        from tubeshelf.services.shop import open_shop

        return open_shop(open_record(record))

    return run(open_the_shop)


if __name__ == "__main__":
    sys.exit(main())
