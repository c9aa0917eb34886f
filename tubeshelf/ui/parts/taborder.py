"""The order of Tab in a form whose buttons were there before its fields."""

from collections.abc import Iterator
from itertools import pairwise

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget


def leave_by(whole: QWidget, *buttons: QWidget) -> None:
    """Let Tab go from the last field of a form to these buttons, in this order."""
    fields = [
        widget
        for widget in _chain(whole.window())
        if widget.focusPolicy() & Qt.FocusPolicy.TabFocus
        and whole.isAncestorOf(widget)
        and widget not in buttons
    ]
    stops = (*fields[-1:], *buttons)
    for stop, following in pairwise(stops):
        QWidget.setTabOrder(stop, following)


def _chain(window: QWidget) -> Iterator[QWidget]:
    """The widgets of a window in the order of Tab, whether it stops at them or not."""
    widget = window.nextInFocusChain()
    while widget is not None and widget is not window:
        yield widget
        widget = widget.nextInFocusChain()
