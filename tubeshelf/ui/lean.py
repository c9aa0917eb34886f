"""Starting with nothing but what starting needs: what Python and PySide do beside importing is put off."""

import builtins
import gc
from importlib import import_module


def start_lean() -> None:
    """Import quickly from here on, until ``settle``.

    Modules stay, so looking for garbage among what they bring finds none. And PySide, for a spelling of names
    that has to be asked for and is not, reads the source of every module imported after it, through a hook
    that it leaves when it is imported itself: a quarter of the time to import SQLAlchemy.
    """
    gc.disable()
    import_module("PySide6.QtCore")
    builtins.__import__ = getattr(builtins, "__orig_import__", builtins.__import__)


def settle() -> None:
    """The first page is there: collect garbage again, leaving out what the start has brought."""
    gc.freeze()
    gc.enable()
