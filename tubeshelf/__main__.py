"""Starts the window or the command line."""

import sys
from importlib import import_module

from tubeshelf.cli.main import main as run_command


def main() -> int:
    """The command ``tubeshelf``; gives the exit status."""
    return run_command(sys.argv[1:], open_window=_open_window)


def window() -> int:
    """The command ``tubeshelf-window``, for starting without a terminal."""
    return main()


def _open_window(record: str | None) -> int:
    """The window on a record; imported only here, so that the command line starts without Qt."""
    status: int = import_module("tubeshelf.ui.start").run(record)
    return status


if __name__ == "__main__":
    sys.exit(main())
