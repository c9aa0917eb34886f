"""The order of Tab in a form whose buttons were there before its fields."""

from collections.abc import Iterator

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget


def leave_by(whole: QWidget, *buttons: QWidget) -> None:
    """Let Tab go from the last field of a form to these buttons, in this order."""
    last = None
    for widget in _chain(whole.window()):
        takes_tab = bool(widget.focusPolicy() & Qt.FocusPolicy.TabFocus)
        if takes_tab and whole.isAncestorOf(widget) and widget not in buttons:
            last = widget
    for button in buttons if last is not None else ():
        QWidget.setTabOrder(last, button)
        last = button


def _chain(window: QWidget) -> Iterator[QWidget]:
    """The widgets of a window in the order of Tab, whether it stops at them or not."""
    widget = window.nextInFocusChain()
    while widget is not None and widget is not window:
        yield widget
        widget = widget.nextInFocusChain()
